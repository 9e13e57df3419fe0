"""One run of conductors as the drop formulas take it."""

from __future__ import annotations

from dataclasses import dataclass

from fedfrom.formulas.three_wire_drop import LostVoltage, ThreeWireLoad, three_wire_drop, worst_drop
from fedfrom.formulas.voltage_drop import DropError, percent_drop, run_impedance
from fedfrom.results.types import ConductorResult


@dataclass(frozen=True, slots=True)
class Run:
    """One run as the formula takes it. `volts` between the conductors, `phases` 3 or 1 (two conductors).

    `three_wire`: the loads of a single-phase run with a neutral of `neutral_ohm_per_kft` (R, X), which then decide.
    """

    volts: float
    phases: int
    current_a: float
    length_ft: float
    conductors: ConductorResult
    power_factor: float
    three_wire: ThreeWireLoad | None = None
    neutral_ohm_per_kft: tuple[float, float] | None = None

    def pairs(self) -> tuple[LostVoltage, ...]:
        """What each loaded pair of a three-wire run loses; () for other runs. Raises DropError."""
        r, x = self.conductors.r_ohm_per_kft, self.conductors.x_ohm_per_kft
        if self.three_wire is None or r is None or x is None:
            return ()
        line = run_impedance(self.length_ft, r, x, self.conductors.sets)
        back = self.neutral_ohm_per_kft or (r, x)
        neutral = run_impedance(self.length_ft, *back, self.conductors.sets)
        return three_wire_drop(self.three_wire, self.power_factor, line, neutral)

    def drop(self) -> tuple[float, float] | None:
        """(V, percent), None where the conductors have no impedance in the tables or cannot carry the load at all."""
        r, x = self.conductors.r_ohm_per_kft, self.conductors.x_ohm_per_kft
        if self.length_ft == 0 or self.current_a == 0:
            return 0.0, 0.0
        if r is None or x is None:
            return None
        try:
            if self.three_wire is not None:
                worst = worst_drop(self.pairs())
                return (worst.lost_v, worst.percent) if worst is not None else (0.0, 0.0)
            return percent_drop(
                self.volts, self.phases, self.current_a, self.length_ft, r, x, self.power_factor, self.conductors.sets
            )
        except DropError:
            return None
