"""The TextMate grammar: patterns that many editors colour a text with, made from the vocabulary.

Names are coloured where a fact may begin: at the start of a line, after `{`, after a comma. Elsewhere the same word is
a value or a tag.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Any

from fedfrom.editing.editor_words import EditorWords

_END = r"(?=[\s,{}#)]|$)"
_START = r"(?:^|(?<=\{))(\s*)"  # of a statement
_FACT = r"(?:^|(?<=[{,]))(\s*)"  # of a fact
_TAG = r"[\w\[](?:[\w.\[\]-]|(?<=\[)[^\]\n]*)*"


def grammar(words: EditorWords) -> dict[str, Any]:
    """The grammar as the JSON that editors read."""
    status = _any(words.status)
    return {
        "name": "Fedfrom",
        "scopeName": "source.fed",
        "fileTypes": ["fed"],
        "patterns": [{"include": f"#{name}"} for name in _ORDER],
        "repository": {
            "comment": _match(r"#.*$", "comment.line.number-sign.fed"),
            "text": _text(),
            "splice": _splice(words),
            "control": {"patterns": _control()},
            "item": _captures(
                rf"{_START}(?:({status})\s+)?({_any(words.items)})\s+([\w\[][^\s\"{{#]*)(?=\s*(?:\"|\{{|#|$))",
                ["", "storage.modifier.status.fed", "storage.type.item.fed", "entity.name.tag.fed"],
            ),
            "statement": _captures(
                rf"{_START}(?:({status})\s+)?({_any(words.statements)}){_END}",
                ["", "storage.modifier.status.fed", "storage.type.statement.fed"],
            ),
            "load": _captures(
                rf"{_START}(?:({status})\s+)?(?:(\d+(?:,\d+)*)\s+)?(?:({status})\s+)?({_any(words.loads)}){_END}",
                [
                    "",
                    "storage.modifier.status.fed",
                    "constant.numeric.position.fed",
                    "storage.modifier.status.fed",
                    "support.type.load.fed",
                ],
            ),
            "verb": _name(words.status, words.verbs, "keyword.other.feed.fed"),
            "device": _name(words.status, words.devices, "support.type.device.fed"),
            "name": _name(words.status, words.names, "support.type.property-name.fed"),
            "system": _match(r"(?<![\w.-])\d+Y?/\d+\s*V(?!\w)", "constant.other.system.fed"),
            "date": _match(r"(?<![\w.-])\d{4}-\d\d-\d\d(?![\w-])", "constant.numeric.date.fed"),
            "quantity": _captures(
                rf"(?<![\w.-])(-?\d[\d_]*(?:-\d+/\d+|/\d+|\.\d+)?)(?:[ \t]*({_any(words.units)})(?![\w/-])|(?![\w-]))",
                ["constant.numeric.fed", "keyword.other.unit.fed"],
            ),
            "listed": _match(rf"(?<![\w./-])(?:{_any(words.listed)}){_END}", "constant.language.fed"),
            "status": _match(rf"(?<![\w./-])(?:{status}){_END}", "storage.modifier.status.fed"),
            "joining": _match(rf"(?<![\w./-])(?:{_any(words.joining)}){_END}", "keyword.other.joining.fed"),
            "argument": _captures(r"([A-Za-z_]\w*)\s*(:)", ["variable.parameter.fed", "punctuation.separator.fed"]),
            "operator": _match(r"\.\.|<=|>=|!=|[=<>]", "keyword.operator.fed"),
            "brace": _match(r"[{}]", "punctuation.section.block.fed"),
            "bracket": _match(r"[()]", "punctuation.section.parens.fed"),
            "comma": _match(r",", "punctuation.separator.comma.fed"),
            "tag": _match(r"[\w](?:[\w./-]*)|-|\.", "variable.other.tag.fed"),
        },
    }


_ORDER = (
    "comment", "text", "splice", "control", "item", "statement", "load", "verb", "device", "name", "system", "date",
    "listed", "quantity", "status", "joining", "argument", "operator", "brace", "bracket", "comma", "tag",
)  # fmt: skip


def _control() -> list[dict[str, Any]]:
    """The statements with a shape of their own."""
    word = "keyword.control.fed"
    return [
        _captures(rf"{_START}(fedfrom)\s+(\d+)", ["", word, "constant.numeric.fed"]),
        _captures(rf"{_START}(typical|use)\s+([A-Za-z_]\w*)", ["", word, "entity.name.function.fed"]),
        _captures(rf"{_START}(for)\s+([A-Za-z_]\w*)\s+(in){_END}", ["", word, "variable.parameter.fed", word]),
        _captures(rf"{_START}(accept)\s+([a-z][\w-]*)\s+(on){_END}", ["", word, "entity.other.rule.fed", word]),
        _captures(rf"{_START}(change)\s+([\w\[][^\s{{#]*)", ["", word, "entity.name.tag.fed"]),
        _captures(rf"{_START}(include|expect|omit){_END}", ["", word]),
    ]


def _text() -> dict[str, Any]:
    return {
        "begin": '"',
        "end": '"|$',
        "name": "string.quoted.double.fed",
        "patterns": [
            _match(r'\\["\\]|\[\[|\]\]', "constant.character.escape.fed"),
            {"include": "#splice"},
        ],
    }


def _splice(words: EditorWords) -> dict[str, Any]:
    """A parameter or arithmetic in square brackets."""
    return {
        "begin": r"\[",
        "end": r"\]|$",
        "beginCaptures": {"0": {"name": "punctuation.section.interpolation.fed"}},
        "endCaptures": {"0": {"name": "punctuation.section.interpolation.fed"}},
        "name": "meta.interpolation.fed",
        "patterns": [
            _captures(
                rf"(\d[\d_]*(?:\.\d+)?)(?:[ \t]*({_any(words.units)})(?![\w/]))?",
                ["constant.numeric.fed", "keyword.other.unit.fed"],
            ),
            _match(r"[A-Za-z_]\w*(?:\.[A-Za-z_]\w*)?", "variable.parameter.fed"),
            _match(r"[-+*/]", "keyword.operator.arithmetic.fed"),
            _match(r"[()]", "punctuation.section.parens.fed"),
        ],
    }


def _name(status: Iterable[str], names: Iterable[str], scope: str) -> dict[str, Any]:
    return _captures(
        rf"{_FACT}(?:({_any(status)})\s+)?({_any(names)}){_END}", ["", "storage.modifier.status.fed", scope]
    )


def _match(pattern: str, scope: str) -> dict[str, Any]:
    return {"match": pattern, "name": scope}


def _captures(pattern: str, scopes: Iterable[str]) -> dict[str, Any]:
    named = {str(number): {"name": scope} for number, scope in enumerate(scopes, 1) if scope}
    return {"match": pattern, "captures": named}


def _any(words: Iterable[str]) -> str:
    """Any of these words; the blanks in one may be several."""
    return "|".join(re.sub(r"(\\?\s)+", r"\\s+", re.escape(word).replace("\\-", "-")) for word in words)
