"""Small models by hand: for tests of everything after reading, in a few words each."""

from __future__ import annotations

from collections.abc import Iterable

from fedfrom.model.items import (
    Device,
    Fact,
    FactTable,
    Feed,
    Item,
    Load,
    LoadAmount,
    Model,
    Noncoincident,
    Project,
    Reserve,
    Status,
    Tie,
    Value,
)
from fedfrom.quantity import SYSTEMS, Quantity
from fedfrom.source import Span

_SPANS = iter(range(0, 10**9, 10))


def span() -> Span:
    """A fresh place, later than all before it."""
    start = next(_SPANS)
    return Span("test.fed", start, start + 5)


def feed(source: str, target: str, verb: str = "fed from", suffix: str = "", **fields: object) -> Feed:
    """A feed of `target` from `source`."""
    feeder_id = f"{target}.{suffix}" if suffix else target
    return Feed(verb, source, feeder_id, span(), span(), **fields)  # type: ignore[arg-type]


def fact(name: str, **values: object) -> Fact:
    """A property line; a text like "412 A" becomes a quantity."""
    return Fact(name, {key: _value(value) for key, value in values.items()}, {}, span())


def _value(value: object) -> object:
    if isinstance(value, str):
        number, _, unit = value.partition(" ")
        if unit and number.replace(".", "").isdigit():
            from fractions import Fraction

            return Quantity.of(Fraction(number), unit)
    return value


def item(
    kind: str,
    tag: str,
    *feeds: Feed | str,
    voltage: str = "",
    secondary: str = "",
    loads: Iterable[Load] = (),
    reserves: Iterable[Reserve] = (),
    facts: Iterable[Fact] = (),
    status: Status = Status.NEW,
    enclosing: str = "",
    paralleling: bool = False,
    phases: str = "",
) -> Item:
    """An item; a feed given as a tag is a plain `fed from`."""
    made = tuple(feed(entry, tag) if isinstance(entry, str) else entry for entry in feeds)
    place = span()
    return Item(
        kind=kind,
        tag=tag,
        title="",
        span=place,
        tag_span=place,
        order=place.start,
        status=status,
        feeds=made,
        system=Value(SYSTEMS[voltage], span=span()) if voltage else None,
        secondary=Value(SYSTEMS[secondary], span=span()) if secondary else None,
        loads=tuple(loads),
        reserves=tuple(reserves),
        facts=FactTable(tuple(facts)),
        enclosing=enclosing,
        paralleling=paralleling,
        phases=phases,
    )


_FORMS = {"VA": "va", "kVA": "va", "W": "w", "kW": "w", "A": "a", "hp": "hp", "outlets": "outlets", "ft": "length"}


def amount(text: str) -> LoadAmount:
    """`2.4 kVA`, `25 hp`, `8 outlets`, `11500 ft2 office`, `mca 41 A mocp 60 A`, `30 ft`, or nothing."""
    words = text.split()
    if not words:
        return LoadAmount("none")
    if words[0] == "mca":
        return LoadAmount("mca", mca_a=float(words[1]), mocp_a=float(words[4]) if len(words) > 4 else None)
    if words[1] == "ft2":
        return LoadAmount("area", area_ft2=float(words[0]), occupancy=" ".join(words[2:]))
    form = _FORMS[words[1]]
    number = float(words[0]) * (1000 if words[1].startswith("k") else 1)
    return LoadAmount(form, quantity=number)


def load(kind: str, size: str = "", name: str = "", **fields: object) -> Load:
    """A load line; `volts=208` and so on as fields of `Load`."""
    volts = fields.pop("volts", None)
    if volts is not None:
        fields["volts"] = Value(float(volts))  # type: ignore[arg-type]
    length = fields.pop("ft", None)
    if length is not None:
        fields["length_ft"] = Value(float(length))  # type: ignore[arg-type]
    given = fields.pop("facts", ())
    tag = str(fields.pop("tag", ""))
    place = span()
    return Load(
        kind,
        tag,
        name or kind,
        amount(size),
        place,
        index=place.start,
        facts=FactTable(tuple(given)),
        **fields,  # type: ignore[arg-type]
    )


def tie(tag: str, first: str, second: str, normally_open: bool = True) -> Tie:
    """A tie of one line-up."""
    from fedfrom.model.items import Conductors

    place = span()
    return Tie(tag, (first, second), Device("breaker", place), normally_open, None, Conductors(), place, place.start)


def model(*items: Item, code: str = "NEC 2023", ties: Iterable[Tie] = (), **fields: object) -> Model:
    """A model of these items in this order."""
    from fedfrom.model.items import Defaults

    project = Project(title="Test", code=Value(code))
    return Model(project, Defaults(), {entry.tag: entry for entry in items}, ties=tuple(ties), **fields)  # type: ignore[arg-type]


def noncoincident(*groups: Iterable[str]) -> Noncoincident:
    """`noncoincident A, B or C`."""
    return Noncoincident(tuple(tuple(group) for group in groups), span())
