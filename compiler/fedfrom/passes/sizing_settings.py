"""What the project states, or practice takes, for wire, terminals and ambient: resolved once for a feed or a load."""

from __future__ import annotations

from dataclasses import dataclass

from fedfrom.model.fact_reading import words
from fedfrom.model.items import Conductors, Fact, Model, Origin, RouteRun, Value
from fedfrom.quantity import Dimension
from fedfrom.tables import Edition
from fedfrom.tables.lookup import choice

WET_WORDS = frozenset({"underground", "outdoor", "outdoors", "roof", "wet", "in slab", "slab"})


@dataclass(frozen=True, slots=True)
class WireSettings:
    """Material ("Cu", "Al"), insulation, raceway kind, ambient and terminal temperature in C, each with its origin."""

    material: Value[str]
    insulation: Value[str]
    raceway_kind: Value[str]
    ambient_c: Value[float]
    terminal_c: Value[float]
    wet: bool


def terminal_temperature(model: Model, edition: Edition) -> Value[float]:
    """What device terminals are listed for, in C: `defaults { terminals … }`, else 75 C (common practice)."""
    written = model.defaults.facts.amount("terminals", dimension=Dimension.TEMPERATURE)
    if written is not None:
        return written
    return Value(float(choice(edition, "terminal_temperature")), Origin.DEFAULT)


def wire_settings(
    model: Model,
    edition: Edition,
    conductors: Conductors,
    ambient_c: Value[float] | None = None,
    runs: tuple[RouteRun, ...] = (),
) -> WireSettings:
    """The settings of one feed or load: what is written there, else the project's defaults, else practice."""
    own, default = conductors.wire, model.defaults.wire
    kind = own.raceway_kind or _longest_run_kind(runs) or default.raceway_kind
    return WireSettings(
        material=own.material or default.material or _practice(edition, "default_material"),
        insulation=own.insulation or default.insulation or _practice(edition, "default_insulation"),
        raceway_kind=kind or _practice(edition, "default_raceway"),
        ambient_c=_hottest(ambient_c or model.defaults.ambient_c, runs),
        terminal_c=terminal_temperature(model, edition),
        wet=any(word in run.environment.lower() for run in runs for word in sorted(WET_WORDS)),
    )


def ambient_of(fact: Fact | None) -> Value[float] | None:
    """The temperature that an `ambient` fact states, or None."""
    if fact is None:
        return None
    for value in fact.values.values():
        if getattr(value, "dimension", None) is Dimension.TEMPERATURE:
            return Value(float(value), fact.origin, fact.span, fact.assumed, fact.reason)  # type: ignore[arg-type]
    return None


def is_wet(fact: Fact | None) -> bool:
    """Whether a place fact names a wet location (NEC Article 100 counts raceways outdoors as wet)."""
    return any(word.lower() in WET_WORDS for word in words(fact))


def _practice(edition: Edition, key: str) -> Value[str]:
    return Value(choice(edition, key), Origin.DEFAULT)


def _longest_run_kind(runs: tuple[RouteRun, ...]) -> Value[str] | None:
    named = [run for run in runs if run.raceway_kind is not None]
    return max(named, key=lambda run: run.length_ft.value).raceway_kind if named else None


def _hottest(ambient: Value[float], runs: tuple[RouteRun, ...]) -> Value[float]:
    """The hottest stretch governs the whole run (NEC 310.14(A)(2), the lesser ampacity, without its exception)."""
    given = [run.ambient_c for run in runs if run.ambient_c is not None]
    return max((ambient, *given), key=lambda value: value.value)
