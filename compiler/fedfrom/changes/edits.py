"""What is written differently, with its place: the difference of two models, told in the words of their texts."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from fedfrom.changes.types import Edit, Side
from fedfrom.changes.wording import difference, quoted
from fedfrom.changes.written import Entry, entries
from fedfrom.source import Span

# What names a load and does not change it.
_NAMING = frozenset({"tag", "name"})


def edits(old: Side, new: Side, names: Mapping[str, str]) -> tuple[tuple[Edit, ...], dict[str, str]]:
    """Every edit, those of the new text in its order, then what is gone. One line of a typical is one edit.

    With it the new keys of load lines that moved or were given another name, by their old keys.
    """
    moved: dict[str, str] = {}
    before, after = entries(old.model, names), entries(new.model, {})
    gone = {key: entry for key, entry in before.items() if key not in after}
    come = {key: entry for key, entry in after.items() if key not in before}
    found: list[tuple[Edit, Span | None]] = []
    for key, entry in after.items():
        if key in before:
            fields = _fields(before[key].values, entry.values)
            if fields:
                found.append((_changed(old, new, before[key], entry, fields), entry.span))
        elif (pair := _same_under_other_name(entry, gone)) is not None:
            del gone[pair.key]
            del come[key]
            moved[pair.key] = key
            found.append((_moved(old, new, pair, entry), entry.span))
    for key, entry in come.items():
        if entry.within not in come:
            found.append((_one(new, entry, "added", key), entry.span))
    for key, entry in gone.items():
        if entry.within not in gone:
            found.append((replace(_one(old, entry, "taken out", key), gone=True), entry.span))
    return tuple(_merged(found)), moved


def _fields(old: Mapping[str, object], new: Mapping[str, object]) -> frozenset[str]:
    return frozenset(name for name in {**old, **new} if old.get(name) != new.get(name))


def _same_under_other_name(entry: Entry, gone: Mapping[str, Entry]) -> Entry | None:
    """A load that only moved, or was only given another name: exactly one that is gone says the same."""
    if "/load/" not in entry.key:
        return None
    by_tag = [each for each in gone.values() if entry.values.get("tag") and _is_load(each, "tag", entry)]
    alike = by_tag or [each for each in gone.values() if "/load/" in each.key and _same_load(each, entry)]
    own = [each for each in alike if each.within == entry.within] or alike
    return own[0] if len(own) == 1 else None


def _is_load(each: Entry, field: str, entry: Entry) -> bool:
    return "/load/" in each.key and each.values.get(field) == entry.values.get(field)


def _same_load(one: Entry, other: Entry) -> bool:
    """The same but for the name on the same gear; on other gear the name and the size must be the same."""
    fields = _fields(one.values, other.values)
    if one.within == other.within:
        return fields <= _NAMING
    return not fields & {"kind", "name", "amount", "tag"}


def _moved(old: Side, new: Side, before: Entry, after: Entry) -> Edit:
    words = _words(old, new, before, after)
    if before.within != after.within:
        text = f"{after.label} moved from {before.within} to {after.within}"
        fields = frozenset({"gear"}) | _fields(before.values, after.values)
        return Edit((after.key, before.key), fields, text, new.place(after.span))
    return Edit(
        (after.key, before.key), _fields(before.values, after.values), f"{after.label}: {words}", new.place(after.span)
    )


def _one(side: Side, entry: Entry, what: str, key: str) -> Edit:
    statement = _statement(side, entry.span)
    if entry.within and statement:
        text = f"{entry.within}: {entry.noun} `{statement}` {what}".replace(":  ", ": ")
    elif entry.noun:
        text = f"{entry.noun} {what}"
    else:
        text = f"`{statement}` {what}" if statement else f"{entry.label} {what}"
    short = f"{entry.noun} {entry.label} {what}".strip() if entry.within else ""
    return Edit((key,), frozenset(entry.values), text, side.place(entry.span), short=short)


def _changed(old: Side, new: Side, before: Entry, after: Entry, fields: frozenset[str]) -> Edit:
    span, words = _where_words_differ(old, new, before, after)
    if not words:
        words = _values_said(before, after, fields)
    return Edit((after.key,), fields, f"{after.label}: {words}", new.place(span))


def _words(old: Side, new: Side, before: Entry, after: Entry) -> str:
    return _where_words_differ(old, new, before, after)[1] or "changed"


def _where_words_differ(old: Side, new: Side, before: Entry, after: Entry) -> tuple[Span | None, str]:
    """The innermost place whose words differ: the line itself, else the `use` or the row that filled it in."""
    pairs = [(before.span, after.span)]
    if len(before.trail) == len(after.trail):
        sites = zip(reversed(before.trail), reversed(after.trail), strict=True)
        pairs += [(one.span, other.span) for one, other in sites]
    for one, other in pairs:
        words = difference(*(_head_only(after, text) for text in (_text(old, one), _text(new, other))))
        if words and len(words) < 200:
            return other, words
    return after.span, ""


def _head_only(entry: Entry, text: str) -> str:
    """Of a whole item only its head: what stands inside has entries of its own."""
    return text if entry.within or "/" in entry.key else text.partition("{")[0]


def _values_said(before: Entry, after: Entry, fields: frozenset[str]) -> str:
    """The parts that differ, where the text around them is the same: a parameter or a default filled them in."""
    said = []
    for name in sorted(fields):
        one, other = before.values.get(name), after.values.get(name)
        simple = all(isinstance(each, (str, int, float)) for each in (one, other))
        said.append(
            f"{one} -> {other}" if simple and one != "" and other != "" else (name.replace("_", " ") or "value")
        )
    return "; ".join(said) if any("->" in each for each in said) else f"another {', '.join(said)}"


def _text(side: Side, span: Span | None) -> str:
    source = side.files.get(span.file) if span is not None else None
    return source.text[span.start : span.end] if span is not None and source is not None else ""


def _statement(side: Side, span: Span | None) -> str:
    """The line that holds a span, as it is written."""
    source = side.files.get(span.file) if span is not None else None
    if span is None or source is None:
        return ""
    return quoted(source.line_text(source.place(span.start).line).rstrip("{ "))


def _merged(found: list[tuple[Edit, Span | None]]) -> Iterator[Edit]:
    """One edit for each place and kind of change: a line of a typical that is used ten times is one edit."""
    groups: dict[tuple[str, bool, str], list[Edit]] = {}
    for edit, _ in found:
        saying = edit.text.partition(": ")[2] or edit.text.rpartition(" ")[2]
        alike = (edit.place or edit.keys[0], edit.gone, saying)
        groups.setdefault(alike, []).append(edit)
    for group in groups.values():
        first = group[0]
        if len(group) > 1:
            label, colon, rest = first.text.partition(": ")
            first = replace(first, text=f"{label} and {len(group) - 1} more{colon}{rest}", count=len(group))
        yield replace(first, keys=tuple(dict.fromkeys(key for edit in group for key in edit.keys)))
