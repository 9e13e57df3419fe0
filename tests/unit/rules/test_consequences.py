"""An error in the text is said once: what cannot be checked below it is counted in one finding."""

from __future__ import annotations

from pathlib import Path

from fedfrom.compile import Compilation, compile_project
from fedfrom.findings import Severity
from fedfrom.rules.registry import all_rules

WAITING = next(rule for rule in all_rules() if rule.id == "waiting")


def _compiled(folder: Path, text: str) -> Compilation:
    path = folder / "a.fed"
    path.write_text(text, encoding="utf-8")
    return compile_project(path)


def test_one_wrong_tag_gives_its_error_and_one_line_of_what_waits(tmp_path: Path) -> None:
    compilation = _compiled(tmp_path, WAITING.bad)
    assert [(f.rule, f.subject) for f in compilation.findings if f.severity >= Severity.NOT_CHECKED] == [
        ("waiting", "LP1"),
        ("unknown-tag", "LP1"),
    ]


def test_what_does_not_hang_from_the_error_is_still_listed(tmp_path: Path) -> None:
    lines = WAITING.bad.splitlines(keepends=True)
    text = "".join(line for line in lines if "Electrical room" not in line)
    compilation = _compiled(tmp_path, text)
    assert ("enclosure-type", "MDP") in [(f.rule, f.subject) for f in compilation.findings]


def test_nothing_waits_where_all_was_read(tmp_path: Path) -> None:
    assert "waiting" not in [f.rule for f in _compiled(tmp_path, WAITING.good).findings]
