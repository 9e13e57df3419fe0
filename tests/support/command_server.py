"""The command `fedfrom` for scripts of a test, without a start-up for every call.

A server that has the program loaded forks for each call; `fedfrom` on the PATH is a small client that hands over its
arguments, environment, folder and streams. What runs is the program's own entry point, in a process of its own.
"""

from __future__ import annotations

import array
import json
import os
import socket
import stat
import subprocess
import sys
import tempfile
import time
import traceback
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

CLIENT = """#!{python} -IS
import array, json, os, socket, sys
server = socket.socket(socket.AF_UNIX)
server.connect({address!r})
streams = [(socket.SOL_SOCKET, socket.SCM_RIGHTS, array.array("i", [0, 1, 2]))]
call = json.dumps([sys.argv[1:], os.getcwd(), dict(os.environ)]).encode() + b"\\n"
server.sendmsg([call[:1]], streams)
server.sendall(call[1:])
sys.exit(int(server.makefile().readline() or 70))
"""


@contextmanager
def command_on_path(folder: Path) -> Iterator[str]:
    """Puts `fedfrom` into `folder` while it lasts, and gives the PATH on which scripts find it first."""
    address = str(folder / "server")
    client = folder / "fedfrom"
    client.write_text(CLIENT.format(python=sys.executable, address=address), encoding="utf-8")
    client.chmod(client.stat().st_mode | stat.S_IXUSR)
    server = subprocess.Popen([sys.executable, __file__, address])
    try:
        deadline = time.monotonic() + 60
        while not os.path.exists(address):
            assert server.poll() is None, "the command server has ended"
            assert time.monotonic() < deadline, "the command server does not start"
            time.sleep(0.02)
        yield f"{folder}{os.pathsep}{os.environ['PATH']}"
    finally:
        server.kill()
        server.wait()


def serve(address: str) -> None:
    """Answers calls one after the other until it is ended."""
    _warm_up()
    listener = socket.socket(socket.AF_UNIX)
    listener.bind(address)
    listener.listen()
    while True:
        connection, _ = listener.accept()
        child = os.fork()
        if child == 0:
            _answer(connection)
        _, status = os.waitpid(child, 0)
        connection.sendall(f"{os.waitstatus_to_exitcode(status)}\n".encode())
        connection.close()


PLANT = """fedfrom 1
project "Small" { code NEC 2023 }
utility UT {
    voltage 480Y/277 V
    fault   20 kA at service point, X/R 6
}
panelboard P1 "Panel" {
    fed from UT, 40 ft
    place    indoor "Room"
    heating  "Oven" 12 kW, 480 V 3-phase, 40 ft
}
"""


def _warm_up() -> None:
    """Loads what the calls need: modules, vocabulary, tables, the layout engine.

    Nothing is typeset here: the threads of the typesetter would not be there after a fork.
    """
    from click.testing import CliRunner

    from fedfrom.cli.main import cli

    with tempfile.TemporaryDirectory() as folder:
        plant = Path(folder) / "plant.fed"
        plant.write_text(PLANT, encoding="utf-8")
        runner = CliRunner()
        runner.invoke(cli, ["fmt", "--check", str(plant)])
        runner.invoke(cli, ["check", str(plant), "--format", "junit"])
        runner.invoke(cli, ["build", str(plant), "-o", f"{folder}/out", "--only", "results"])
        runner.invoke(cli, ["diff", str(plant), str(plant), "--format", "markdown"])


def _answer(connection: socket.socket) -> None:
    """Runs one call in this process, on the streams of the caller; never returns."""
    size = array.array("i", [0, 0, 0]).itemsize * 3
    first, ancillary, _, _ = connection.recvmsg(1, socket.CMSG_SPACE(size))
    arguments, folder, environment = json.loads(first + connection.makefile("rb").readline())
    streams = array.array("i")
    streams.frombytes(ancillary[0][2])
    for number, stream in enumerate(streams):
        os.dup2(stream, number)
    sys.stdin, sys.stdout, sys.stderr = os.fdopen(0), os.fdopen(1, "w"), os.fdopen(2, "w")
    os.chdir(folder)
    os.environ.clear()
    os.environ.update(environment)
    sys.argv = ["fedfrom", *arguments]
    status = 70
    try:
        from fedfrom.cli.main import main

        main()
    except SystemExit as done:
        status = done.code if isinstance(done.code, int) else 0
    except BaseException:
        traceback.print_exc()
    finally:
        sys.stdout.flush()
        sys.stderr.flush()
        os._exit(status)


if __name__ == "__main__":
    serve(sys.argv[1])
