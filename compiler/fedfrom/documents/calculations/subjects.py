"""What can be asked about a design by name: a tag, a circuit, a property, a finding, a rule; and near misses."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from fedfrom.findings import Finding
from fedfrom.findings.nearest import nearest
from fedfrom.results.types import CircuitResult
from fedfrom.rules.registry import Design, all_rules

# Words of the trade for a property -> its names in the derivations, the first that is there is meant.
PROPERTY_WORDS: Mapping[str, tuple[str, ...]] = {
    "wire": ("phase",),
    "conductor": ("phase",),
    "conductors": ("phase",),
    "size": ("phase", "kva", "rating", "bus"),
    "sets": ("phase",),
    "ampacity": ("phase",),
    "breaker": ("device", "main"),
    "fuse": ("device", "main"),
    "ocpd": ("device", "main"),
    "overcurrent": ("device", "main"),
    "trip": ("device", "main"),
    "egc": ("ground",),
    "ssbj": ("ground", "jumper"),
    "conduit": ("raceway",),
    "fill": ("raceway",),
    "load": ("demand",),
    "design": ("demand",),
    "rating": ("rating", "kva", "bus", "interrupting", "device", "main"),
    "impedance": ("impedance",),
    "aic": ("interrupting",),
    "short-circuit": ("sccr",),
    "withstand": ("withstand", "sccr"),
    "gec": ("electrode",),
    "jumper": ("jumper",),
    "balance": ("imbalance",),
    "mains": ("main",),
    "position": ("position",),
    "positions": ("position",),
}

# The order in which the properties of a thing are listed; others follow as they come.
ORDER = ("class", "demand", "kva", "impedance", "rating", "main", "bus", "sccr", "fault", "withstand")


@dataclass(frozen=True, slots=True)
class Answer:
    """What a name stands for. Exactly one of: derivations (`subjects`), a thing (`tag`), findings or a rule (`rule`).

    `close`: near misses where the name stands for nothing.
    """

    subjects: tuple[str, ...] = ()
    tag: str = ""
    rule: str = ""
    findings: tuple[Finding, ...] = ()
    close: tuple[str, ...] = ()


@dataclass(frozen=True)
class Subjects:
    """The names of one design. `circuits`: by key, by each position ("LP1.14"), and by the tag of the load.

    `owned`: the subjects that begin with a name: "LP1" -> "LP1.class", "LP1.3.device" ….
    """

    design: Design
    circuits: Mapping[str, CircuitResult] = field(init=False)
    owned: Mapping[str, tuple[str, ...]] = field(init=False)
    folded: Mapping[str, str] = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "circuits", circuit_names(self.design))
        object.__setattr__(self, "owned", by_owner(self.design.results.derivations))
        names = [*self._all_names()]
        object.__setattr__(self, "folded", {name.casefold(): name for name in reversed(names)})

    def _all_names(self) -> Iterable[str]:
        yield from self.tags()
        yield from self.circuits
        yield from self.design.results.derivations

    def tags(self) -> tuple[str, ...]:
        """Every thing with a place in the network or a tag in the text, in source order."""
        ties = [tie.tag for tie in self.design.model.ties]
        return tuple(dict.fromkeys((*self.design.network.nodes, *self.design.model.items, *ties)))

    # --- answers -----------------------------------------------------------------------------------------------------

    def answer(self, asked: str) -> Answer:
        """What `asked` stands for; with near misses where it stands for nothing."""
        name = _tidied(asked)
        rules = {rule.id for rule in all_rules()}
        rule, _, subject = name.partition(" on ")
        if rule in rules or any(finding.rule == rule for finding in self._findings()):
            return self._of_rule(rule, subject, rules)
        found = self._exact(name)
        if found is None:
            found = self._exact(self._in_its_case(name))
        return found or Answer(close=self._near(name, rules))

    def _in_its_case(self, name: str) -> str:
        """A name with the letters that the design gives it; a property is in small ones."""
        if name.casefold() in self.folded:
            return self.folded[name.casefold()]
        head, dot, word = name.rpartition(".")
        return f"{self.folded[head.casefold()]}.{word.casefold()}" if head.casefold() in self.folded and dot else name

    def _exact(self, name: str) -> Answer | None:
        derivations = self.design.results.derivations
        if name in derivations:
            head, _, word = name.rpartition(".")
            # "DP1.neutral" is the load of the neutral and the conductor for it.
            return Answer((name, *(each for each in self._of_feeders(head, word) if each != name)))
        if name in self.tags() and name not in self.circuits:
            return Answer(tag=name)
        if name in self.circuits:
            return Answer(self.of_circuit(self.circuits[name]))
        head, _, word = name.rpartition(".")
        subjects = self._of_property(head, word) if head else ()
        if not subjects:
            subjects = self.owned.get(name, ())
        return Answer(subjects) if subjects else None

    def _of_property(self, head: str, word: str) -> tuple[str, ...]:
        """`TAG.word`: of the thing itself, else of each feeder that ends at it; a trade word for a property serves."""
        derivations = self.design.results.derivations
        starts = [head]
        if head in self.circuits:
            row = self.circuits[head]
            starts = [row.key] if row.kind != "feeder" else [f"{row.feeder_id}.feeder"]
        choices = (word, *PROPERTY_WORDS.get(word.casefold(), ()))
        for choice in choices:
            found = tuple(f"{start}.{choice}" for start in starts if f"{start}.{choice}" in derivations)
            if found:
                return found
        return next((found for choice in choices if (found := self._of_feeders(head, choice))), ())

    def _of_feeders(self, head: str, word: str) -> tuple[str, ...]:
        """The property of every feeder that ends at a thing, or of the feeder that is called so."""
        ids = [feeder.id for feeder in self.design.results.feeders.values() if head in (feeder.target, feeder.id)]
        names = (f"{each}.feeder.{word}" for each in dict.fromkeys(ids))
        return tuple(name for name in names if name in self.design.results.derivations)

    def of_circuit(self, row: CircuitResult) -> tuple[str, ...]:
        """The subjects of a circuit; of one that feeds other gear, those of that feeder."""
        return self.owned.get(f"{row.feeder_id}.feeder" if row.kind == "feeder" else row.key, ())

    def of_tag(self, tag: str) -> tuple[str, ...]:
        """The subjects of a thing without those of its circuits, the most asked for first, then its feeders'."""
        rows = {row.key for row in self.design.results.circuits.get(tag, ())}
        found = [each for each in self.owned.get(tag, ()) if _circuit_of(each, tag) not in rows]
        return tuple(sorted(found, key=lambda each: _rank(each, tag)))

    # --- findings and rules ------------------------------------------------------------------------------------------

    def _findings(self) -> tuple[Finding, ...]:
        results = self.design.results
        return (*results.findings, *(finding for finding, _ in results.accepted))

    def _of_rule(self, rule: str, subject: str, rules: Iterable[str]) -> Answer:
        found = tuple(each for each in self._findings() if each.rule == rule)
        if not subject:
            return Answer(rule=rule, findings=found)
        here = tuple(each for each in found if each.subject.casefold() == subject.casefold())
        if here:
            return Answer(findings=here)
        return Answer(close=tuple(f"{rule} on {each.subject}" for each in found[:3]) or (rule,))

    def _near(self, name: str, rules: Iterable[str]) -> tuple[str, ...]:
        head = name.rpartition(".")[0]
        own = self._exact(head) if head else None
        if own is not None:
            start = own.tag or head
            properties = self.of_tag(start) if own.tag else own.subjects
            rows = [key for key in self.circuits if key.startswith(f"{start}.")]
            close = nearest(name, [*properties, *rows])
            return close or tuple(properties[:6])
        return nearest(name, [*self.tags(), *self.circuits, *self.design.results.derivations, *sorted(rules)])


def by_owner(subjects: Iterable[str]) -> dict[str, tuple[str, ...]]:
    """Every beginning of a subject up to a dot -> the subjects that begin so, in order."""
    found: dict[str, list[str]] = {}
    for subject in subjects:
        at = subject.find(".")
        while at >= 0:
            found.setdefault(subject[:at], []).append(subject)
            at = subject.find(".", at + 1)
    return {owner: tuple(names) for owner, names in found.items()}


def circuit_names(design: Design) -> dict[str, CircuitResult]:
    """Every name of every circuit: "LP1.14" by each position, the tag of its load, its key."""
    names: dict[str, CircuitResult] = {}
    for tag, rows in design.results.circuits.items():
        for row in rows:
            names.setdefault(row.key, row)
            for position in row.positions:
                names.setdefault(f"{tag}.{position}", row)
    nodes = design.network.nodes
    for rows in design.results.circuits.values():
        for row in rows:
            if row.tag and row.tag not in nodes:
                names.setdefault(row.tag, row)
                names.setdefault(f"{row.gear}.{row.tag}", row)
    return names


def _tidied(asked: str) -> str:
    """Blanks and the ways to write a circuit: "LP1/14", "LP1-14" stays a tag, "LP1 14", "LP1.14,16"."""
    name = " ".join(asked.split())
    name = re.sub(r"^(\S+)(?:/| | #|#)(\d+)(?=$|[.,])", r"\1.\2", name)
    return re.sub(r"(\.\d+)(?:,\d+)+", r"\1", name)


def _circuit_of(subject: str, tag: str) -> str:
    return f"{tag}.{subject.removeprefix(f'{tag}.').partition('.')[0]}"


def _rank(subject: str, tag: str) -> tuple[int, int]:
    rest = subject.removeprefix(f"{tag}.")
    if "." in rest:
        return (1, 0)
    return (0, ORDER.index(rest) if rest in ORDER else len(ORDER))
