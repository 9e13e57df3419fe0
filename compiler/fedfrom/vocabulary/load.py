"""Reads `grammar/vocabulary/*.toml` into a `Vocabulary`, once."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Any

from fedfrom.vocabulary.entry import Entry, Scope, Vocabulary, WordList
from fedfrom.vocabulary.pattern import Bound, VocabularyError, compile_bound, compile_pattern

_KINDS = ("item", "statement", "verb", "property", "load", "reserve", "device", "option")
_HOLDERS = ("gear", "transformer")  # what nested gear may be written inside
_USES = {"load": ("load",), "verb": ("feed",)}
_BLOCKS = {"load": "load", "verb": "feed"}
_FIELDS = frozenset(
    {
        "name", "in", "help", "example", "patterns", "options", "uses", "block", "repeat", "head", "continues", "merge",
        "computed", "bounds", "unnamed", "nested", "groups", "shape", "note", "program",
    }
)  # fmt: skip


@cache
def load_vocabulary() -> Vocabulary:
    """The vocabulary of the installed grammar. Raises VocabularyError for a malformed file."""
    tables: list[Mapping[str, Any]] = []
    folder = files("fedfrom.grammar") / "vocabulary"
    for resource in sorted((entry for entry in folder.iterdir() if entry.name.endswith(".toml")), key=lambda e: e.name):
        tables.append(tomllib.loads(resource.read_text(encoding="utf-8")))
    return build_vocabulary(tables)


def build_vocabulary(tables: list[Mapping[str, Any]]) -> Vocabulary:
    """A vocabulary from parsed TOML tables, in order. Raises VocabularyError."""
    entries = [_entry(row, kind) for table in tables for kind in _KINDS for row in table.get(kind, ())]
    members = _members(tables)
    scopes: dict[str, dict[str, Entry]] = {}
    for table in tables:
        for name in table.get("scope", {}):
            scopes.setdefault(name, {})
    for entry in entries:
        for place in (*entry.scopes, *(_HOLDERS if entry.nested else ())):
            for kind in members.get(place, (place,)):
                if scopes.setdefault(kind, {}).get(entry.name, entry) is not entry:
                    raise VocabularyError(f"{entry.name!r} stands twice in scope {kind!r}")
                scopes[kind][entry.name] = entry
    described = {name: row for table in tables for name, row in table.get("scope", {}).items()}
    lists = {name: _word_list(name, row) for table in tables for name, row in table.get("list", {}).items()}
    items = tuple(entry.name for entry in entries if entry.kind == "item")
    lists["item-kind"] = WordList("item-kind", "a kind of item", "A kind of item.", dict.fromkeys(items, ""))
    loads = tuple(entry.name for entry in entries if entry.kind == "load" and entry.name != "circuit")
    lists["load-kind"] = WordList("load-kind", "a kind of load", "A kind of load.", dict.fromkeys(loads, ""))
    vocabulary = Vocabulary(
        scopes={name: _scope(name, found, described.get(name, {})) for name, found in scopes.items()},
        lists=lists,
        instead=_merged(tables, "instead"),
        units_instead=_merged(tables, "units_instead"),
        bare=_merged(tables, "bare"),
        explain=_merged(tables, "explain"),
        default_bounds={key: compile_bound(text) for key, text in _merged(tables, "bounds").items()},
        item_kinds=items,
    )
    _check_lists(entries, vocabulary)
    return vocabulary


def _members(tables: list[Mapping[str, Any]]) -> dict[str, tuple[str, ...]]:
    """Which item kinds a group name stands for."""
    members: dict[str, list[str]] = {}
    for table in tables:
        for row in table.get("item", ()):
            for group in row.get("groups", ()):
                members.setdefault(group, []).append(row["name"])
    return {group: tuple(names) for group, names in members.items()}


def _scope(name: str, found: dict[str, Entry], row: Mapping[str, Any]) -> Scope:
    return Scope(name, found, bool(row.get("flat", False)), str(row.get("help", "")))


def _entry(row: Mapping[str, Any], kind: str) -> Entry:
    name = str(row.get("name", ""))
    unknown = sorted(set(row) - _FIELDS)
    if unknown or not name:
        raise VocabularyError(f"entry {name!r}: unknown field {', '.join(unknown) or '(no name)'}")
    forms = tuple(str(form) for form in row.get("patterns", ()))
    patterns = tuple(dict.fromkeys(pattern for form in forms for pattern in compile_pattern(form)))
    bounds: dict[str, Bound] = {part: compile_bound(text) for part, text in row.get("bounds", {}).items()}
    return Entry(
        name=name,
        kind=kind,
        scopes=tuple(row.get("in", ())),
        help=str(row.get("help", "")),
        example=str(row.get("example", "")),
        patterns=tuple(sorted(patterns, key=lambda pattern: len(pattern.elements), reverse=True)),
        forms=forms,
        options=tuple(_entry(option, "option") for option in row.get("options", ())),
        option_scopes=tuple(row.get("uses", _USES.get(kind, ()))),
        block=str(row.get("block", _BLOCKS.get(kind, name if kind == "item" else ""))),
        repeat=bool(row.get("repeat", False)),
        head_is_option=bool(row.get("head", False)),
        continues=str(row.get("continues", "")),
        merge=bool(row.get("merge", False)),
        computed=bool(row.get("computed", True)),
        bounds=bounds,
        unnamed=bool(row.get("unnamed", False)),
        nested=bool(row.get("nested", False)),
        shape=str(row.get("shape", "")),
        note=str(row.get("note", "")),
        program=str(row.get("program", "")),
    )


def _word_list(name: str, row: Mapping[str, Any]) -> WordList:
    words = {str(word): str(help_text) for word, help_text in row.get("words", {}).items()}
    keys = {str(word): str(key) for word, key in row.get("keys", {}).items()}
    return WordList(name, str(row.get("noun", "")), str(row.get("help", "")), words, keys)


def _merged(tables: list[Mapping[str, Any]], key: str) -> dict[str, str]:
    return {str(word): str(text) for table in tables for word, text in table.get(key, {}).items()}


def _check_lists(entries: list[Entry], vocabulary: Vocabulary) -> None:
    for entry in entries:
        for holder in (entry, *entry.options):
            for pattern in holder.patterns:
                for element in pattern.elements:
                    if element.type == "list" and element.list not in vocabulary.lists:
                        raise VocabularyError(f"{entry.name!r} names an unknown list {element.list!r}")
