"""Devices of bus ties, and conductors of cable ties."""

from __future__ import annotations

from collections.abc import Mapping

from fedfrom.model.items import Tie
from fedfrom.passes.sizing_conductors import ConductorRequest
from fedfrom.passes.sizing_devices import DeviceRequest, is_fused, protecting_rating, size_device
from fedfrom.passes.sizing_sets import size_conductors
from fedfrom.passes.sizing_settings import wire_settings
from fedfrom.passes.sizing_trace import conductor_derivation, device_derivation
from fedfrom.passes.wiring_trace import wiring_derivations
from fedfrom.passes.work import Work
from fedfrom.results.derivation import Derivation, Step
from fedfrom.results.notation import amperes_text
from fedfrom.results.types import ConductorResult, DeviceResult, TieResult


def size_ties(work: Work) -> tuple[dict[str, TieResult], Mapping[str, Derivation]]:
    """Every tie. A device left open takes the greater of the two mains (a tie carries what either main may carry)."""
    ties: dict[str, TieResult] = {}
    derivations: dict[str, Derivation] = {}
    for tie in work.model.ties:
        mains = [protecting_rating(work.mains.get(end)) for end in tie.ends]
        known = [rating for rating in mains if rating is not None]
        needed = max(known) if known else None
        node = work.network.nodes.get(tie.ends[0])
        system = node.system if node else None
        poles = 3 if system is None or system.phases == 3 else 2
        device = None
        if tie.device is not None or needed is not None:
            device = size_device(work.edition, DeviceRequest(tie.device, needed, poles, status=tie.status))
        step = Step("as the greater main", amperes_text(needed), amperes_text(needed), "common practice, no source")
        derivation = device_derivation(work.edition, tie.tag, device, (step,), title="tie device")
        if derivation is not None:
            derivations[derivation.subject] = derivation
        conductors, explained = _cable(work, tie, device, poles)
        derivations.update({each.subject: each for each in explained})
        length = tie.length_ft.value if tie.length_ft else None
        ties[tie.tag] = TieResult(tie.tag, tie.ends, device, tie.normally_open, length, conductors, tie.status)
    return ties, derivations


def _cable(
    work: Work, tie: Tie, device: DeviceResult | None, poles: int
) -> tuple[ConductorResult | None, tuple[Derivation, ...]]:
    rating = protecting_rating(device)
    if tie.length_ft is None or rating is None:
        return None, ()
    node = work.network.nodes.get(tie.ends[0])
    system = node.system if node else None
    request = ConductorRequest(
        written=tie.conductors,
        settings=wire_settings(work.model, work.edition, tie.conductors),
        ungrounded=poles,
        phases=poles if poles == 3 else 1,
        wye=system is not None and system.kind == "wye",
        has_neutral=system is not None and system.has_neutral,
        terminal_a=rating,
        carried_a=rating,
        device_a=rating,
        fuse=is_fused(device),
        ground_device_a=rating,
        by=tie.conductors.wire.by,
    )
    sized = size_conductors(work.edition, request)
    if sized is None:
        return None, ()
    step = Step(
        "I = rating of the tie device", amperes_text(rating), amperes_text(rating), work.edition.clause("240.4")
    )
    phase = conductor_derivation(work.edition, f"{tie.tag}.phase", sized, (step,))
    return sized.result, (phase, *wiring_derivations(work.edition, tie.tag, sized))
