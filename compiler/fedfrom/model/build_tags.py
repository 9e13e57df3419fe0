"""Every tag of a project, what it names and where it stands; unknown and duplicate tags."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field, replace

from fedfrom.findings import Edit, Finding, Fix, Severity
from fedfrom.findings.finding import Label
from fedfrom.findings.nearest import listed, nearest
from fedfrom.model.items import Load
from fedfrom.model.lower_phrases import a, error
from fedfrom.source import Span
from fedfrom.syntax.tree import Site

# What a tag may name besides an item kind.
LOAD, ROOM, CONTACTOR, TIE = "load", "room", "contactor", "tie"


@dataclass(frozen=True, slots=True)
class Named:
    """What a tag names: the item kind, or one of the words above; `gear` is the tag of a load's gear."""

    tag: str
    what: str
    span: Span
    trail: tuple[Site, ...] = ()
    gear: str = ""


@dataclass
class Tags:
    """All tags, the first bearer of each.

    `lost_words` may be tags that could not be read. `some_missing`: a typical or table could not be expanded, so that a
    tag that is close to no other may be one of those that it would have made.
    """

    lost_words: Collection[str]
    findings: list[Finding]
    some_missing: bool = False
    named: dict[str, Named] = field(default_factory=dict)

    def add(self, new: Named) -> None:
        """Adds a bearer; a tag that is taken already is a finding with all places."""
        before = self.named.setdefault(new.tag, new)
        if before is not new:
            self.findings.append(_duplicate(before, new))

    def add_load(self, load: Load, gear: str) -> None:
        """Adds a load's tag; the cord B of a load is no second bearer."""
        if load.tag and load.cord != "B":
            self.add(Named(load.tag, LOAD, load.span, load.trail, gear))
        for part in load.parts:
            self.add_load(part, gear)

    def check(
        self,
        tag: str,
        span: Span,
        subject: str,
        *,
        allowed: Iterable[str] | None = None,
        wanted: str = "",
        advice: str = "",
    ) -> bool:
        """Whether `tag` names something of the allowed kinds (None: anything); a finding where it does not."""
        found = self.named.get(tag)
        if found is None:
            finding = self.unknown(tag, span, subject, allowed)
            if tag not in self.lost_words and not (self.some_missing and not finding.related):
                self.findings.append(finding)
            return False
        if allowed is None or found.what in set(allowed):
            return True
        message = f"`{tag}` is {a(found.what)}" + (f", not {wanted}" if wanted else "")
        finding = error("wrong-kind", subject, message, span, a(found.what), advice)
        self.findings.append(replace(finding, related=(Label(found.span, f"`{tag}` is declared here"),)))
        return False

    def unknown(self, tag: str, span: Span, subject: str, allowed: Iterable[str] | None) -> Finding:
        """Nothing bears this tag: the near ones, and where the nearest stands."""
        kinds = None if allowed is None else set(allowed)
        names = [name for name, named in self.named.items() if kinds is None or named.what in kinds]
        near = nearest(tag, names)
        advice = f"write {listed(near)}, or declare `{tag}`" if near else f"declare `{tag}`, or write the tag meant"
        finding = error("unknown-tag", subject, f"nothing is tagged `{tag}`", span, "not found", advice)
        if not near:
            return finding
        related = (Label(self.named[near[0]].span, f"`{near[0]}` is close"),)
        fix = Fix(f"write `{near[0]}`", (Edit(span, near[0]),), safe=False) if len(near) == 1 else None
        return replace(finding, related=related, fix=fix)


def _duplicate(before: Named, again: Named) -> Finding:
    """Two bearers of one tag, with the sites of a typical or loop that brought them about."""
    sites = [*before.trail, *again.trail]
    related = [Label(before.span, "first here"), *(Label(site.span, site.text) for site in sites)]
    made = before.span == again.span
    message = f"the tag `{again.tag}` is given twice"
    advice = "a tag names one thing: change one of them"
    if made or before.trail or again.trail:
        advice = "put a parameter into the tag, as in `LP-[level]`, so that each use makes its own"
    return Finding(
        "duplicate-tag",
        Severity.ERROR,
        again.tag,
        message,
        again.span,
        label="again here",
        related=tuple(dict.fromkeys(related)),
        help=advice,
    )


def split_part(text: str) -> tuple[str, str]:
    """`LP1.3` -> ("LP1", "3"); `LP1` -> ("LP1", "")."""
    tag, _, part = text.partition(".")
    return tag, part


def room_not_known(tag: str, span: Span, subject: str, rooms: Mapping[str, object]) -> Finding:
    """A place names a room that no statement describes."""
    near = nearest(tag, rooms)
    if near:
        advice = f"write {listed(near)}, or declare `room {tag}`"
        return error("unknown-tag", subject, f"no room is tagged `{tag}`", span, "not found", advice)
    return Finding(
        "room-missing",
        Severity.NOT_CHECKED,
        subject,
        f"working space is not checked: needs the room `{tag}`",
        span,
        label="no such room yet",
        help=f'write `room {tag} "…" {{ level 1, size 18 ft x 12 ft, height 10 ft }}`',
    )
