"""`check --review`, and the closing line: what lacks a fact is named, a rating that is not established is loud."""

from __future__ import annotations

from pathlib import Path

from click.testing import CliRunner

from fedfrom.cli.main import cli

TEXT = """fedfrom 1
project "Test" { code NEC 2023 }
utility UT {
    voltage 480Y/277 V
FAULT
}
switchboard MSB "Main" {
    fed from UT, 20 ft
    main     breaker 800 A
    place    indoor "Electrical room"
}
panelboard LP1 "Lighting" {
    fed from MSB, 40 ft
    place    indoor "Electrical room"
    lighting "Hall" 4 kVA, 277 V, 60 ft
}
"""


def said(folder: Path, fault: str, *options: str) -> str:
    path = folder / "test.fed"
    path.write_text(TEXT.replace("FAULT", fault))
    return CliRunner().invoke(cli, ["check", path.as_posix(), *options]).output


def test_checks_that_lack_a_fact_are_listed(tmp_path: Path) -> None:
    fault = "    fault 20 kA at service point, X/R 5"
    plain = said(tmp_path, fault)
    assert "lack a fact (`--review` lists them)" in plain
    assert "not established" not in plain
    listed = said(tmp_path, fault, "--review")
    assert "work-depth" in listed
    assert "needs a `room` with size, height and doors" in listed
    count = int(listed.split(" checks lack a fact")[0].splitlines()[-1])
    assert listed.count("  needs ") == count
    assert listed.rstrip().endswith(f"{count} lack a fact")
    assert "--review lists in the text form" in said(tmp_path, fault, "--review", "--format", "json")


def test_without_fault_data_no_rating_is_established(tmp_path: Path) -> None:
    output = said(tmp_path, "")
    assert "UT states no available fault current; no short-circuit rating below is established: MSB, LP1" in output
    assert output.rstrip().endswith("short-circuit rating not established: MSB, LP1")
    path = (tmp_path / "test.fed").as_posix()
    explained = CliRunner().invoke(cli, ["explain", path, "LP1.class"]).output
    assert "The available fault current is not known yet; it may change the class." in explained
