"""`plan_pins`: chosen values written into the texts of a design, each at its one home. Nothing is written to disk."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from difflib import get_close_matches

from fedfrom.editing.formatting import format_text
from fedfrom.editing.pin_edits import Edit, apply, edits_for
from fedfrom.editing.pin_places import Places
from fedfrom.editing.pin_types import Candidate, How, Pinned, Reach, Unpinned
from fedfrom.editing.pin_values import candidates
from fedfrom.model.items import Model
from fedfrom.results.types import Results
from fedfrom.source import SourceFile
from fedfrom.syntax.tree import Line


@dataclass(frozen=True, slots=True)
class PinPlan:
    """`texts`: the new text of each file that changes. `pinned`, `already` (with where they stand), `unpinned`.

    `unknown`: subjects that name nothing, with near misses.
    """

    texts: Mapping[str, str]
    pinned: tuple[Pinned, ...] = ()
    already: tuple[Pinned, ...] = ()
    unpinned: tuple[Unpinned, ...] = ()
    apart: tuple[Candidate, ...] = ()
    unknown: Mapping[str, tuple[str, ...]] | None = None


def plan_pins(model: Model, results: Results, files: Mapping[str, SourceFile], subjects: Sequence[str]) -> PinPlan:
    """The texts with the values that `subjects` name: "LP1", "LP1.bus", "LP1.feeder", "LP1.3", "LP1.3.device".

    A text that was in the canonical layout is so again; any other keeps its layout.
    """
    known = candidates(model, results)
    unknown: dict[str, tuple[str, ...]] = {}
    asked: list[Candidate] = []
    for subject in subjects:
        found = _asked(subject, known, model)
        if not found and subject not in model.items:
            unknown[subject] = _close(subject, known, model)
        asked += [candidate for candidate in found if candidate not in asked]
    if unknown:
        return PinPlan({}, unknown=unknown)
    places = Places(files)
    here: list[Candidate] = []
    apart: list[Candidate] = []
    already: list[Pinned] = []
    unpinned: list[Unpinned] = []
    for candidate in asked:
        if candidate.written is not None:
            already.append(Pinned(candidate.subject, candidate.words, candidate.written))
        elif not candidate.words or candidate.home is None:
            unpinned.append(Unpinned(candidate.subject, candidate.reason))
        elif reason := places.why_not_here(candidate.home):
            unpinned.append(Unpinned(candidate.subject, reason))
            if not any(candidate.subject in other.shares for other in apart):
                apart.append(candidate)
        elif not any(candidate.subject in other.shares for other in here):
            here.append(candidate)
    pinned = tuple(_pinned(candidate) for candidate in here)
    texts = _new_texts(here, places)
    return PinPlan(texts, pinned, tuple(already), tuple(unpinned), tuple(apart))


# --- what is asked for -----------------------------------------------------------------------------------------------


def _asked(subject: str, known: Sequence[Candidate], model: Model) -> list[Candidate]:
    """The candidates that a subject names; an item's tag names what is chosen for it, not each circuit's wire."""
    subject = subject.removesuffix(".kva") + ".rating" if subject.endswith(".kva") else subject
    tag, _, rest = subject.partition(".")
    if rest in ("positions", "circuits"):
        of_rows = [c for c in known if _row_of(c, tag)]
        return [
            c for c in of_rows if c.reach is not Reach.NAME and (rest == "circuits" or c.subject.endswith("position"))
        ]
    exact = [candidate for candidate in known if candidate.subject == subject]
    if exact:
        return exact
    below = [candidate for candidate in known if candidate.subject.startswith(subject + ".")]
    is_item = subject in model.items or any(subject == tie.tag for tie in model.ties)
    allowed = {Reach.ITEM} if is_item else {Reach.ITEM, Reach.CIRCUIT}
    return [candidate for candidate in below if candidate.reach in allowed]


def _row_of(candidate: Candidate, tag: str) -> bool:
    parts = candidate.subject.split(".")
    return parts[0] == tag and len(parts) == 3 and parts[1].isdigit()


def _close(subject: str, known: Sequence[Candidate], model: Model) -> tuple[str, ...]:
    tag, _, rest = subject.partition(".")
    if tag in model.items and rest:
        own = [c.subject for c in known if c.subject.startswith(tag + ".") and not _row_of(c, tag)]
        return tuple(get_close_matches(subject, own, 3, 0.5) or own[:8])
    names = [*model.items, *(tie.tag for tie in model.ties)]
    return tuple(get_close_matches(tag, names, 3, 0.5))


# --- new texts -------------------------------------------------------------------------------------------------------


def _pinned(candidate: Candidate) -> Pinned:
    assert candidate.home is not None
    words = f"{candidate.words} {candidate.also}".strip() if candidate.how is How.POSITIONS else candidate.words
    return Pinned(candidate.subject, words, candidate.home.span)


def _new_texts(here: Sequence[Candidate], places: Places) -> dict[str, str]:
    by_line: dict[tuple[str, int], tuple[Line, list[Candidate]]] = {}
    for candidate in here:
        assert candidate.home is not None
        spot = places.spot(candidate.home.span)
        assert spot is not None
        key = (candidate.home.span.file, candidate.home.span.start)
        by_line.setdefault(key, (spot.line, []))[1].append(candidate)
    edits: dict[str, list[Edit]] = {}
    for (name, _), (line, wanted) in by_line.items():
        edits.setdefault(name, []).extend(edits_for(line, wanted, places.text(name)))
    return {name: _laid_out(places.files[name], apply(places.text(name), edits[name])) for name in edits}


def _laid_out(source: SourceFile, text: str) -> str:
    """The new text in the canonical layout if the old one was; else as it is."""
    if format_text(source).text != source.text:
        return text
    return format_text(SourceFile(source.name, text, source.path)).text or text
