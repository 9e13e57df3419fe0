"""Checks of the model as it is written: references, feeds, kinds. What needs the network is checked there."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from fedfrom.findings import Finding
from fedfrom.findings.finding import Label
from fedfrom.model.build_tags import CONTACTOR, LOAD, TIE, Tags, room_not_known, split_part
from fedfrom.model.items import Fact, Feed, Item, Load, Model
from fedfrom.model.lower_phrases import a, error
from fedfrom.model.lowered import LoweredLine
from fedfrom.source import Span
from fedfrom.syntax.tree import Accept
from fedfrom.vocabulary import Vocabulary

_FIRST_VERB = {
    "transfer switch": "normal from",
    "ups": "normal from",
    "maintenance bypass": "normal from",
    "pv": "connects to",
    "battery": "connects to",
}
_NO_FEED = frozenset({"utility", "generator", "generator connection"})
_CANNOT_FEED = frozenset({"pv", "battery"})


@dataclass
class ModelChecks:
    """Runs every check on one model; findings go to `tags.findings`."""

    model: Model
    tags: Tags
    vocabulary: Vocabulary
    lines: dict[str, LoweredLine]
    places: Mapping[tuple[Span, str], Span]

    @property
    def findings(self) -> list[Finding]:
        return self.tags.findings

    def run(self, accepts: Sequence[Accept]) -> None:
        for item in self.model.items.values():
            self._feeds(item)
            self._facts(item)
            for load in item.loads:
                self._load(load, item)
        self._ties()
        self._interlocks()
        self._states()
        self._noncoincident()
        self._contactors()
        self._accepts(accepts)
        self._expectations()

    # --- feeds ---------------------------------------------------------------------------------------------------

    def _feeds(self, item: Item) -> None:
        kinds = [kind for kind in self.vocabulary.item_kinds if kind not in _CANNOT_FEED]
        for feed in item.feeds:
            self.tags.check(
                feed.source,
                feed.source_span,
                item.tag,
                allowed=kinds,
                wanted="something that can feed",
                advice="write the tag of the gear, transformer or source that feeds this",
            )
            self._along(feed, item)
            self._point(feed, item)
        self._missing_feed(item)
        self._several_feeds(item)

    def _missing_feed(self, item: Item) -> None:
        broken = item.unreadable and not item.feeds
        if item.enclosing or item.kind in _NO_FEED or broken:
            return
        verb = _FIRST_VERB.get(item.kind, "fed from")
        verbs = {feed.verb for feed in item.feeds}
        if verb in verbs or (verb == "normal from" and "fed from" in verbs):
            return
        message = f"{item.tag} does not say what feeds it"
        if verb == "connects to":
            message = f"{item.tag} does not say what it connects to"
        advice = f"write `{verb} TAG, length` in its braces"
        if item.feeds:
            message = f"{item.tag} has no `{verb}`"
            advice = f"write `{verb} TAG, length` besides `{item.feeds[0].verb}`"
        self.findings.append(error("missing-feed", item.tag, message, item.tag_span, f"no `{verb}`", advice))

    def _several_feeds(self, item: Item) -> None:
        by_verb: dict[str, list[Feed]] = {}
        for feed in item.feeds:
            by_verb.setdefault(feed.verb, []).append(feed)
        for verb, feeds in by_verb.items():
            if len(feeds) < 2 or verb == "connects to" or (verb == "fed from" and item.paralleling):
                continue
            message = f"{item.tag} has {len(feeds)} times `{verb}`"
            advice = "parallel conductors are `sets`; a second, interlocked supply is `alternate from`"
            if verb == "fed from":
                advice += "; sources that run together need the line `paralleling`"
            finding = error("several-feeds", item.tag, message, feeds[1].span, "a second one", advice)
            self.findings.append(replace(finding, related=(Label(feeds[0].span, "the first"),)))

    def _point(self, feed: Feed, item: Item) -> None:
        """Ahead of a main, on its lugs, on the far end: only gear with a bus has these."""
        source = self.model.items.get(feed.source)
        if feed.point == "bus" or source is None or source.kind in self._buses():
            return
        message = f"{feed.source} is {a(source.kind)}: it has no `{feed.point}`"
        advice = f"take `{feed.point}` out, or name the gear"
        self.findings.append(error("wrong-kind", item.tag, message, feed.source_span, "", advice))

    def _along(self, feed: Feed, item: Item) -> None:
        """`at 60 ft` is a place along a busway."""
        source = self.model.items.get(feed.source)
        if feed.at_ft is None or source is None or source.kind == "busway":
            return
        message = f"`at` is a place along a busway; {feed.source} is {a(source.kind)}"
        span = feed.at_ft.span or feed.span
        self.findings.append(error("not-a-busway", item.tag, message, span, "", "take it out; the length is `180 ft`"))

    # --- facts and loads -----------------------------------------------------------------------------------------

    def _facts(self, item: Item) -> None:
        for fact in item.facts.facts:
            if fact.name == "place" and isinstance(fact.values.get("room"), str):
                self._room(str(fact.values["room"]), fact.span, item)
            if fact.name == "series rated" and isinstance(fact.values.get("partner"), str):
                self.tags.check(
                    str(fact.values["partner"]), fact.span, item.tag, allowed=self.vocabulary.item_kinds, wanted="gear"
                )
            self._reason(fact, item)

    def _room(self, tag: str, span: Span, item: Item) -> None:
        if tag in self.model.rooms or tag in self.tags.lost_words:
            return
        where = self._part_span(item, "place", "room") or span
        if tag in self.tags.named:
            advice = '`place` names a room, or `indoor "…"` / `outdoor "…"`'
            self.tags.check(tag, where, item.tag, allowed=(), wanted="a room", advice=advice)
            return
        self.findings.append(room_not_known(tag, where, item.tag, self.model.rooms))

    def _part_span(self, item: Item, name: str, part: str) -> Span | None:
        line = self.lines.get(item.tag)
        for child in line.children if line else ():
            if child.entry.name == name:
                return child.head.spans.get(part)
        return None

    def _reason(self, fact: Fact, item: Item) -> None:
        """Facts that are worth nothing without a reason: a demand factor, load management, a series rating."""
        needs = {"demand": "a demand factor", "managed": "load management", "series rated": "a series rating"}
        if fact.name not in needs or fact.reason or (fact.name == "series rated" and "partner" not in fact.values):
            return
        message = f"{needs[fact.name]} needs a reason"
        advice = f'write `{fact.name} … because "…"`'
        self.findings.append(error("missing-reason", item.tag, message, fact.span, "why?", advice))

    def _load(self, load: Load, item: Item) -> None:
        if load.at_ft is not None and item.kind != "busway":
            message = f"`at` is a place along a busway; {item.tag} is {a(item.kind)}"
            span = load.at_ft.span or load.span
            self.findings.append(error("not-a-busway", item.tag, message, span, "", "take it out"))
        for fact in load.facts.facts:
            if fact.name == "through":
                tag = str(fact.values.get("contactor", ""))
                advice = "write the tag of a `contactor` statement"
                self.tags.check(tag, fact.span, item.tag, allowed=(CONTACTOR,), wanted="a contactor", advice=advice)
            if fact.name == "place" and isinstance(fact.values.get("room"), str):
                room = str(fact.values["room"])
                if room not in self.model.rooms and room not in self.tags.lost_words:
                    self.findings.append(room_not_known(room, fact.span, item.tag, self.model.rooms))
        for part in load.parts:
            self._load(part, item)

    # --- statements ----------------------------------------------------------------------------------------------

    def _ties(self) -> None:
        for tie in self.model.ties:
            for end in tie.ends:
                self.tags.check(
                    end,
                    self._at(tie.span, end),
                    tie.tag,
                    allowed=self._buses(),
                    wanted="gear with a bus",
                    advice="a tie stands between two buses",
                )

    def _buses(self) -> tuple[str, ...]:
        return tuple(kind for kind in self.vocabulary.item_kinds if "bus" in self.vocabulary.scope(kind).entries)

    def _at(self, line: Span, text: str) -> Span:
        """Where a word stands on a line; the line where that is not known."""
        return self.places.get((line, text), line)

    def _interlocks(self) -> None:
        for interlock in self.model.interlocks:
            for member in interlock.members:
                self._switchable(member, self._at(interlock.span, member), "interlock")

    def _switchable(self, member: str, span: Span, subject: str) -> None:
        """A device by name: `TAG.main`, a tie, or the device of a feed by the tag that it feeds."""
        tag, part = split_part(member)
        if not self.tags.check(tag, span, subject, allowed=(*self.vocabulary.item_kinds, TIE), wanted="a device"):
            return
        if self.tags.named[tag].what == TIE and part:
            message = f"`{member}`: a tie is named by its tag alone"
            self.findings.append(error("wrong-kind", subject, message, span, "", f"write `{tag}`"))
        elif part and part != "main" and not self._is_feed_id(member):
            message = f"`{member}` names no device"
            advice = f"write `{tag}.main` for the main of {tag}"
            self.findings.append(error("unknown-tag", subject, message, span, "", advice))

    def _is_feed_id(self, text: str) -> bool:
        return any(feed.feeder_id == text for item in self.model.items.values() for feed in item.feeds)

    def _states(self) -> None:
        sources = ("utility", "generator", "generator connection", "pv", "battery")
        for state in self.model.states:
            for tag in state.lost:
                advice = "what may be lost is a utility, a generator or another source"
                self.tags.check(
                    tag, self._at(state.span, tag), state.name, allowed=sources, wanted="a source", advice=advice
                )
            for member in (*state.opened, *state.closed):
                self._switchable(member, self._at(state.span, member), state.name)

    def _noncoincident(self) -> None:
        for line in self.model.noncoincident:
            seen: set[str] = set()
            for tag in (tag for group in line.groups for tag in group):
                if tag in seen:
                    message = f"`{tag}` is named twice"
                    self.findings.append(
                        error("duplicate-tag", tag, message, self._at(line.span, tag), "", "name each load once")
                    )
                seen.add(tag)
                advice = 'give the load a tag after its kind: `hvac AC-1 "…"`'
                self.tags.check(
                    tag, self._at(line.span, tag), "noncoincident", allowed=(LOAD,), wanted="a load", advice=advice
                )

    def _contactors(self) -> None:
        for contactor in self.model.contactors.values():
            coil = contactor.facts.first("coil")
            if coil is not None:
                self._circuit(str(coil.values.get("circuit", "")), coil.span, contactor.tag)

    def _circuit(self, text: str, span: Span, subject: str) -> None:
        """A circuit by reference: `HP.8`."""
        tag, part = split_part(text)
        if self.tags.check(tag, span, subject, allowed=self._buses(), wanted="gear") and not part:
            message = f"`{text}` names gear, not a circuit of it"
            advice = f"write the position after a dot: `{tag}.8`"
            self.findings.append(error("wrong-kind", subject, message, span, "", advice))

    def _accepts(self, accepts: Sequence[Accept]) -> None:
        for statement in accepts:
            for reference in statement.references:
                text = reference.word.text
                tag, _ = split_part(text)
                known = self.tags.check(tag, reference.word.span, "accept")
                if known and reference.text is not None:
                    self._load_by_name(tag, reference.text.text, reference.text.span)

    def _load_by_name(self, tag: str, name: str, span: Span) -> None:
        item = self.model.items.get(tag)
        if item is None or any(load.name == name for load in _all_loads(item)):
            return
        from fedfrom.findings.nearest import listed, nearest

        near = nearest(name, [load.name for load in _all_loads(item) if load.name])
        message = f'{tag} has no load named "{name}"'
        advice = f"write {listed(near)}" if near else f"name a load as it stands in {tag}"
        self.findings.append(error("unknown-tag", "accept", message, span, "not found", advice))

    def _expectations(self) -> None:
        for expectation in self.model.expectations:
            tag, _ = split_part(expectation.subject)
            span = expectation.subject_span or expectation.span
            self.tags.check(tag, span, "expect")


def _all_loads(item: Item) -> Iterator[Load]:
    for load in item.loads:
        yield load
        yield from load.parts


__all__ = ["ModelChecks", "a"]
