"""`ConnectedLoad`: one load line as the load calculation sees it, with its phases once it has a place."""

from __future__ import annotations

from dataclasses import dataclass

from fedfrom.formulas.load_phases import NOTHING, PhaseLoad
from fedfrom.model.items import Status
from fedfrom.source import Span

DWELLING_LIGHTING = "dwelling lighting"
SMALL_APPLIANCE = "small-appliance"
LAUNDRY = "laundry"
MEASURED = "existing (measured)"
DWELLING_GROUP = (DWELLING_LIGHTING, SMALL_APPLIANCE, LAUNDRY)


@dataclass(frozen=True, slots=True)
class ConnectedLoad:
    """One load line (or one part of a `circuit`, or what a `dwelling` line implies).

    `va` is all its circuits together, None where a fact is missing (`missing` says which); `count` the pieces.
    `on_phases` VA by conductor in the phases of its own gear; `even_on` the same as the code calculates it: the
    general loads of a dwelling unit evenly (210.11(B)). `continuous` at feeders;
    `included_125` when its unit load already contains the 125 % of continuous load; `continuous_written` where the
    text says continuous. `motor` takes part in the largest-motor rule; `contributes` feeds a fault (a motor without a
    drive). `nonlinear` by its kind or the text, `harmonic` where the text says so. `momentary_va`, `longtime_va` of
    x-ray equipment, each piece. `cord` when the load has two cords. `dwelling` the tag of the dwelling unit that it
    belongs to, "" elsewhere. `effective_factor` the share of a welder's or intermittent motor's current that counts.
    `by_floor` for receptacles by floor area, `floor_va` the least that counted ones come to by it (220.43).
    `care_category` of patient care receptacles, 0 elsewhere. `simultaneous` where the text says so.
    """

    key: str
    gear: str
    tag: str
    name: str
    kind: str
    status: Status
    count: int
    va: float | None
    basis: str
    clause: str
    power_factor: float
    on_phases: PhaseLoad = NOTHING
    even_on: PhaseLoad = NOTHING
    continuous: bool = False
    included_125: bool = False
    to_neutral: bool = True
    nonlinear: bool = False
    motor: bool = False
    contributes: bool = False
    occupancy: str = ""
    area_ft2: float = 0.0
    dwelling: str = ""
    user_factor: float | None = None
    user_reason: str = ""
    managed: str = ""
    managed_va: float = 0.0
    cord: bool = False
    momentary_va: float = 0.0
    longtime_va: float = 0.0
    effective_factor: float = 1.0
    by_floor: bool = False
    floor_va: float = 0.0
    care_category: int = 0
    harmonic: bool = False
    continuous_written: bool = False
    simultaneous: bool = False
    resistance_welder: bool = False
    missing: str = ""
    span: Span | None = None

    @property
    def each_va(self) -> float:
        """VA of one piece; 0 where not known."""
        return (self.va or 0.0) / max(self.count, 1)
