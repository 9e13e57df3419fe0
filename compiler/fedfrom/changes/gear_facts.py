"""The facts of gear, transformers, transfer switches, sources and ties."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TypeAlias

from fedfrom.changes.names import Naming
from fedfrom.changes.notation import amperes, conductors_shown, device_shown, kiloamperes, kva, wire
from fedfrom.changes.types import Fact, Written
from fedfrom.results.types import DeviceResult, GearResult, SourceResult, TransformerResult

Parents: TypeAlias = tuple[str | Written, ...]
_SETTINGS = (Written("defaults"), Written("project/code"))


def gear_facts(naming: Naming) -> Iterator[Fact]:
    """Class, bus, main, short-circuit rating, enclosure and size of every piece of gear."""
    for name, gear in naming.side.results.gear.items():
        tag = naming.tag(name)
        base, item = f"gear/{tag}", Written(tag)
        incoming = [naming.tag(each) for each in naming.side.network.incoming.get(name, ())]
        ahead = tuple(f"feeder/{each}/device" for each in incoming)
        above = [
            naming.tag(naming.side.network.edges[each].source) for each in naming.side.network.incoming.get(name, ())
        ]
        current = (*(f"feeder/{each}/current" for each in incoming), *(f"transformer/{each}/kva" for each in above))
        yield Fact(
            f"{base}/feeders",
            "",
            f"feeders from {tag}",
            _feeders(naming, name),
            tag,
            None,
            tuple(Written(f"{each}/feed") for each in _feeders(naming, name).split(", ")),
        )
        own: Parents = (Written(f"{tag}/main"), Written(f"{tag}/fact"))
        yield Fact(
            f"{base}/class",
            "Gear",
            f"{tag} class",
            gear.gear_class,
            tag,
            None,
            (
                Written(tag, frozenset({"kind"})),
                *own,
                f"{base}/bus",
                f"{base}/main",
                *ahead,
                f"fault/{tag}",
                f"load/{tag}",
                item,
                *_SETTINGS,
            ),
        )
        yield Fact(
            f"{base}/bus",
            "Gear",
            f"{tag} bus",
            _bus(gear),
            tag,
            gear.bus_a,
            (Written(f"{tag}/fact/bus"), f"{base}/main", *ahead, *current, f"load/{tag}", *own, item, *_SETTINGS),
            rating=True,
        )
        yield from _main(
            base,
            f"{tag} main",
            tag,
            gear.main,
            (*own, f"{base}/class", *current, Written(f"{tag}/feed"), f"load/{tag}", item, *_SETTINGS),
        )
        yield Fact(
            f"{base}/sccr",
            "Ratings",
            f"{tag} short-circuit rating",
            kiloamperes(gear.sccr_a),
            tag,
            gear.sccr_a,
            (Written(f"{tag}/fact/sccr"), f"fault/{tag}", *own, item, *_SETTINGS),
            rating=True,
        )
        yield from _housing(gear, tag, base)


def _bus(gear: GearResult) -> str:
    return f"{amperes(gear.bus_a)} {gear.bus_material}".strip()


def _feeders(naming: Naming, name: str) -> str:
    network = naming.side.network
    return ", ".join(naming.tag(network.edges[edge].target) for edge in network.outgoing.get(name, ()))


def _housing(gear: GearResult, tag: str, base: str) -> Iterator[Fact]:
    item, inside = Written(tag), (Written(f"{tag}/load"), Written(f"{tag}/spare"), Written(f"{tag}/space"))
    place = (Written(f"{tag}/fact"), f"{base}/class", item, Written("room"), *_SETTINGS)
    size = (f"{base}/feeders", *inside, f"{base}/class", f"{base}/main", Written("defaults/growth"), *place)
    yield Fact(
        f"{base}/enclosure",
        "Gear",
        f"{tag} enclosure",
        f"Type {gear.enclosure}" if gear.enclosure else "not known",
        tag,
        None,
        place,
    )
    if gear.sections:
        yield Fact(f"{base}/sections", "Gear", f"{tag} sections", str(len(gear.sections)), tag, None, size)
    if gear.positions_total:
        yield Fact(f"{base}/positions", "Gear", f"{tag} positions", str(gear.positions_total), tag, None, size)
    service = (Written(f"{tag}/electrode"), f"feeder/{tag}/conductors", f"{base}/main", *place)
    for name, value in (
        ("grounding electrode conductor", gear.grounding_electrode_conductor),
        ("main bonding jumper", gear.main_bonding_jumper),
    ):
        if value:
            yield Fact(f"{base}/{name}", "Grounding", f"{tag} {name}", wire(value), tag, None, service)


def _main(base: str, label: str, tag: str, device: DeviceResult | None, parents: Parents) -> Iterator[Fact]:
    yield Fact(
        f"{base}/main",
        "Overcurrent devices",
        label,
        device_shown(device),
        tag,
        device.protects_a if device is not None else None,
        parents,
    )
    if device is not None:
        yield Fact(
            f"{base}/main interrupting",
            "Ratings",
            f"interrupting rating, {label}",
            kiloamperes(device.interrupting_a),
            tag,
            device.interrupting_a,
            (f"fault/{tag}", f"gear/{tag}/sccr", *parents),
            rating=True,
        )


def equipment_facts(naming: Naming) -> Iterator[Fact]:
    """What is not gear: transformers, transfer switches and ups, sources, ties."""
    results = naming.side.results
    for name, transformer in results.transformers.items():
        yield from _transformer(naming.tag(name), transformer)
    for name, transfer in results.transfers.items():
        tag = naming.tag(name)
        own: Parents = (Written(f"{tag}/fact"), f"load/{tag}", Written(tag), Written(f"{tag}/feed"), *_SETTINGS)
        yield Fact(
            f"transfer/{tag}/rating",
            "Gear",
            f"{tag} rating",
            amperes(transfer.rating_a),
            tag,
            transfer.rating_a,
            own,
            rating=True,
        )
        yield Fact(
            f"transfer/{tag}/withstand",
            "Ratings",
            f"{tag} withstand and closing rating",
            kiloamperes(transfer.withstand_a),
            tag,
            transfer.withstand_a,
            (f"fault/{tag}", *own),
            rating=True,
        )
    for name, source in results.sources.items():
        yield from _source(naming.tag(name), source)
    for tie in results.ties.values():
        tag = naming.tag(tie.tag)
        own = (Written(f"tie/{tag}"), *(f"load/{naming.tag(end)}" for end in tie.ends), *_SETTINGS)
        yield Fact(
            f"tie/{tag}/device",
            "Overcurrent devices",
            f"tie {tag}",
            device_shown(tie.device),
            tag,
            tie.device.protects_a if tie.device is not None else None,
            own,
        )
        if tie.conductors is not None:
            yield Fact(
                f"tie/{tag}/conductors",
                "Conductors",
                f"tie {tag}",
                conductors_shown(tie.conductors),
                tag,
                tie.conductors.ampacity_a,
                (f"tie/{tag}/device", *own),
            )


def _transformer(tag: str, transformer: TransformerResult) -> Iterator[Fact]:
    base = f"transformer/{tag}"
    own: Parents = (Written(f"{tag}/fact"), f"load/{tag}", Written(tag), Written("defaults/growth"), *_SETTINGS)
    size = f"{transformer.kva:g} kVA" if transformer.kva is not None else "not known"
    yield Fact(f"{base}/kva", "Transformers", f"{tag} rating", size, tag, transformer.kva, own, rating=True)
    impedance = f"{transformer.impedance_pct:g} %" if transformer.impedance_pct is not None else "not known"
    yield Fact(f"{base}/impedance", "Transformers", f"{tag} impedance", impedance, tag, None, (f"{base}/kva", *own))
    systems = f"{_system(transformer.primary)} to {_system(transformer.secondary)}"
    yield Fact(f"{base}/systems", "Transformers", f"{tag} voltages", systems, tag, None, own)
    for name, value in (
        ("system bonding jumper", transformer.system_bonding_jumper),
        ("grounding electrode conductor", transformer.grounding_electrode_conductor),
    ):
        if value:
            yield Fact(
                f"{base}/{name}",
                "Grounding",
                f"{tag} {name}",
                wire(value),
                tag,
                None,
                (Written(f"{tag}/electrode"), f"{base}/kva", *own),
            )


def _system(system: object) -> str:
    return getattr(system, "literal", "not known")


def _source(tag: str, source: SourceResult) -> Iterator[Fact]:
    own: Parents = (Written(f"{tag}/fact"), Written(tag), f"load/{tag}", *_SETTINGS)
    yield Fact(f"source/{tag}/system", "Supply", f"{tag} voltage", _system(source.system), tag, None, own)
    yield Fact(
        f"source/{tag}/rating",
        "Supply",
        f"{tag} rating",
        source.rating_text or kva(source.rating_va),
        tag,
        source.rating_va,
        own,
    )
    if source.main is not None:
        yield from _main(f"source/{tag}", f"{tag} main", tag, source.main, (Written(f"{tag}/main"), *own))
