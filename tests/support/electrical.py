"""A `Work` by hand with feeders of known impedance: for tests of drop, fault, ratings and gear."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction

from tests.support.models import model, span

from fedfrom.graph.build import build_network
from fedfrom.graph.states import plan_states
from fedfrom.model.items import Fact, Item, Model, Origin
from fedfrom.passes.work import Work
from fedfrom.quantity import Quantity
from fedfrom.results.types import CircuitResult, ConductorResult, DeviceResult, FeederResult
from fedfrom.tables import load_edition


def quantity(text: str) -> Quantity:
    """`"38 kA"` as a quantity; a bare number has no unit."""
    number, _, unit = text.partition(" ")
    return Quantity.of(Fraction(number), unit)


def fact(name: str, values: Mapping[str, object], assumed: bool = False, **options: Mapping[str, object]) -> Fact:
    """A property line; texts that start with a digit become quantities; `xr={"ratio": "8"}` is the option `X/R`."""
    named = {"X/R" if key == "xr" else key.replace("_", "-"): value for key, value in options.items()}
    return Fact(
        name,
        {key: _value(value) for key, value in values.items()},
        {key: {part: _value(value) for part, value in parts.items()} for key, parts in named.items()},
        span(),
        assumed=assumed,
    )


def _value(value: object) -> object:
    return quantity(value) if isinstance(value, str) and value[:1].isdigit() else value


def conductors(r: float | None, x: float | None, sets: int = 1, size: str = "500") -> ConductorResult:
    """Conductors of which only the impedance matters: it is a stated one, which no temperature corrects."""
    return ConductorResult(
        sets, 3, size, size, "3", "equipment grounding conductor", "Cu", "THHN/THWN-2", "EMT", "4",
        380.0 * sets, 75, 1.0, 1.0, 30.0, r, x, origins={"impedance": Origin.WRITTEN},
    )  # fmt: skip


def device(amperes: float, poles: int = 3, kind: str = "breaker", **fields: object) -> DeviceResult:
    """A device whose frame is its rating, if nothing else is said."""
    fields.setdefault("frame_a", amperes)
    return DeviceResult(kind, amperes, poles=poles, **fields)  # type: ignore[arg-type]


def feeder(
    source: str,
    target: str,
    length_ft: float | None,
    r: float | None,
    x: float | None,
    sets: int = 1,
    feeder_id: str = "",
    load_a: float | None = None,
    power_factor: float | None = 0.9,
    breaker: DeviceResult | None = None,
    **fields: object,
) -> FeederResult:
    """A feeder as the sizing passes leave it."""
    return FeederResult(
        id=feeder_id or target,
        source=source,
        target=target,
        verb="fed from",
        point="bus",
        kind="feeder",
        system=None,
        length_ft=length_ft,
        device=breaker,
        conductors=conductors(r, x, sets),
        design_a=load_a,
        load_a=load_a,
        power_factor=power_factor,
        span=span(),
        **fields,  # type: ignore[arg-type]
    )


def circuit(gear: str, number: int, **fields: object) -> CircuitResult:
    """One row of a schedule."""
    values: dict[str, object] = {
        "key": f"{gear}.{number}",
        "gear": gear,
        "kind": "load",
        "positions": (number,),
        "order": number,
        "poles": 1,
        "phases": "A",
        "name": "Load",
        "tag": "",
        "category": "equipment",
        "connected_va": None,
        "va_by_phase": (0.0, 0.0, 0.0),
        "load_a": None,
        "continuous": False,
        "device": None,
        "conductors": None,
        "length_ft": None,
        "span": span(),
    }
    values.update(fields)
    return CircuitResult(**values)  # type: ignore[arg-type]


def work_of(
    *items: Item,
    feeders: Iterable[FeederResult] = (),
    code: str = "NEC 2023",
    whole: Model | None = None,
    **fields: object,
) -> Work:
    """A work of these items; network and states are the real ones."""
    whole = whole or model(*items, code=code)
    network, _ = build_network(whole)
    plan, _ = plan_states(whole, network)
    return Work(
        whole,
        network,
        plan,
        load_edition(whole.project.code.value),
        feeders={entry.id: entry for entry in feeders},
        **fields,  # type: ignore[arg-type]
    )
