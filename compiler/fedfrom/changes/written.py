"""Everything that a text states, by a key that stays when other text is put in or taken out."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from fedfrom.changes.plain import parts, plain, renamed
from fedfrom.model.items import Defaults, Item, Load, Model, Origin, Value
from fedfrom.source import Span

if TYPE_CHECKING:
    from fedfrom.syntax.tree import Site

# Fields of an item that have entries of their own, or that follow from other items.
_OWN_ENTRIES = frozenset(
    {"feeds", "main", "loads", "reserves", "electrodes", "enclosed", "facts", "unreadable", "kind", "tag", "title"}
)
_FEED_NAMES = frozenset({"feeder_id", "verb"})


@dataclass(frozen=True, slots=True)
class Entry:
    """One thing that is written: `label` for the reader, its parts in plain form, and where it stands.

    `within` is the key of the statement that holds it ("" at the top): it comes and goes with it. `noun` is what is
    added or taken out ("circuit"), "" where the label says it.
    """

    key: str
    label: str
    values: Mapping[str, object]
    span: Span | None
    trail: tuple[Site, ...] = ()
    within: str = ""
    noun: str = ""


def entries(model: Model, names: Mapping[str, str]) -> dict[str, Entry]:
    """The entries of a model by key, in the order of the text. `names` gives the new tag for an old one."""
    found: dict[str, Entry] = {}
    for entry in (*_project(model, names), *_items(model, names), *_rest(model, names)):
        key, number = entry.key, 1
        while key in found:
            number += 1
            key = f"{entry.key}#{number}"
        found[key] = (
            entry
            if key == entry.key
            else Entry(key, entry.label, entry.values, entry.span, entry.trail, entry.within, entry.noun)
        )
    return found


def load_name(load: Load) -> str:
    """What names a load on its gear: its tag, else its name (which two kinds of load may share), else its kind."""
    return load.tag or (f"{load.kind} {load.name}" if load.name else load.kind)


def load_keys(item: Item) -> tuple[str, ...]:
    """The keys of the loads of an item, in order; a second load of the same name is numbered."""
    seen: Counter[str] = Counter()
    keys = []
    for load in item.loads:
        name = load_name(load)
        seen[name] += 1
        keys.append(name if seen[name] == 1 else f"{name}#{seen[name]}")
    return tuple(keys)


def _project(model: Model, names: Mapping[str, str]) -> Iterator[Entry]:
    project = model.project
    for name, value in (("title", project.title), ("number", project.number), ("drawn by", project.drawn_by)):
        yield Entry(f"project/{name}", f"project {name}", {"": value}, project.span)
    yield Entry("project/code", "code edition", {"": project.code.value}, project.code.span or project.span)
    for fact in project.facts.facts:
        yield Entry(f"project/{fact.name}", f"project {fact.name}", parts(fact, names), fact.span)
    defaults = model.defaults
    for fact in defaults.facts.facts:
        yield Entry(f"defaults/{fact.name}", f"default {fact.name}", parts(fact, names), fact.span)
    for name, settings in _settings(defaults):
        spans = [value.span for value in settings.values() if value is not None and value.span is not None]
        values = {key: plain(value, names) for key, value in settings.items()}
        yield Entry(f"defaults/{name}", f"default {name}", values, min(spans, default=None))
    for gear_class, table in defaults.by_class.items():
        for fact in table.facts:
            label = f"default {fact.name} of a {gear_class}"
            yield Entry(f"defaults/{gear_class}/{fact.name}", label, parts(fact, names), fact.span)
    yield Entry("defaults/series", "series ratings", {"": model.defaults.series_rated_forbidden}, None)


def _settings(defaults: Defaults) -> Iterator[tuple[str, dict[str, Value[Any] | None]]]:
    wire = defaults.wire
    yield "wire", {"material": wire.material, "insulation": wire.insulation, "raceway": wire.raceway_kind}
    yield "ambient", {"ambient": defaults.ambient_c}
    yield (
        "drop",
        {"feeder": defaults.drop_feeder_pct, "branch": defaults.drop_branch_pct, "total": defaults.drop_total_pct},
    )
    yield "growth", {"load": defaults.growth_load_pct, "poles": defaults.growth_poles_pct}


def _items(model: Model, names: Mapping[str, str]) -> Iterator[Entry]:
    for item in model.items.values():
        tag = renamed(item.tag, names)
        title = f' "{item.title}"' if item.title else ""
        head = f"{item.kind} {tag}"
        yield Entry(tag, head, {"kind": item.kind, "title": item.title}, item.span, item.trail, "", f"{head}{title}")
        own = {
            "system": item.system,
            "secondary": item.secondary,
            "phases": item.phases,
            "status": item.status,
            "by": item.by,
            "paralleling": item.paralleling,
            "enclosing": item.enclosing,
        }
        for name, value in own.items():
            place = value.span if (name in ("system", "secondary") and value is not None) else item.tag_span  # type: ignore[union-attr]
            yield Entry(
                f"{tag}/{name}", f"{tag} {_OWN_WORDS.get(name, name)}", parts((value,), names), place, item.trail, tag
            )
        yield from _inside(item, tag, names)


_OWN_WORDS = {"system": "voltage", "by": "supplied by", "enclosing": "enclosure"}


def _inside(item: Item, tag: str, names: Mapping[str, str]) -> Iterator[Entry]:
    for feed in item.feeds:
        key = f"{tag}/feed/{renamed(feed.feeder_id, names)}"
        values = parts(feed, names, _FEED_NAMES | _inherited(feed, item))
        yield Entry(key, f"{tag} {feed.verb} {renamed(feed.source, names)}", values, feed.span, feed.trail, tag)
    if item.main is not None:
        yield Entry(f"{tag}/main", f"{tag} main", parts(item.main, names), item.main.span, item.trail, tag)
    for name, load in zip(load_keys(item), item.loads, strict=True):
        values = parts(load, names, _inherited(load, item))
        what = load.tag or (f'"{load.name}"' if load.name else load.kind)
        yield Entry(f"{tag}/load/{name}", f"{tag} {what}", values, load.span, load.trail, tag, "circuit")
    for reserve in item.reserves:
        key = f"{tag}/{reserve.kind}/{reserve.rating_a or ''} {reserve.poles}"
        yield Entry(
            key,
            f"{tag} {reserve.kind}",
            parts(reserve, names, _inherited(reserve, item)),
            reserve.span,
            item.trail,
            tag,
        )
    for electrode in item.electrodes:
        yield Entry(
            f"{tag}/electrode/{electrode.kind}",
            f"{tag} electrode",
            parts(electrode, names),
            electrode.span,
            item.trail,
            tag,
        )
    for fact in item.facts.facts:
        if fact.origin is not Origin.DEFAULT:
            yield Entry(f"{tag}/fact/{fact.name}", f"{tag} {fact.name}", parts(fact, names), fact.span, item.trail, tag)


def _inherited(part: object, item: Item) -> frozenset[str]:
    """The fields that only repeat what the item says of itself."""
    return frozenset(name for name in ("status", "by") if getattr(part, name, None) == getattr(item, name))


def _rest(model: Model, names: Mapping[str, str]) -> Iterator[Entry]:
    for tie in model.ties:
        yield Entry(f"tie/{tie.tag}", f"tie {tie.tag}", parts(tie, names), tie.span)
    for room in model.rooms.values():
        yield Entry(f"room/{room.tag}", f"room {room.tag}", parts(room, names), room.span)
    for contactor in model.contactors.values():
        yield Entry(f"contactor/{contactor.tag}", f"contactor {contactor.tag}", parts(contactor, names), contactor.span)
    for state in model.states:
        yield Entry(f"state/{state.name}", f'state "{state.name}"', parts(state, names), state.span)
    for interlock in model.interlocks:
        members = ", ".join(renamed(each, names) for each in interlock.members)
        yield Entry(f"interlock/{members}", f"interlock of {members}", parts(interlock, names), interlock.span)
    for group in model.noncoincident:
        members = " or ".join(", ".join(each) for each in group.groups)
        yield Entry(f"noncoincident/{members}", "noncoincident", parts(group, names), group.span)
    for acceptance in model.acceptances:
        for tag, text in acceptance.subjects:
            subject = " ".join(part for part in (renamed(tag, names), f'"{text}"' if text else "") if part)
            key = f"accept/{acceptance.rule}/{subject}"
            yield Entry(key, f"accept {acceptance.rule} on {subject}", {"reason": acceptance.reason}, acceptance.span)
    for expect in model.expectations:
        subject = renamed(expect.subject, names)
        key = f"expect/{expect.measure}/{subject}/{'low' if '>' in expect.compare else 'high'}"
        values = {"compare": expect.compare, "value": expect.value}
        yield Entry(key, f"expect {expect.measure} at {subject}", values, expect.span)
