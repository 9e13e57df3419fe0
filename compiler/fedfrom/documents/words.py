"""Words and abbreviations of the written documents, in one place; every abbreviation stands in the legend."""

from __future__ import annotations

from fedfrom.model.items import Origin, Status
from fedfrom.quantity import VoltageSystem
from fedfrom.results.types import DeviceResult, GearResult

# Load kinds of the language -> what the schedules print.
CATEGORY_MARKS = {
    "lighting": "LTG",
    "receptacles": "RECPT",
    "motor": "MTR",
    "hvac": "HVAC",
    "heating": "HTG",
    "cooling": "CLG",
    "kitchen": "KIT",
    "equipment": "EQPT",
    "ev-charger": "EVSE",
    "water-heater": "WTR HTR",
    "elevator": "ELEV",
    "welder": "WELD",
    "range": "RANGE",
    "dryer": "DRYER",
    "appliance": "APPL",
    "sign": "SIGN",
    "show-window": "SHOW WDW",
    "track": "TRACK",
    "x-ray": "X-RAY",
    "mobile-home": "MOB HOME",
    "rv-site": "RV SITE",
    "shore-power": "SHORE PWR",
    "dwelling lighting": "DW LTG",
    "small-appliance": "SM APPL",
    "laundry": "LDRY",
}

STATUS_MARKS = {
    Status.NEW: "",
    Status.EXISTING: "EXIST",
    Status.RELOCATED: "RELOC",
    Status.FUTURE: "FUTURE",
    Status.DEMOLISH: "DEMO",
}

ORIGIN_WORDS = {Origin.WRITTEN: "as written", Origin.DEFAULT: "default", Origin.CHOSEN: "chosen"}

LEGEND: tuple[tuple[str, str], ...] = (
    ("A, kA", "amperes, kiloamperes (rms symmetrical for fault currents)"),
    ("AF / AT", "ampere frame / ampere trip"),
    ("AL, CU", "aluminum, copper"),
    ("APPL", "appliance"),
    ("ARC RED.", "means of arc-energy reduction"),
    ("CLG, HTG", "cooling, heating"),
    ("CONT", "continuous load (three hours or more)"),
    ("DEMAND", "load after the demand factors shown, recomputed at each node"),
    ("DESIGN A", "noncontinuous current plus 125 % of continuous current"),
    ("DROP", "voltage drop from the source to the load end, percent of nominal"),
    ("DW LTG", "dwelling lighting and receptacles by area"),
    ("ELEV", "elevator"),
    ("EO", "electrical operator"),
    ("EQPT", "equipment"),
    ("EVSE", "electric-vehicle charging"),
    ("EXIST, RELOC, FUTURE, DEMO", "existing, relocated, future, to be removed"),
    ("FDR", "feeder to other gear or a transformer; its loads stand there"),
    ("FT", "one-way length, feet"),
    ("G, N, SSBJ", "equipment ground, neutral, supply-side bonding jumper"),
    ("KIT", "kitchen equipment"),
    ("L, S, I, G", "long-time, short-time, instantaneous, ground-fault trip"),
    ("LDRY", "laundry circuit of a dwelling"),
    ("LTG", "lighting"),
    ("MCA, MOCP", "minimum circuit ampacity, maximum overcurrent protection (nameplate)"),
    ("MOB HOME", "lot of a park of mobile homes"),
    ("MTR", "motor"),
    ("MW", "multiwire branch circuit, common disconnect"),
    ("N/K", "NOT KNOWN: a fact is missing, see the findings"),
    ("NONCO", "noncoincident load"),
    ("OPEN", "position without a device, filler plate"),
    ("P", "poles"),
    ("RECPT", "receptacles"),
    ("RV SITE", "site for recreational vehicles"),
    ("SHORE PWR", "shore power receptacle"),
    ("SHOW WDW", "show window"),
    ("SM APPL", "small-appliance circuit of a dwelling"),
    ("SPACE", "place for a device, no device"),
    ("SPARE", "device without a load"),
    ("ST", "shunt trip"),
    ("SW", "switch"),
    ("WELD", "welder"),
    ("WTR HTR", "water heater"),
)

CAUTION_TEXT = "For review by a licensed engineer. The adopted code and the authority having jurisdiction govern."
CAUTION = CAUTION_TEXT.upper()


def category_mark(category: str) -> str:
    """The abbreviation of a load category; a mixed one part by part; an unknown word in capitals."""
    parts = [part.strip() for part in category.replace("+", ",").split(",") if part.strip()]
    return ", ".join(CATEGORY_MARKS.get(part, part.upper()) for part in parts)


def system_text(system: VoltageSystem | None) -> str:
    """ "480Y/277 V, 3 PHASE, 4 WIRE"; "NOT KNOWN" for None."""
    if system is None:
        return "NOT KNOWN"
    kind = "DC" if system.is_dc else f"{system.phases} PHASE"
    words = [system.literal] if system.is_dc else [system.literal, kind]
    return ", ".join([*words, f"{system.wires} WIRE"])


def mains_text(gear: GearResult) -> str:
    """What stands under MAINS: the main device, lugs only, or not known."""
    if gear.main is not None:
        return device_words(gear.main)
    return "LUGS ONLY" if gear.main_lugs else "NOT KNOWN"


def device_words(device: DeviceResult) -> str:
    """A device in words: "BREAKER, 600 AF / 600 AT, 3P, LSI"."""
    size = f"{device.rating_a:g} A"
    if device.fuse_a is not None:
        fuse_class = f" CLASS {device.fuse_class}" if device.fuse_class else ""
        size = f"{device.rating_a:g} A SW / {device.fuse_a:g} A FUSE{fuse_class}"
    elif device.frame_a is not None and device.kind == "breaker":
        size = f"{device.frame_a:g} AF / {device.rating_a:g} AT"
    parts = [device.kind.upper(), size, f"{device.poles}P", device.functions]
    return ", ".join(part for part in parts if part)


def enclosure_text(enclosure: str) -> str:
    """ "Type 3R"; the results may hold the bare type. "" where it is not known."""
    if not enclosure or enclosure.lower().startswith("type"):
        return enclosure
    return f"Type {enclosure}"


def words_of(items: tuple[str, ...]) -> str:
    """ "a", "a and b", "a, b and c"."""
    if len(items) < 2:
        return "".join(items)
    return f"{', '.join(items[:-1])} and {items[-1]}"
