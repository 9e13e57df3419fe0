"""How a value came about, in a form that reads like a neat hand calculation."""

from __future__ import annotations

from dataclasses import dataclass

from fedfrom.model.items import Origin
from fedfrom.source import Span


@dataclass(frozen=True, slots=True)
class Input:
    """One input: its symbol ("I"), name ("demand current"), value with unit as text ("312.4 A"), where it is from."""

    symbol: str
    name: str
    value: str
    origin: Origin = Origin.CHOSEN
    span: Span | None = None
    source: str = ""


@dataclass(frozen=True, slots=True)
class Step:
    """One line of the calculation: formula in symbols, the same with numbers, the result with its unit, the clause."""

    formula: str
    numbers: str
    result: str
    clause: str = ""


@dataclass(frozen=True, slots=True)
class Rejected:
    """An alternative that was not taken, and the fact that ruled it out."""

    option: str
    reason: str


@dataclass(frozen=True, slots=True)
class Derivation:
    """A value's whole history. `subject`: "DP1.feeder.phase", "DP1.class", "LP1.3.device", "MSB.fault" ….

    `origin` says whether the value was written (then the steps check it), a default, or chosen. `state` names the
    operating state that governed ("" where it does not matter).
    """

    subject: str
    title: str
    value: str
    origin: Origin
    inputs: tuple[Input, ...] = ()
    steps: tuple[Step, ...] = ()
    rounding: str = ""
    clause: str = ""
    rejected: tuple[Rejected, ...] = ()
    state: str = ""
    span: Span | None = None
