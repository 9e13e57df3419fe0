"""The facts of branch circuits, by load."""

from __future__ import annotations

from collections.abc import Iterator

from fedfrom.changes.names import Naming
from fedfrom.changes.notation import amperes, conductors_shown, device_shown, kiloamperes, percent
from fedfrom.changes.types import Fact, Written
from fedfrom.results.types import CircuitResult

_WIRING_DEFAULTS = (Written("defaults/wire"), Written("defaults/ambient"), Written("defaults/drop"))
_SETTINGS = (Written("defaults"), Written("project/code"))


def circuit_facts(naming: Naming) -> Iterator[Fact]:
    """Load, device, conductors, drop and position of every circuit; of feeders and spares only the position."""
    for name in naming.side.results.circuits:
        gear = naming.tag(name)
        for key, line, row in naming.circuits(name):
            base, written = f"circuit/{gear}/{key}", f"{gear}/load/{line}"
            if row.kind in ("load", "tap"):
                yield from _load_circuit(gear, base, written, row)
            if row.positions and row.kind != "space":
                yield _position(naming, gear, base, written, row)


def circuit_label(gear: str, row: CircuitResult) -> str:
    """A circuit for the reader: gear and the tag or name of what it feeds, not its number, which may change."""
    return f"{gear} {row.tag or (chr(34) + row.name + chr(34) if row.name else row.kind)}"


def _load_circuit(gear: str, base: str, written: str, row: CircuitResult) -> Iterator[Fact]:
    label, key = circuit_label(gear, row), row.key
    line, item = Written(written), Written(gear)
    yield Fact(f"{base}/load", "", f"{label} load", amperes(row.load_a), key, row.load_a, (line, item, *_SETTINGS))
    if row.device is not None:
        parents = (line, f"{base}/load", item, *_SETTINGS)
        yield Fact(
            f"{base}/device",
            "Overcurrent devices",
            f"device of {label}",
            device_shown(row.device),
            key,
            row.device.protects_a,
            parents,
        )
        yield Fact(
            f"{base}/interrupting",
            "Ratings",
            f"interrupting rating, {label}",
            kiloamperes(row.device.interrupting_a),
            key,
            row.device.interrupting_a,
            (Written(written, frozenset({"device"})), f"fault/{gear}", f"gear/{gear}/sccr", *parents),
            rating=True,
        )
    if row.conductors is not None:
        yield Fact(
            f"{base}/conductors",
            "Conductors",
            label,
            conductors_shown(row.conductors),
            key,
            row.conductors.ampacity_a,
            (
                line,
                f"{base}/device",
                f"{base}/load",
                f"feeder/{gear}/drop",
                f"feeder/{gear}/conductors",
                item,
                *_WIRING_DEFAULTS,
                *_SETTINGS,
            ),
        )
    if row.cumulative_drop_pct is not None:
        yield Fact(
            f"{base}/drop",
            "Voltage drop",
            f"drop at {label}",
            percent(row.cumulative_drop_pct),
            key,
            row.cumulative_drop_pct,
            (line, f"{base}/conductors", f"{base}/load", f"feeder/{gear}/drop", item, *_SETTINGS),
            least=0.5,
        )


def _position(naming: Naming, gear: str, base: str, written: str, row: CircuitResult) -> Fact:
    """Where a circuit stands: what is added, taken out or made wider before it can move it."""
    parents: list[str | Written] = [Written(written, frozenset({"positions"})), f"{base}/device", Written(written)]
    parents += [Written(f"{gear}/{kind}") for kind in ("load", "spare", "space")]
    if row.kind == "feeder":
        feeder = naming.tag(row.feeder_id)
        parents += [Written(f"{feeder.partition('.')[0]}/feed"), f"feeder/{feeder}/device"]
    parents += [f"gear/{gear}/feeders", Written("defaults/growth"), Written(gear), *_SETTINGS]
    label = circuit_label(gear, row) if row.kind != "feeder" else f"{gear} feeder to {naming.tag(row.feeder_id)}"
    shown = "position " + ",".join(str(each) for each in row.positions)
    return Fact(f"{base}/position", "Circuit positions", label, shown, row.key, None, tuple(parents))
