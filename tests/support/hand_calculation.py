"""A pocket calculator for printed calculations: reads the numbers of a line, works it out, compares with the result.

Independent of the program: it knows arithmetic and how numbers are printed, nothing of electricity. A printed number
stands for every value that is printed so; the comparison allows what that rounding can make of the result, no more.
"""

from __future__ import annotations

import ast
import re
from dataclasses import dataclass
from math import sqrt

NUMBER = re.compile(r"(?<![\w.])\d[\d,]*(?:\.\d+)?")
UNITS = re.compile(r"(?<=[\d) ])\s*\b(?:kVA|VA|A|V|kcmil|in2|mohm|ohm|ft|%)(?![\w'/])")
RESULT = re.compile(
    r"^(-?\d[\d,]*(?:\.\d+)?)(?: ([-+]) j(\d[\d,]*(?:\.\d+)?))?\s*(kVA|VA|kA|A|V|kcmil|in2|mohm|ft|%)?$"
)
SYMBOLS = {"^": "**", " x ": " * "}


@dataclass(frozen=True)
class Worked:
    """A line that could be worked out: the value found, the result printed, and how far apart they may be."""

    found: complex
    printed: complex
    allowed: float

    @property
    def agrees(self) -> bool:
        return abs(self.found - self.printed) <= self.allowed


def work_out(numbers: str, result: str) -> Worked | None:
    """The line worked out; None where it is not arithmetic (words, a table)."""
    expression = numbers.rpartition(" = ")[0] or numbers
    target = numbers.rpartition(" = ")[2] if " = " in numbers else result
    printed = read_result(target)
    tree = read_expression(expression)
    if printed is None or tree is None:
        return None
    values = {match[0]: float(match[0].replace(",", "")) for match in NUMBER.finditer(expression)}
    found = evaluate(tree, values)
    parts = re.findall(r"\d[\d,]*(?:\.\d+)?", target)
    allowed = sum(half_unit(part) for part in parts[:2]) + 1e-9
    if abs(found - printed) > allowed:
        # What the rounding of each printed number can do to the result; equal numbers are one number.
        allowed += sum(
            abs(evaluate(tree, {**values, text: value + half_unit(text)}) - found)
            for text, value in values.items()
            if not exact(text)
        )
    return Worked(found, printed, allowed)


# Numbers of formulas: they are what they are.
CONSTANTS = {"1.25", "0.25", "0.125"}


def exact(text: str) -> bool:
    """Whole numbers below a thousand without a unit of their own are counts, volts, ratings: exact as printed."""
    return text in CONSTANTS or ("." not in text and float(text.replace(",", "")) < 1000)


def half_unit(text: str) -> float:
    """Half of the last place of a printed number."""
    return 0.5 * 10.0 ** -len(text.partition(".")[2])


def read_result(text: str) -> complex | None:
    match = RESULT.match(text.strip())
    if match is None:
        return None
    real = float(match[1].replace(",", ""))
    if match[3] is None:
        return complex(real)
    return complex(real, float(match[3].replace(",", "")) * (1 if match[2] == "+" else -1))


def read_expression(text: str) -> ast.expr | None:
    """The arithmetic of a line, None where there are words in it. "j" before a number marks an imaginary part."""
    plain = UNITS.sub("", text)
    for symbol, sign in SYMBOLS.items():
        plain = plain.replace(symbol, sign)
    plain = re.sub(r"\bj(\d[\d,.]*)", r"J * \1", plain)
    plain = re.sub(r"(?<=\d),(?=\d{3})", "", plain)
    if re.search(r"[A-Za-z]", re.sub(r"\b(?:sqrt|abs|max|J)\b", "", plain)):
        return None
    try:
        tree = ast.parse(plain.strip(), mode="eval").body
    except SyntaxError:
        return None
    return tree if all(isinstance(node, KNOWN) for node in ast.walk(tree)) else None


# What a pocket calculator can do.
KNOWN = (
    ast.BinOp, ast.UnaryOp, ast.USub, ast.Constant, ast.Name, ast.Load, ast.Call,
    ast.Add, ast.Sub, ast.Mult, ast.Div, ast.Pow,
)  # fmt: skip


def evaluate(tree: ast.expr, values: dict[str, float]) -> complex:
    """The value of an expression; `values` by the number as printed."""
    by_value = {text.replace(",", ""): value for text, value in values.items()}
    return complex(_value(tree, by_value))


def _value(node: ast.expr, values: dict[str, float]) -> complex:
    if isinstance(node, ast.Constant):
        return complex(next((v for t, v in values.items() if float(t) == float(node.value)), float(node.value)))
    if isinstance(node, ast.Name):
        return 1j
    if isinstance(node, ast.UnaryOp):
        return -_value(node.operand, values)
    if isinstance(node, ast.Call):
        arguments = [_value(each, values) for each in node.args]
        name = node.func.id if isinstance(node.func, ast.Name) else ""
        if name == "max":
            return complex(max(each.real for each in arguments))
        return complex(abs(arguments[0]) if name == "abs" else sqrt(arguments[0].real))
    assert isinstance(node, ast.BinOp)
    left, right = _value(node.left, values), _value(node.right, values)
    match node.op:
        case ast.Add():
            return left + right
        case ast.Sub():
            return left - right
        case ast.Mult():
            return left * right
        case ast.Div():
            return left / right
        case ast.Pow():
            return left**right
    raise AssertionError(ast.dump(node))


# --- from the symbols on ---------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Spread:
    """A value between two bounds: what a printed number stands for."""

    low: float
    high: float

    def within(self, printed: str) -> bool:
        """Whether it may have been printed so."""
        other = spread(printed)
        return other is not None and self.low <= other.high + 1e-9 and other.low <= self.high + 1e-9


def spread(printed: str) -> Spread | None:
    """All that a number with a unit stands for; None for words."""
    match = re.match(r"^(-?\d[\d,]*(?:\.\d+)?)", printed.strip())
    if match is None:
        return None
    text = match[1]
    value, half = float(text.replace(",", "")), 0.0 if exact(text.lstrip("-")) else half_unit(text)
    return Spread(value - half, value + half)


def symbol_values(text: str) -> dict[str, str]:
    """The printed value of every symbol under "Given"."""
    given = text.partition("  Given\n")[2].partition("\n\n")[0]
    found = {}
    for line in given.splitlines():
        match = re.match(r"^ {4}(\S.*?)\s* = (-?[\d,]+(?:\.\d+)?)", line)
        if match:
            found[match[1]] = match[2]
    return found


def printed_lines(text: str) -> list[tuple[str, str, str]]:
    """(left side, formula, result) of every line under "Calculation" that has all three."""
    block = text.partition("  Calculation\n")[2].partition("\n\n")[0]
    joined: list[str] = []
    for line in block.splitlines():
        line = re.sub(r"\s*\[[^\]]*\]$", "", line[4:]) if line.startswith("    ") else line
        if joined and re.match(r"^\s+= ", line):
            joined[-1] += f" {line.strip()}"
        elif line.strip():
            joined.append(line.strip())
    lines = []
    for line in joined:
        parts = line.split(" = ")
        if len(parts) >= 3:
            lines.append((parts[0], parts[1], parts[-1]))
    return lines


def work_formula(formula: str, known: dict[str, str]) -> Spread | None:
    """A formula in symbols, worked out with interval ends of the printed values; None where a symbol is not known."""
    names = sorted(known, key=len, reverse=True)
    tokens: list[str] = []
    symbols: list[str] = []
    rest = formula.replace(" x ", " * ").replace("^", "**")
    while rest:
        rest = rest.lstrip()
        name = next(
            (name for name in names if rest.startswith(name) and not rest[len(name) : len(name) + 1].isalnum()), None
        )
        match = re.match(r"sqrt|\*\*|[-+*/()]|\d+(?:\.\d+)?", rest)
        if name is not None:
            tokens.append(f"v[{len(symbols)}]")
            symbols.append(name)
            rest = rest[len(name) :]
        elif match:
            tokens.append(match[0])
            rest = rest[match.end() :]
        elif rest:
            return None
    values = [spread(known[name]) for name in symbols]
    if any(value is None for value in values):
        return None
    return _spread_of(_with_products(tokens), symbols, [value for value in values if value is not None])


def _with_products(tokens: list[str]) -> str:
    """Symbols that stand beside each other are multiplied."""
    out = ""
    for token in tokens:
        starts = token.startswith("v") or token[0].isdigit() or token in ("(", "sqrt")
        ends = bool(out) and (out[-1] in ")]" or out[-1].isdigit())
        out += f" * {token}" if starts and ends else f" {token}"
    return out.strip()


def _spread_of(expression: str, symbols: list[str], values: list[Spread]) -> Spread:
    """The bounds of an expression: each symbol at its middle, then the reach of each symbol's own bounds added."""
    code = compile(expression, "formula", "eval")

    def value(bounds: dict[str, float]) -> float:
        numbers = [bounds.get(name, (each.low + each.high) / 2) for name, each in zip(symbols, values, strict=True)]
        return float(eval(code, {"__builtins__": {}}, {"v": numbers, "sqrt": sqrt}))

    middle = value({})
    reach = 0.0
    for name, each in dict(zip(symbols, values, strict=True)).items():
        reach += max(abs(value({name: end}) - middle) for end in (each.low, each.high))
    return Spread(middle - reach, middle + reach)
