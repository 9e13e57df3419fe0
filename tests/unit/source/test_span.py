"""Places: line and column from 1, for every offset and every kind of line end."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from fedfrom.source import SourceFile, Span

TEXTS = st.text(alphabet="ab \té\n\r", max_size=40)


def test_places_of_a_small_text() -> None:
    source = SourceFile("a.fed", "one\r\n\ttwo\nthrée")
    assert [(source.place(at).line, source.place(at).column) for at in (0, 3, 5, 6, 10, 13, 99)] == [
        (1, 1), (1, 4), (2, 1), (2, 2), (3, 1), (3, 4), (3, 6),
    ]  # fmt: skip
    assert [source.line_text(line) for line in (1, 2, 3)] == ["one", "\ttwo", "thrée"]


@given(TEXTS, st.integers(0, 50))
def test_a_place_leads_back_to_its_offset(text: str, offset: int) -> None:
    source = SourceFile("a.fed", text)
    place = source.place(offset)
    assert source.line_starts[place.line - 1] + place.column - 1 == min(offset, len(text))


@given(TEXTS)
def test_lines_are_those_of_the_text(text: str) -> None:
    source = SourceFile("a.fed", text)
    lines = [source.line_text(line) for line in range(1, len(source.line_starts) + 1)]
    assert lines == [line.rstrip("\r") for line in text.split("\n")]


def test_spans_join() -> None:
    assert Span("a.fed", 4, 6).to(Span("a.fed", 1, 3)) == Span("a.fed", 1, 6)
