"""Arithmetic in brackets: exact, with dimensions; the worked values are sums that one does in the head."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fedfrom.findings import Finding
from fedfrom.model.arithmetic import evaluate, is_exact_decimal, number_text, quantity_words, read_quantity
from fedfrom.quantity import Dimension, Quantity
from fedfrom.source import SourceFile
from fedfrom.syntax.parse import parse_file
from fedfrom.syntax.tree import Line, NameExpr, Splice, Word

NAMES = {
    "n": Quantity.of(7, ""),
    "run": Quantity.of(30, "ft"),
    "zero": Quantity.of(0, ""),
}


def value(text: str) -> Quantity | Finding:
    """The value of `[text]` in a line."""
    parsed = parse_file(SourceFile("a.fed", f"x [{text}]\n"))
    assert parsed.findings == ()
    line = parsed.tree.statements[0]
    assert isinstance(line, Line)
    word = line.runs[0].parts[1]
    assert isinstance(word, Word)
    splice = word.segments[0]
    assert isinstance(splice, Splice)

    def named(name: NameExpr) -> Quantity | Finding:
        return NAMES[name.name]

    return evaluate(splice.expr, named, "LP1", {"feet": "ft"})


def marked(finding: Finding, text: str) -> str:
    assert finding.span is not None
    return f"x [{text}]"[finding.span.start : finding.span.end]


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("20 + 13 * n", "111"),
        ("(20 + 13) * n", "231"),
        ("20 ft + 13 ft * n", "111 ft"),
        ("run", "30 ft"),
        ("-run", "-30 ft"),
        ("2 - -3", "5"),
        ("n-1", "6"),
        ("n - 1", "6"),
        ("0.1 + 0.2", "0.3"),
        ("1_000 * 2", "2000"),
        ("7 / 2", "3.5"),
        ("1 / 3", "0.333333333333"),
        ("2 * 30 ft", "60 ft"),
        ("30 ft / 4", "7.5 ft"),
        ("30 ft / 10 ft", "3"),
        ("10 m + 10 ft", "13.048 m"),  # 1 ft = 0.3048 m exactly
        ("18 ft * 12 ft", "216 ft2"),
        ("5 m * 4 m", "20 m2"),
        ("216 ft2 / 12 ft", "18 ft"),
        ("20 m2 / 4 m", "5 m"),
        ("120 V * 10 A", "1200 VA"),
        ("10 A * 120 V", "1200 VA"),
        ("1.2 kVA / 120 V", "10 A"),
        ("1.2 kVA / 10 A", "120 V"),
        ("3 VA/ft2 * 1_000 ft2", "3000 VA"),
        ("25 % + 5 %", "30 %"),
        ("50 % * 30 ft", "15 ft"),
        ("30 ft * 50 %", "15 ft"),
        ("50 % * 50 %", "25 %"),
        ("2 kW + 500 W", "2.5 kW"),
        ("5 hp + 7.5 hp", "12.5 hp"),
        ("3 * 5 hp", "15 hp"),
        ("-10 C", "-10 C"),
        ("35 C", "35 C"),
        ("3 s + 1 min", "63 s"),
    ],
)
def test_values(text: str, words: str) -> None:
    result = value(text)
    assert isinstance(result, Quantity), result
    assert " ".join(quantity_words(result)) == words


@pytest.mark.parametrize(
    ("text", "message", "letters"),
    [
        ("20 + 13 ft", "a plain number cannot be added to a length", "20 + 13 ft"),
        ("2 * (1 A - 2 V)", "a voltage cannot be taken from a current", "1 A - 2 V"),
        ("1 kW + 1 kVA", "a real power cannot be added to an apparent power", "1 kW + 1 kVA"),
        ("5 hp + 1 kW", "a shaft power cannot be added to a real power", "5 hp + 1 kW"),
        ("5 hp * 746 W", "a shaft power cannot be multiplied by a real power", "5 hp * 746 W"),
        ("5 hp / 1 hp + 1 ft", "a plain number cannot be added to a length", "5 hp / 1 hp + 1 ft"),
        ("run + 20 %", "a length cannot be added to a percentage", "run + 20 %"),
        ("2 A * 3 A", "a current cannot be multiplied by a current", "2 A * 3 A"),
        ("1 / run", "a plain number cannot be divided by a length", "1 / run"),
        ("30 C + 5 C", "a temperature takes no arithmetic: its zero is only a mark on a scale", "30 C"),
        ("2 * 86 F", "a temperature takes no arithmetic: its zero is only a mark on a scale", "86 F"),
        ("2 inch + 1 inch", "a size in inch takes no arithmetic: it is a name in a table", "2 inch"),
        ("2 * 12 AWG", "`12 AWG` is a conductor size, a name in a table and no number", "12 AWG"),
        ("run / (n - 7)", "this divides by zero", "n - 7"),
        ("1 ft / zero", "this divides by zero", "zero"),
        ("3 feet", "`feet` is not a unit", "3 feet"),
        ("3 fth", "`fth` is not a unit", "3 fth"),
    ],
)
def test_what_does_not_go_together(text: str, message: str, letters: str) -> None:
    finding = value(text)
    assert isinstance(finding, Finding)
    assert finding.message == message
    assert marked(finding, text) in (letters, f"({letters})")


def test_advice_for_the_usual_slips() -> None:
    advice = {text: value(text) for text in ("3 feet", "1 kW + 1 kVA", "5 hp + 1 kW", "20 + 13 ft", "run + 20 %")}
    shown = {text: finding.help for text, finding in advice.items() if isinstance(finding, Finding)}
    assert shown["3 feet"] == "write `ft`"
    assert "power factor" in shown["1 kW + 1 kVA"]
    assert "code's tables" in shown["5 hp + 1 kW"]
    assert shown["20 + 13 ft"] == "give the number its unit: `ft`"
    assert shown["run + 20 %"] == "for 20 % more write `* 1.2`"


def test_quantities_as_they_are_written() -> None:
    written = ["12", "11_500", "30 ft", "30ft", "-10 C", "7-1/2 hp", "1/2 hp", "3/4 inch", "2A", "LP1", "1/0 hp"]
    read = {text: read_quantity(text) for text in written}
    assert {text for text, quantity in read.items() if quantity is None} == {"3/4 inch", "LP1", "1/0 hp"}
    assert read["7-1/2 hp"] == Quantity(Fraction(15, 2), Dimension.SHAFT, "hp")
    assert read["11_500"] == Quantity.of(11_500, "")


@given(st.fractions(max_denominator=10**6))
def test_a_number_written_and_read_is_the_same_where_it_has_an_end(number: Fraction) -> None:
    read = Fraction(number_text(number))
    if is_exact_decimal(number):
        assert read == number
    else:
        assert abs(read - number) <= Fraction(1, 10**12)


NUMBERS = st.integers(-(10**6), 10**6)


@given(NUMBERS, NUMBERS, NUMBERS)
def test_sums_and_products_are_those_of_fractions(a: int, b: int, c: int) -> None:
    result = value(f"({a} - {b}) * {c} ft / 7".replace("--", "- -"))
    assert isinstance(result, Quantity)
    assert result == Quantity(Fraction((a - b) * c, 7), Dimension.LENGTH, "ft")
