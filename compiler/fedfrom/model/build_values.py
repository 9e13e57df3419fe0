"""Lowered runs -> typed values with their provenance, devices, conductors and routes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from fedfrom.findings import Finding
from fedfrom.findings.finding import Label
from fedfrom.model.items import Conductors, Device, Origin, RouteRun, Value, Wire
from fedfrom.model.lower_phrases import error
from fedfrom.model.lowered import LoweredRun
from fedfrom.quantity import Quantity

_ARC = "arc reduction"
# The names of the runs that describe a device; the others of a feed describe length, conductors and route.
DEVICE_RUNS = frozenset({"fuse", "frame", "trip functions", "device feature", "interrupting", _ARC})
FUSE_WORDS = frozenset({"time-delay", "non-time-delay"})  # features that only a fuse has
CONDUCTOR_RUNS = frozenset({"wire", "sets", "phase", "neutral", "ground", "raceway", "impedance"})


def find(runs: Sequence[LoweredRun], name: str) -> LoweredRun | None:
    """The first run of this name."""
    return next((run for run in runs if run.entry.name == name), None)


def number(run: LoweredRun | None, part: str) -> Value[float] | None:
    """A quantity of a run in base units, with its provenance; None where the run or the part is not there."""
    if run is None or not isinstance(run.values.get(part), Quantity):
        return None
    return _value(run, part, float(run.values[part]))  # type: ignore[arg-type]


def word(run: LoweredRun | None, part: str) -> Value[str] | None:
    """A word or text of a run, with its provenance."""
    if run is None or not isinstance(run.values.get(part), str):
        return None
    return _value(run, part, str(run.values[part]))


def whole(run: LoweredRun | None, part: str) -> Value[int] | None:
    """A whole number of a run, with its provenance."""
    value = run.values.get(part) if run is not None else None
    if run is None or not isinstance(value, int):
        return None
    return _value(run, part, value)


def _value(run: LoweredRun, part: str, value: object) -> Value:  # type: ignore[type-arg]
    span = run.spans.get(part, run.span)
    return Value(value, Origin.WRITTEN, span, run.modifiers.assumed, run.modifiers.reason)


# --- devices -------------------------------------------------------------------------------------------------------


def build_device(runs: Sequence[LoweredRun], subject: str, findings: list[Finding]) -> Device | None:
    """The device that the runs describe, or None where they describe none.

    Trip functions or features without a kind word mean a breaker; a fuse alone means a fused switch.
    """
    kinds = [run for run in runs if run.entry.kind == "device"]
    about = [run for run in runs if run.entry.name in DEVICE_RUNS]
    if len(kinds) > 1:
        findings.append(_two_devices(kinds, subject))
    if not kinds and not about:
        return None
    first = kinds[0] if kinds else about[0]
    fuse = find(runs, "fuse")
    kind = first.entry.name if kinds else ("fused switch" if fuse else "breaker")
    features = [str(run.values["feature"]) for run in (*kinds, *about) if "feature" in run.values]
    functions = word(first, "functions") or word(find(runs, "trip functions"), "functions")
    means = word(find(runs, _ARC), "means")
    if fuse is not None and kind in {"breaker", "switch"}:
        message = f"a {kind} has no fuse"
        advice = "write `fused switch 400 A, fuse 350 A class J`"
        findings.append(error("device-mismatch", subject, message, fuse.span, "", advice))
    delay = next((word for word in features if word in FUSE_WORDS), None)
    if delay is not None and kind in {"breaker", "switch"}:
        message = f"a {kind} has no fuse that could be {delay}"
        advice = "take it out, or write `fused switch 60 A, fuse 40 A class J`"
        findings.append(error("device-mismatch", subject, message, first.span, "", advice))
    if kind != "breaker" and functions is not None and functions.span is not None:
        message = f"a {kind} has no trip functions"
        advice = "take them out, or write `breaker`"
        findings.append(error("device-mismatch", subject, message, functions.span, "", advice))
    return Device(
        kind=kind,
        span=first.span,
        rating_a=number(first, "rating") if kinds else None,
        frame_a=number(find(runs, "frame"), "frame"),
        fuse_a=number(fuse, "fuse"),
        fuse_class=str(fuse.values.get("class", "")) if fuse else "",
        functions=functions.value if functions else "",
        options=frozenset(features),
        interrupting_a=number(find(runs, "interrupting"), "interrupting"),
        arc_reduction=means.value if means else "",
        status=first.status,
        by=first.modifiers.by,
    )


def _two_devices(kinds: Sequence[LoweredRun], subject: str) -> Finding:
    message = f"two devices in one place: `{kinds[0].entry.name}` and `{kinds[1].entry.name}`"
    advice = "keep one; a device at the load end is the load's `disconnect` or the gear's `main`"
    finding = error("written-twice", subject, message, kinds[1].span, "the second", advice)
    return replace(finding, related=(Label(kinds[0].span, "the first"),))


# --- conductors and route ------------------------------------------------------------------------------------------


def build_wire(run: LoweredRun | None) -> Wire:
    """`wire …` as written; each part None where it is left out."""
    if run is None:
        return Wire()
    return Wire(word(run, "material"), word(run, "insulation"), word(run, "raceway"), run.modifiers.by)


def build_conductors(runs: Sequence[LoweredRun], standard: Wire) -> Conductors:
    """Conductors as written, with the wire of the project's defaults where none is written."""
    raceway = find(runs, "raceway")
    wire = filled(build_wire(find(runs, "wire")), standard)
    kind = word(raceway, "raceway")
    if kind is not None:
        wire = replace(wire, raceway_kind=kind)
    return Conductors(
        wire=wire,
        sets=whole(find(runs, "sets"), "sets"),
        phase=word(find(runs, "phase"), "size"),
        neutral=_neutral(find(runs, "neutral")),
        ground=_size_or_none(find(runs, "ground")),
        raceway=word(raceway, "trade"),
        impedance=_stated_impedance(find(runs, "impedance")),
    )


def _stated_impedance(run: LoweredRun | None) -> Value[tuple[float, float]] | None:
    """R and X as written, turned into ohm per 1000 ft; without `per` they are that already."""
    r, x, per = number(run, "r"), number(run, "x"), number(run, "length")
    if run is None or r is None or x is None:
        return None
    scale = 1000.0 / per.value if per is not None and per.value > 0 else 1.0
    return _value(run, "r", (r.value * scale, x.value * scale))


def filled(wire: Wire, standard: Wire) -> Wire:
    """`wire` with what it leaves out taken from `standard`, marked as a default."""

    def part(own: Value[str] | None, default: Value[str] | None) -> Value[str] | None:
        return own or (replace(default, origin=Origin.DEFAULT) if default else None)

    return Wire(
        part(wire.material, standard.material),
        part(wire.insulation, standard.insulation),
        part(wire.raceway_kind, standard.raceway_kind),
        wire.by or standard.by,
    )


def _size_or_none(run: LoweredRun | None) -> Value[str] | None:
    if run is None:
        return None
    return word(run, "size") or _value(run, "", "none")


def _neutral(run: LoweredRun | None) -> Value[str] | None:
    if run is None:
        return None
    percent = run.values.get("percent")
    if isinstance(percent, Quantity):
        return _value(run, "percent", f"{float(percent):g} %")
    return _size_or_none(run)


def build_runs(runs: Sequence[LoweredRun], standard: Wire) -> tuple[RouteRun, ...]:
    """The stretches of a route; one without a length that could be read is left out (its line is marked as broken)."""
    routes = []
    for run in runs:
        length = number(run, "length")
        if run.entry.name != "run" or length is None:
            continue
        kind = word(run, "raceway") or (
            replace(standard.raceway_kind, origin=Origin.DEFAULT) if standard.raceway_kind else None
        )
        where = str(run.values.get("where", ""))
        routes.append(RouteRun(length, kind, where, number(run, "ambient"), run.span))
    return tuple(routes)


def total_length(runs: Sequence[LoweredRun], routes: Sequence[RouteRun]) -> Value[float] | None:
    """The length written, or the sum of the stretches; None where a stretch has no length that could be read."""
    written = number(find(runs, "length"), "length")
    if written is not None or not routes:
        return written
    if len(routes) < sum(run.entry.name == "run" for run in runs):
        return None
    lengths = [route.length_ft for route in routes]
    span = routes[0].span.to(routes[-1].span) if routes[0].span.file == routes[-1].span.file else routes[0].span
    reason = next((length.reason for length in lengths if length.reason), "")
    return Value(sum(length.value for length in lengths), Origin.WRITTEN, span, any(v.assumed for v in lengths), reason)
