"""Every computed value of a design as a `Fact`, with what it is computed from: the paths along which causes travel."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.changes.circuit_facts import circuit_facts
from fedfrom.changes.gear_facts import equipment_facts, gear_facts
from fedfrom.changes.names import Naming
from fedfrom.changes.notation import amperes, conductors_shown, device_shown, feet, kiloamperes, percent
from fedfrom.changes.types import Fact, Written
from fedfrom.results.governing import governing_fault, governing_load
from fedfrom.results.types import FeederResult

ROUTE = frozenset({"length_ft", "runs", "at_ft", "source", "point", "volts", "phases"})
_GROWTH = Written("defaults/growth")
_WIRING_DEFAULTS = (Written("defaults/wire"), Written("defaults/ambient"), Written("defaults/drop"))
WIRING = frozenset({"conductors", "ambient_c", "device"}) | ROUTE
_SETTINGS = (Written("defaults"), Written("project/code"))


def facts(naming: Naming) -> dict[str, Fact]:
    """The facts of a design by key; both sides use the same keys."""
    found: dict[str, Fact] = {}
    makers = (_load_facts, _feeder_facts, circuit_facts, gear_facts, equipment_facts, _fault_facts)
    for maker in makers:
        for fact in maker(naming):
            found.setdefault(fact.key, fact)
    return found


def _load_facts(naming: Naming) -> Iterator[Fact]:
    network = naming.side.network
    for name in network.nodes:
        tag = naming.tag(name)
        load = governing_load(naming.side.results, name)
        below: list[str | Written] = [
            f"load/{naming.tag(network.edges[edge].target)}" for edge in network.outgoing.get(name, ())
        ]
        parents = (
            Written(f"{tag}/load"),
            *below,
            Written(f"{tag}/fact"),
            Written(tag),
            Written("noncoincident"),
            *_feeds_below(naming, name),
            Written("state"),
            Written("tie"),
            *_SETTINGS,
        )
        if load is None:
            text, number = "not known", None
        else:
            mark = "" if load.complete else "at least "
            text, number = f"{mark}{amperes(load.demand_a)}", load.demand_a
        yield Fact(f"load/{tag}", "Loads", f"{tag} demand", text, tag, number, parents)


def _feeds_below(naming: Naming, name: str) -> Iterator[Written]:
    """The feed lines of what hangs on a node: one that is moved to another source takes its load with it."""
    network = naming.side.network
    for edge in network.outgoing.get(name, ()):
        yield Written(f"{naming.tag(network.edges[edge].target)}/feed", frozenset({"source", "point", "feeder_id"}))


def _feeder_facts(naming: Naming) -> Iterator[Fact]:
    for feeder in naming.side.results.feeders.values():
        key, target, source = naming.tag(feeder.id), naming.tag(feeder.target), naming.tag(feeder.source)
        feed, base = f"{target}/feed/{key}", f"feeder/{key}"
        label = f"feeder to {key}" if feeder.kind != "service" else f"service to {key}"
        item = Written(target)
        sized_by = (f"transformer/{target}/kva", f"transformer/{source}/kva")
        parents = (
            Written(feed, WIRING),
            f"{base}/current",
            f"{base}/device",
            *sized_by,
            f"gear/{target}/main",
            item,
            *_WIRING_DEFAULTS,
            *_SETTINGS,
        )
        yield Fact(
            f"{base}/current",
            "",
            f"current needed at {key}",
            amperes(feeder.design_a),
            target,
            feeder.design_a,
            (
                f"load/{target}",
                f"transformer/{target}/kva",
                f"transfer/{target}/rating",
                Written(feed, WIRING),
                Written(f"{target}/fact"),
                item,
                _GROWTH,
                f"gear/{target}/main",
                f"gear/{target}/bus",
                *_SETTINGS,
            ),
        )
        yield Fact(f"{base}/source", "Supply", label, f"from {source}", key, None, (Written(feed), item))
        if feeder.length_ft is not None:
            yield Fact(
                f"{base}/length",
                "",
                f"length to {key}",
                feet(feeder.length_ft),
                key,
                feeder.length_ft,
                (Written(feed, ROUTE), item),
            )
        if feeder.conductors is not None:
            yield Fact(
                f"{base}/conductors",
                "Conductors",
                label,
                conductors_shown(feeder.conductors),
                key,
                feeder.conductors.ampacity_a,
                parents,
            )
        if feeder.device is not None:
            yield from _feeder_device(naming, feeder, base, label, parents)
        yield from _drop_facts(naming, feeder, base, label)


def _feeder_device(
    naming: Naming, feeder: FeederResult, base: str, label: str, parents: tuple[str | Written, ...]
) -> Iterator[Fact]:
    device = feeder.device
    assert device is not None
    own = tuple(each for each in parents if each != f"{base}/device")
    source = naming.tag(feeder.source)
    protects = f"device of the {label}"
    yield Fact(
        f"{base}/device",
        "Overcurrent devices",
        protects,
        device_shown(device),
        naming.tag(feeder.id),
        device.protects_a,
        own,
    )
    written = Written(f"{naming.tag(feeder.target)}/feed/{naming.tag(feeder.id)}", frozenset({"device", "source"}))
    yield Fact(
        f"{base}/interrupting",
        "Ratings",
        f"interrupting rating, {label}",
        kiloamperes(device.interrupting_a),
        naming.tag(feeder.id),
        device.interrupting_a,
        (written, f"fault/{source}", f"gear/{source}/sccr", *own),
        rating=True,
    )


def _drop_facts(naming: Naming, feeder: FeederResult, base: str, label: str) -> Iterator[Fact]:
    key, target, source = naming.tag(feeder.id), naming.tag(feeder.target), naming.tag(feeder.source)
    feed = Written(f"{target}/feed/{key}", ROUTE)
    above = tuple(f"feeder/{naming.tag(edge)}/drop" for edge in naming.side.network.incoming.get(feeder.source, ()))
    yield Fact(
        f"{base}/drop",
        "Voltage drop",
        f"drop at the end of the {label}",
        percent(feeder.cumulative_drop_pct),
        key,
        feeder.cumulative_drop_pct,
        (feed, f"{base}/conductors", f"load/{target}", *above, f"load/{source}", Written(target), *_SETTINGS),
        least=0.25,
    )


def _fault_facts(naming: Naming) -> Iterator[Fact]:
    network = naming.side.network
    for name in network.nodes:
        tag = naming.tag(name)
        fault = governing_fault(naming.side.results, name)
        parents: list[str | Written] = [
            Written(f"{tag}/fact"),
            f"transformer/{tag}/kva",
            f"transformer/{tag}/impedance",
        ]
        for edge_id in network.incoming.get(name, ()):
            edge = network.edges[edge_id]
            key = naming.tag(edge.id)
            parents += [
                Written(f"{tag}/feed/{key}", ROUTE),
                f"feeder/{key}/conductors",
                f"fault/{naming.tag(edge.source)}",
            ]
        parents += [
            f"load/{tag}",
            Written(tag),
            Written("tie"),
            Written("state"),
            Written("project/code"),
            Written("defaults"),
        ]
        number = fault.greatest_a if fault is not None else None
        yield Fact(
            f"fault/{tag}",
            "Fault current",
            f"fault current at {tag}",
            kiloamperes(number),
            tag,
            number,
            tuple(parents),
            least=(number or 0.0) * 0.02,
        )
