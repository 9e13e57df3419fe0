"""The grammar's tables are kept in the user's cache folder, and a spoilt or missing one does no harm."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from fedfrom.syntax import grammar


@pytest.fixture(autouse=True)
def _fresh_parsers() -> Iterator[None]:
    grammar.arithmetic_parser.cache_clear()
    yield
    grammar.arithmetic_parser.cache_clear()


def _tree() -> str:
    return str(grammar.arithmetic_parser().parse("1 + 2"))


def test_tables_are_kept_and_used_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    first = _tree()
    kept = tmp_path / "fedfrom" / "arithmetic.tables"
    written = kept.stat().st_mtime_ns
    grammar.arithmetic_parser.cache_clear()
    assert _tree() == first
    assert kept.stat().st_mtime_ns == written


def test_a_spoilt_file_is_only_a_miss(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    first = _tree()
    kept = tmp_path / "fedfrom" / "arithmetic.tables"
    kept.write_bytes(b"not tables")
    grammar.arithmetic_parser.cache_clear()
    assert _tree() == first


def test_without_a_folder_to_write_in(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "file").write_text("")
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "file"))
    assert _tree()
