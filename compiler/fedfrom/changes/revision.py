"""Texts of a git revision, put into a folder of their own. The work tree and the repository stay as they are."""

from __future__ import annotations

import os
import subprocess
from dataclasses import dataclass
from pathlib import Path

# What a project is written in: its text, and the tables that it reads.
ENDINGS = (".fed", ".csv")


class RevisionError(Exception):
    """A revision or path cannot be read; the message says what to do."""


@dataclass(frozen=True, slots=True)
class Repository:
    """A git repository by the folder of its work tree."""

    root: Path

    @staticmethod
    def around(path: Path) -> Repository:
        """The repository that holds a path (which need not exist now). Raises RevisionError where there is none."""
        folder = path.absolute()
        while not folder.is_dir():
            folder = folder.parent
        done = _git(folder, "rev-parse", "--show-toplevel")
        if done.returncode != 0:
            raise RevisionError(
                f"{folder} is in no git repository, so there are no revisions to compare; name two files or two folders"
            )
        return Repository(Path(done.stdout.decode().rstrip("\n")))

    def commit(self, revision: str) -> str:
        """The commit that a revision means. Raises RevisionError for an unknown one."""
        if revision.startswith("-"):
            raise RevisionError(f"`{revision}` is no revision")
        done = _git(self.root, "rev-parse", "--verify", "--quiet", f"{revision}^{{commit}}")
        if done.returncode != 0:
            shallow = _git(self.root, "rev-parse", "--is-shallow-repository").stdout.strip() == b"true"
            hint = (
                "this clone has only part of the history: fetch all of it"
                if shallow
                else "`git branch --all` and `git tag` list those there are"
            )
            raise RevisionError(f"there is no file, folder or revision `{revision}`; {hint}")
        return done.stdout.decode().strip()

    def common_ancestor(self, one: str, other: str) -> str:
        """The commit from which two revisions parted."""
        done = _git(self.root, "merge-base", self.commit(one), self.commit(other))
        if done.returncode != 0:
            raise RevisionError(f"`{one}` and `{other}` have no common history")
        return done.stdout.decode().strip()

    def put(self, revision: str, path: Path, into: Path) -> Path:
        """Writes the project at `path` as of `revision` below `into`, and returns where it is there.

        For a file its whole folder is written, since it may include what stands beside it.
        """
        commit = self.commit(revision)
        inside = self._inside(path)
        kind = _git(self.root, "cat-file", "-t", f"{commit}:{inside}").stdout.strip()
        if kind not in (b"blob", b"tree"):
            raise RevisionError(f"there is no `{inside or '.'}` in revision `{revision}`")
        folder = inside if kind == b"tree" else inside.rpartition("/")[0]
        for name in self._names(commit, folder):
            file = into / name
            file.parent.mkdir(parents=True, exist_ok=True)
            file.write_bytes(_git(self.root, "cat-file", "blob", f"{commit}:{name}").stdout)
        return into / inside

    def _inside(self, path: Path) -> str:
        """The path by its name in the repository."""
        absolute = Path(os.path.abspath(path))
        for root, place in ((self.root, absolute), (self.root.resolve(), absolute.resolve())):
            if place.is_relative_to(root):
                inside = place.relative_to(root).as_posix()
                return "" if inside == "." else inside
        raise RevisionError(f"`{path.as_posix()}` lies outside the repository {self.root}")

    def _names(self, commit: str, folder: str) -> list[str]:
        where = [f"{folder}/"] if folder else []
        done = _git(self.root, "ls-tree", "-r", "-z", "--name-only", "--full-tree", commit, *where)
        names = done.stdout.decode("utf-8", "surrogateescape").split("\0")
        return [name for name in names if name.endswith(ENDINGS)]


def _git(folder: Path, *arguments: str) -> subprocess.CompletedProcess[bytes]:
    try:
        return subprocess.run(["git", "-C", str(folder), *arguments], capture_output=True, check=False)
    except FileNotFoundError:
        raise RevisionError("the program `git` is not installed; name two files or two folders") from None
