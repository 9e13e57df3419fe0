"""A tree as short text, for tests: `line(1,3|motor "Fan" 5 hp|60 ft){...}`."""

from __future__ import annotations

from fedfrom.syntax.tree import (
    Accept,
    BinaryExpr,
    Expect,
    Expr,
    FileSource,
    For,
    Include,
    Line,
    ListValue,
    NameExpr,
    NumberExpr,
    Part,
    RangeSource,
    Run,
    Splice,
    Statement,
    Text,
    Tree,
    Typical,
    UnaryExpr,
    Use,
    Version,
)


def shape(tree: Tree) -> str:
    return "; ".join(statement(item) for item in tree.statements)


def statement(item: Statement) -> str:
    match item:
        case Version():
            return f"version({word(item.number)})"
        case Include():
            return f"include({part(item.path)})"
        case Typical():
            named = [word(p.name) + ("=" + run(p.default) if p.default else "") for p in item.parameters]
            return f"typical({word(item.name)}|{','.join(named)}){block(item.block.statements)}"
        case For():
            source = item.source
            if isinstance(source, RangeSource):
                shown = f"{word(source.first)}..{word(source.last)}"
            elif isinstance(source, FileSource):
                shown = part(source.path)
            else:
                shown = part(source)
            return f"for({word(item.name)}|{shown}){block(item.block.statements)}"
        case Use():
            given = ",".join(f"{word(a.name)}:{run(a.value)}" for a in item.arguments)
            return f"use({word(item.name)}|{given})" + (block(item.block.statements) if item.block else "")
        case Accept():
            on = ",".join(word(r.word) + (" " + part(r.text) if r.text else "") for r in item.references)
            return f"accept({word(item.rule)}|{on}|{part(item.reason)})"
        case Expect():
            return f"expect({run(item.left)} {item.compare} {run(item.right)})"
        case Line():
            positions = ",".join(word(p) for p in item.positions)
            runs = "|".join(run(r) for r in item.runs)
            mark = "!" if item.unreadable else ""
            return f"{mark}line({positions + '@' if positions else ''}{runs})" + (
                block(item.block.statements) if item.block else ""
            )


def block(statements: tuple[Statement, ...]) -> str:
    return "{" + "; ".join(statement(item) for item in statements) + "}"


def run(item: Run) -> str:
    return " ".join(part(p) for p in item.parts)


def part(item: Part) -> str:
    if isinstance(item, Text):
        return '"' + segments(item.segments) + '"'
    if isinstance(item, ListValue):
        return "(" + ",".join(run(value) for value in item.values) + ")"
    return word(item)


def word(item: Part) -> str:
    return segments(getattr(item, "segments"))  # noqa: B009 - both words and texts have them


def segments(items: tuple[str | Splice, ...]) -> str:
    return "".join(item if isinstance(item, str) else f"<{expr(item.expr)}>" for item in items)


def expr(item: Expr) -> str:
    match item:
        case NumberExpr():
            return f"{item.digits}{item.unit}"
        case NameExpr():
            return item.name + ("." + item.column if item.column else "")
        case UnaryExpr():
            return f"(-{expr(item.operand)})"
        case BinaryExpr():
            return f"({expr(item.left)}{item.operator}{expr(item.right)})"
