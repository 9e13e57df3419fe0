"""The language reference as Markdown, generated from the vocabulary (`python -m fedfrom.vocabulary.reference`)."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Iterable, Sequence
from functools import cache
from importlib.resources import files
from typing import Any

from fedfrom.quantity import SYSTEMS, UNITS
from fedfrom.vocabulary.entry import Entry, Vocabulary
from fedfrom.vocabulary.load import load_vocabulary
from fedfrom.vocabulary.reference_forms import MOST_SHOWN, amount_forms, form_text, link, pattern_forms

_FENCE = re.compile(r"```fed\n(.*?)```", re.DOTALL)
_GEAR_FOR_SHARED = "switchboard"


def reference() -> str:
    """The whole page as Markdown."""
    vocabulary = load_vocabulary()
    guide = _guide()
    tables = _tables(vocabulary)
    parts = [f"# {guide['title']}", "", guide["opening"].strip(), "", *_contents(guide["chapter"]), ""]
    for chapter in guide["chapter"]:
        text = chapter["text"].strip()
        for name, table in tables.items():
            if f"{{{name}}}" in text:
                text = text.replace(f"{{{name}}}", table())
        parts += [f"## {chapter['title']}", "", text, ""]
    return "\n".join(parts).rstrip() + "\n"


def examples() -> tuple[str, ...]:
    """Every whole design of the page, for the test that compiles them."""
    return tuple(_FENCE.findall(reference()))


@cache
def _guide() -> dict[str, Any]:
    resource = files("fedfrom.grammar") / "vocabulary" / "guide.toml"
    return tomllib.loads(resource.read_text(encoding="utf-8"))


@cache
def reading_findings() -> dict[str, str]:
    """The rule ids of lowering and building with one sentence each."""
    resource = files("fedfrom.grammar") / "vocabulary" / "findings.toml"
    found = tomllib.loads(resource.read_text(encoding="utf-8"))["finding"]
    return {str(name): str(text) for name, text in found.items()}


def _contents(chapters: Iterable[dict[str, Any]]) -> list[str]:
    return [f"- [{chapter['title']}](#{link(chapter['title'])})" for chapter in chapters]


def _tables(vocabulary: Vocabulary) -> dict[str, Callable[[], str]]:
    """The tables that a chapter may name."""

    def scope(name: str, kinds: Sequence[str] = ("property", "option", "device", "verb")) -> list[Entry]:
        return [entry for entry in vocabulary.scope(name).entries.values() if entry.kind in kinds]

    feed_names = {entry.name for entry in scope("feed")}
    shared = _shared_properties(vocabulary)
    return {
        "units": _units,
        "systems": _systems,
        "status": lambda: _words(vocabulary, "status"),
        "points": lambda: _words(vocabulary, "feed-point"),
        "verbs": lambda: _table(list(_top_verbs(vocabulary)), vocabulary),
        "feed": lambda: _table(list(scope("feed", ("option",))), vocabulary),
        "devices": lambda: _table(scope("feed", ("device",)), vocabulary),
        "features": lambda: _list_table(vocabulary, "device-feature"),
        "gear": lambda: _table([e for e in shared if e.kind == "property"], vocabulary),
        "loads": lambda: _load_table(_loads(vocabulary), vocabulary),
        "load": lambda: _table([e for e in scope("load", ("option",)) if e.name not in feed_names], vocabulary),
        "reserves": lambda: _table(scope(_GEAR_FOR_SHARED, ("reserve",)), vocabulary),
        "lists": lambda: _word_lists(vocabulary),
        "occupancies": lambda: _list_table(vocabulary, "occupancy"),
        "items": lambda: _items(vocabulary, {entry.name for entry in shared}),
        "project": lambda: _table(scope("project"), vocabulary),
        "defaults": lambda: _table(scope("defaults"), vocabulary),
        "room": lambda: _table(scope("room"), vocabulary),
        "statements": lambda: _statements(vocabulary),
        "contactor": lambda: _table(scope("contactor"), vocabulary),
        "columns": lambda: _columns(vocabulary),
        "measures": _measures,
        "findings": _findings,
    }


def _top_verbs(vocabulary: Vocabulary) -> list[Entry]:
    found: dict[str, Entry] = {}
    for kind in vocabulary.item_kinds:
        for entry in vocabulary.scope(kind).entries.values():
            if entry.kind == "verb":
                found.setdefault(entry.name, entry)
    return list(found.values())


def _loads(vocabulary: Vocabulary) -> list[Entry]:
    return [entry for entry in vocabulary.scope(_GEAR_FOR_SHARED).entries.values() if entry.kind == "load"]


def _shared_properties(vocabulary: Vocabulary) -> list[Entry]:
    """The entries of every kind of gear, in the order of the files."""
    gear = [kind for kind in vocabulary.item_kinds if "bus" in vocabulary.scope(kind).entries]
    first = vocabulary.scope(_GEAR_FOR_SHARED).entries.values()
    return [entry for entry in first if all(entry in vocabulary.scope(kind).entries.values() for kind in gear)]


def _items(vocabulary: Vocabulary, shared: set[str]) -> str:
    parts = []
    for kind in vocabulary.item_kinds:
        entry = vocabulary.scope("top").entries[kind]
        scope = vocabulary.scope(kind)
        own = [e for e in scope.entries.values() if e.kind in {"property", "verb"}]
        is_gear = "bus" in scope.entries
        if is_gear:
            own = [e for e in own if e.name not in shared]
        parts += [f"### `{kind}`", "", entry.help, "", entry.note, ""]
        parts += ["```fed", "fedfrom 1", entry.program.strip(), "```", ""]
        if own:
            parts += [_table(own, vocabulary), ""]
        if is_gear:
            more = "besides what stands here, " if own else ""
            parts += [f"{more}every property of [gear](#gear) and every [load](#loads).".capitalize(), ""]
    return "\n".join(parts).strip()


def _statements(vocabulary: Vocabulary) -> str:
    names = ("tie", "interlock", "state", "noncoincident")
    entries = [vocabulary.scope("top").entries[name] for name in names]
    inner = list(vocabulary.scope("state").entries.values())
    tie = [e for e in vocabulary.scope("tie").entries.values() if e.name.startswith("normally")]
    return _table([*entries, *inner, *tie], vocabulary)


# --- tables --------------------------------------------------------------------------------------------------------


def _table(entries: Sequence[Entry], vocabulary: Vocabulary) -> str:
    """Entries as a table: what is written, what it means, an example."""
    rows = ["| Write | Meaning | Example |", "|---|---|---|"]
    for entry in entries:
        forms = "<br>".join(f"`{form}`" for form in pattern_forms(entry, vocabulary))
        rows.append(f"| {forms} | {_meaning(entry, vocabulary)} | `{entry.example}` |")
    return "\n".join(rows)


def _load_table(entries: Sequence[Entry], vocabulary: Vocabulary) -> str:
    """Load kinds: how big the load is, what it means, an example. A phase count may follow any amount; not repeated."""
    rows = ["| Kind | The load is | Meaning | Example |", "|---|---|---|---|"]
    for entry in entries:
        forms = amount_forms(entry, vocabulary)
        shown = "<br>".join(f"`{form}`" for form in forms) or "in its braces"
        rows.append(f"| `{entry.name}` | {shown} | {_meaning(entry, vocabulary)} | `{entry.example}` |")
    return "\n".join(rows)


def _word_lists(vocabulary: Vocabulary) -> str:
    """Every closed list that is too long to stand in the tables above."""
    parts = []
    shown = {"occupancy", "device-feature", "item-kind", "load-kind", "pole-count", "conductor-count"}
    for name, words in vocabulary.lists.items():
        if len(words.words) > MOST_SHOWN and name not in shown:
            title = words.noun.removeprefix("a ").removeprefix("an ")
            parts += [f"### {title[:1].upper()}{title[1:]}", "", _list_table(vocabulary, name), ""]
    return "\n".join(parts).strip()


def _meaning(entry: Entry, vocabulary: Vocabulary) -> str:
    words = [entry.help]
    if entry.options:
        options = [f"`{form_text(option, vocabulary)}`: {option.help}" for option in entry.options]
        words.append("After a comma or in the first place: " if entry.head_is_option else "After commas: ")
        words[-1] += " ".join(options)
    ranges = [f"{name} {bound.text}" for name, bound in entry.bounds.items()]
    if ranges:
        words.append(f"*Range: {'; '.join(ranges)}.*")
    if not entry.computed:
        words.append("*Kept for drawings and schedules; nothing is computed from it yet.*")
    return " ".join(words)


def _list_table(vocabulary: Vocabulary, name: str) -> str:
    rows = ["| Word | Meaning |", "|---|---|"]
    rows += [f"| `{word}` | {text} |" for word, text in vocabulary.lists[name].words.items()]
    return "\n".join(rows)


def _words(vocabulary: Vocabulary, name: str) -> str:
    return ", ".join(f"`{word}`" for word in vocabulary.lists[name].words)


def _units() -> str:
    by_dimension: dict[str, list[str]] = {}
    for unit in UNITS.values():
        by_dimension.setdefault(unit.dimension.value, []).append(unit.name)
    rows = ["| Dimension | Units |", "|---|---|"]
    rows += [
        f"| {dimension} | {', '.join(f'`{unit}`' for unit in units)} |" for dimension, units in by_dimension.items()
    ]
    return "\n".join(rows)


def _systems() -> str:
    rows = ["| Write | Kind | Line to line | Line to neutral | Wires |", "|---|---|---|---|---|"]
    for system in SYSTEMS.values():
        neutral = f"{system.line_to_neutral_v:g} V" if system.has_neutral else "none"
        rows.append(
            f"| `{system.literal}` | {system.kind} | {system.line_to_line_v:g} V | {neutral} | {system.wires} |"
        )
    return "\n".join(rows)


def _columns(vocabulary: Vocabulary) -> str:
    rows = ["| Column | Holds | Example |", "|---|---|---|"]
    for entry in vocabulary.scope("loads from").entries.values():
        rows.append(f"| `{entry.name}` | {entry.help} | `{entry.example}` |")
    return "\n".join(rows)


def _measures() -> str:
    return "`fault`, `demand`, `drop`, `load`, `spare amperes` and `spare poles`"


def _findings() -> str:
    rows = ["| Finding | When |", "|---|---|"]
    rows += [f"| `{name}` | {text} |" for name, text in reading_findings().items()]
    return "\n".join(rows)


if __name__ == "__main__":
    print(reference(), end="")
