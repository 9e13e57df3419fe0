"""Arithmetic in square brackets: exact fractions with dimensions. Nothing is rounded; what reads a value rounds.

    same + same, same - same    same          number * any, any * number, any / number    any
    same / same                 a number      percent * any, any * percent                any
    length * length             area          area / length                               length
    voltage * current           apparent      apparent / voltage, apparent / current      current, voltage
    load per area * area        apparent      (voltage * current is single-phase: no square root of three is hidden)

Shaft power goes with shaft power only (a motor's current comes from the code's tables), real power with real power
only, temperatures and trade sizes with nothing. All else is a finding that names both dimensions.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from fractions import Fraction
from functools import lru_cache

from fedfrom.findings import Finding, Label, Severity
from fedfrom.findings.nearest import listed, nearest
from fedfrom.quantity import UNITS, Dimension, Quantity
from fedfrom.source import Span
from fedfrom.syntax.tree import BinaryExpr, Expr, NameExpr, NumberExpr, UnaryExpr

TRADE_SIZE_UNITS = frozenset({"inch", "mm"})
CONDUCTOR_UNITS = frozenset({"AWG", "kcmil"})
_PRODUCTS: dict[tuple[Dimension, Dimension], Dimension] = {
    (Dimension.LENGTH, Dimension.LENGTH): Dimension.AREA,
    (Dimension.VOLTAGE, Dimension.CURRENT): Dimension.APPARENT,
    (Dimension.CURRENT, Dimension.VOLTAGE): Dimension.APPARENT,
    (Dimension.AREA_LOAD, Dimension.AREA): Dimension.APPARENT,
    (Dimension.AREA, Dimension.AREA_LOAD): Dimension.APPARENT,
}
_QUOTIENTS: dict[tuple[Dimension, Dimension], Dimension] = {
    (Dimension.AREA, Dimension.LENGTH): Dimension.LENGTH,
    (Dimension.APPARENT, Dimension.VOLTAGE): Dimension.CURRENT,
    (Dimension.APPARENT, Dimension.CURRENT): Dimension.VOLTAGE,
}
_WORD_OF_SIGN = {"+": "added to", "-": "taken from", "*": "multiplied by", "/": "divided by"}


class _ProblemError(Exception):
    """Carries the finding from the place in the expression to `evaluate`."""

    def __init__(self, finding: Finding) -> None:
        super().__init__(finding.message)
        self.finding = finding


def evaluate(
    expr: Expr,
    value_of: Callable[[NameExpr], Quantity | Finding],
    subject: str,
    units_instead: Mapping[str, str] | None = None,
) -> Quantity | Finding:
    """The value of an expression, or the finding that says which part of it is at fault.

    `value_of` gives the quantity of a name; `subject` is the finding's; `units_instead` maps spellings of units that
    the language does not take to those it takes.
    """
    return _Evaluation(value_of, subject, units_instead or {}).run(expr)


class _Evaluation:
    def __init__(
        self, value_of: Callable[[NameExpr], Quantity | Finding], subject: str, units_instead: Mapping[str, str]
    ) -> None:
        self._value_of = value_of
        self._subject = subject
        self._units_instead = units_instead

    def run(self, expr: Expr) -> Quantity | Finding:
        try:
            return self._value(expr)
        except _ProblemError as problem:
            return problem.finding

    def _value(self, expr: Expr) -> Quantity:
        if isinstance(expr, NumberExpr):
            return self._number(expr, Fraction(expr.digits))
        if isinstance(expr, NameExpr):
            value = self._value_of(expr)
            if isinstance(value, Finding):
                raise _ProblemError(value)
            return value
        if isinstance(expr, UnaryExpr):
            return self._negative(expr)
        return self._binary(expr)

    def _number(self, expr: NumberExpr, number: Fraction) -> Quantity:
        if expr.unit in CONDUCTOR_UNITS:
            message = f"`{expr.digits} {expr.unit}` is a conductor size, a name in a table and no number"
            raise self._problem("arithmetic-dimension", message, expr.span, "write the size outside the brackets")
        if expr.unit and expr.unit not in UNITS:
            instead = self._units_instead.get(expr.unit)
            close = (instead,) if instead in UNITS else nearest(expr.unit, UNITS)
            advice = f"write {listed(close)}" if close else f"the units are {', '.join(UNITS)}"
            raise self._problem("unknown-unit", f"`{expr.unit}` is not a unit", expr.span, advice)
        return Quantity.of(number, expr.unit)

    def _negative(self, expr: UnaryExpr) -> Quantity:
        if isinstance(expr.operand, NumberExpr):
            return self._number(expr.operand, -Fraction(expr.operand.digits))
        value = self._value(expr.operand)
        if value.dimension is Dimension.TEMPERATURE:
            message = "a temperature has no opposite: its zero is only a mark on a scale"
            raise self._problem("arithmetic-dimension", message, expr.span, "write the temperature itself")
        return Quantity(-value.value, value.dimension, value.unit)

    def _binary(self, expr: BinaryExpr) -> Quantity:
        left, right = self._value(expr.left), self._value(expr.right)
        for side, value in ((expr.left, left), (expr.right, right)):
            if value.dimension is Dimension.TEMPERATURE:
                message = "a temperature takes no arithmetic: its zero is only a mark on a scale"
                raise self._problem("arithmetic-dimension", message, side.span, "write the temperature itself")
            if value.unit in TRADE_SIZE_UNITS:
                message = f"a size in {value.unit} takes no arithmetic: it is a name in a table"
                raise self._problem("arithmetic-dimension", message, side.span, "write lengths in ft or m")
        if expr.operator in "+-":
            return self._sum(expr, left, right)
        return self._product(expr, left, right) if expr.operator == "*" else self._quotient(expr, left, right)

    def _sum(self, expr: BinaryExpr, left: Quantity, right: Quantity) -> Quantity:
        if left.dimension is not right.dimension:
            raise self._mismatch(expr, left, right)
        value = left.value + right.value if expr.operator == "+" else left.value - right.value
        return Quantity(value, left.dimension, left.unit)

    def _product(self, expr: BinaryExpr, left: Quantity, right: Quantity) -> Quantity:
        value = left.value * right.value
        if left.dimension is Dimension.NUMBER:
            return Quantity(value, right.dimension, right.unit)
        if right.dimension is Dimension.NUMBER:
            return Quantity(value, left.dimension, left.unit)
        if left.dimension is Dimension.PERCENT:
            return Quantity(value / 100, right.dimension, right.unit)
        if right.dimension is Dimension.PERCENT:
            return Quantity(value / 100, left.dimension, left.unit)
        made = _PRODUCTS.get((left.dimension, right.dimension))
        if made is None:
            raise self._mismatch(expr, left, right)
        return Quantity(value, made, _unit_of(made, left, right))

    def _quotient(self, expr: BinaryExpr, left: Quantity, right: Quantity) -> Quantity:
        if right.value == 0:
            advice = "give what stands after `/` another value"
            raise self._problem("arithmetic-zero", "this divides by zero", expr.right.span, advice, "zero here")
        if right.dimension is Dimension.NUMBER:
            return Quantity(left.value / right.value, left.dimension, left.unit)
        if left.dimension is right.dimension:
            return Quantity(left.value / right.value, Dimension.NUMBER)
        made = _QUOTIENTS.get((left.dimension, right.dimension))
        if made is None:
            raise self._mismatch(expr, left, right)
        return Quantity(left.value / right.value, made, _unit_of(made, left, right))

    def _mismatch(self, expr: BinaryExpr, left: Quantity, right: Quantity) -> _ProblemError:
        first, second = left.dimension, right.dimension
        if expr.operator == "-":
            first, second = second, first
        message = f"{first.value} cannot be {_WORD_OF_SIGN[expr.operator]} {second.value}"
        related = (Label(expr.left.span, left.dimension.value), Label(expr.right.span, right.dimension.value))
        problem = self._problem("arithmetic-dimension", message, expr.span, _advice(expr.operator, left, right))
        finding = problem.finding
        return _ProblemError(
            Finding(finding.rule, finding.severity, finding.subject, message, expr.span, "", related, (), finding.help)
        )

    def _problem(self, rule: str, message: str, span: Span, advice: str, label: str = "") -> _ProblemError:
        return _ProblemError(Finding(rule, Severity.ERROR, self._subject, message, span, label, help=advice))


def _advice(operator: str, left: Quantity, right: Quantity) -> str:
    pair = {left.dimension, right.dimension}
    if pair == {Dimension.REAL, Dimension.APPARENT}:
        return "real and apparent power go together by a power factor only: give both in the same unit"
    if Dimension.SHAFT in pair and pair & {Dimension.REAL, Dimension.APPARENT, Dimension.CURRENT}:
        return "a motor's current comes from the code's tables by its hp: write the motor as a load"
    if operator in "+-" and Dimension.NUMBER in pair:
        other = left if right.dimension is Dimension.NUMBER else right
        return f"give the number its unit: `{other.unit}`" if other.unit else "give both the same unit"
    if operator in "+-" and Dimension.PERCENT in pair:
        return "for 20 % more write `* 1.2`"
    return ""


def _unit_of(made: Dimension, left: Quantity, right: Quantity) -> str:
    """The unit of a derived quantity: metric where both were metric, else the base unit."""
    metric = {left.unit, right.unit} <= {"m", "m2"}
    if made is Dimension.AREA:
        return "m2" if metric else "ft2"
    if made is Dimension.LENGTH:
        return "m" if metric else "ft"
    return {Dimension.APPARENT: "VA", Dimension.CURRENT: "A", Dimension.VOLTAGE: "V"}[made]


def names_in(expr: Expr) -> Iterator[NameExpr]:
    """Every name of an expression, from left to right."""
    if isinstance(expr, NameExpr):
        yield expr
    elif isinstance(expr, UnaryExpr):
        yield from names_in(expr.operand)
    elif isinstance(expr, BinaryExpr):
        yield from names_in(expr.left)
        yield from names_in(expr.right)


# --- between words and quantities ----------------------------------------------------------------------------------

_NUMBER = r"-?\d+(?:_\d+)*(?:\.\d+(?:_\d+)*)?"
_FRACTION = r"(?:(\d+)-)?(\d+)/(\d+)"
_QUANTITY = re.compile(rf"(?:{_FRACTION}|({_NUMBER}))\s*(.*)", re.DOTALL)


@lru_cache(maxsize=4096)
def read_quantity(text: str) -> Quantity | None:
    """`12`, `11_500`, `30 ft`, `30ft`, `7-1/2 hp` as a quantity, None for anything else. Only hp may be a fraction."""
    found = _QUANTITY.fullmatch(text.strip())
    if found is None:
        return None
    whole, above, below, number, unit = found.groups()
    if unit and unit not in UNITS:
        return None
    if number is not None:
        return Quantity.of(Fraction(number.replace("_", "")), unit)
    if unit != "hp" or int(below) == 0:
        return None
    return Quantity.of(int(whole or 0) + Fraction(int(above), int(below)), unit)


def is_exact_decimal(number: Fraction) -> bool:
    """Whether a number has an end when written with a decimal point."""
    below = number.denominator
    for prime in (2, 5):
        while below % prime == 0:
            below //= prime
    return below == 1


def number_text(number: Fraction) -> str:
    """A number as a word: whole numbers plain, others as decimals, exact where they end, else to 12 places."""
    if number.denominator == 1:
        return str(number.numerator)
    sign, number = ("-", -number) if number < 0 else ("", number)
    places = 12
    if is_exact_decimal(number):
        places = next((n for n in range(1, 40) if (number * 10**n).denominator == 1), 12)
    scaled = round(number * 10**places)
    whole, part = divmod(scaled, 10**places)
    decimals = str(part).rjust(places, "0").rstrip("0")
    return f"{sign}{whole}.{decimals}" if decimals else f"{sign}{whole}"


def quantity_words(quantity: Quantity) -> tuple[str, ...]:
    """A quantity as the words of a line, in its own unit: ("111", "ft"), ("12",)."""
    if not quantity.unit:
        return (number_text(quantity.value),)
    return (number_text(quantity.number_in(quantity.unit)), quantity.unit)
