"""`change TAG { … }` and `omit`, in the braces of a `use` and inside gear.

In a changed item a property takes the place of all lines of the same property, a load that is matched (by its tag, else
by kind and title) is replaced, anything else is added. What is changed or omitted must have been made by this `use`, or
in this gear by a `use`, `for` or CSV file: what is written out is mended where it stands.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TypeAlias

from fedfrom.findings import Label
from fedfrom.findings.nearest import listed, nearest
from fedfrom.model.expand_lines import Describer, Named, first_word, head_text, run_text
from fedfrom.model.expand_option import change_load
from fedfrom.model.expand_report import Report
from fedfrom.source import Span
from fedfrom.syntax.tree import Block, Line, Run, Statement, Word

Statements: TypeAlias = list[Statement]
_OMIT_FORMS = 'write `omit TAG`, `omit KIND` or `omit KIND "Title"`'


@dataclass(frozen=True, slots=True)
class Found:
    """A line that a change or omit may mean, with the scope that it stands in."""

    line: Line
    named: Named


@dataclass(frozen=True, slots=True)
class Reach:
    """What orders may touch: all, or in a piece of gear what is not written out in it. `by` names the maker."""

    by: str
    gear: Line | None = None

    def holds(self, line: Line) -> bool:
        """Whether a `use`, `for` or table made the line: it came by more steps than the gear, or stands elsewhere."""
        gear = self.gear
        if gear is None or len(line.trail) > len(gear.trail):
            return True
        return not (line.span.file == gear.span.file and gear.span.start <= line.span.start < gear.span.end)


class Changes:
    """Applies changes; findings go to the report."""

    def __init__(self, describer: Describer, report: Report) -> None:
        self.describer = describer
        self.report = report

    def of_use(self, made: Statements, orders: Sequence[Statement], kind: str, use: Word) -> Statements:
        """What a `use` made, after the orders in its braces."""
        reach = Reach(f"this use of `{use.text}`")
        for order in orders:
            if not isinstance(order, Line) or order.unreadable:
                continue
            word = first_word(order)
            if word == "change":
                made = self._change(made, order, kind, reach)
            elif word == "omit":
                made = self._omit(made, order, kind, reach)
            else:
                named = self.describer.describe(order, "top")
                advice = f"write `change {named.tag or 'TAG'} {{ … }}`" if named.is_item else "write `change TAG { … }`"
                message = "the braces of a `use` hold `change` and `omit` only"
                self.report.error("use-block", use.text, message, order.runs[0].span, advice)
        return made

    def settle(self, statements: Statements, kind: str = "top", depth: int = 0) -> Statements:
        """Carries out the orders that stand inside gear, and takes them out."""
        settled: Statements = []
        for statement in statements:
            if not isinstance(statement, Line):
                settled.append(statement)
            elif first_word(statement) in ("change", "omit") and self.describer.describe(statement, kind).kind == "":
                self._misplaced(statement)
            else:
                settled.append(self._settle_line(statement, kind))
        return settled

    def _settle_line(self, line: Line, kind: str) -> Line:
        if line.block is None:
            return line
        named = self.describer.describe(line, kind)
        inner_kind = self.describer.inner_scope(named)
        inside = list(line.block.statements)
        orders = [s for s in inside if isinstance(s, Line) and first_word(s) in ("change", "omit")]
        if orders and named.is_item:
            inside = self._settle_orders(line, inside, orders, inner_kind, named)
        settled = self.settle(inside, inner_kind)
        if len(settled) == len(line.block.statements) and all(map(_is, settled, line.block.statements)):
            return line
        return replace(line, block=Block(tuple(settled), line.block.span))

    def _settle_orders(self, line: Line, inside: Statements, orders: list[Line], kind: str, named: Named) -> Statements:
        chosen = {id(order) for order in orders}
        made = [statement for statement in inside if id(statement) not in chosen]
        reach = Reach(f"a `use`, `for` or table in {named.subject}", line)
        for order in orders:
            if order.unreadable:
                continue
            made = (
                self._change(made, order, kind, reach)
                if first_word(order) == "change"
                else (self._omit(made, order, kind, reach))
            )
        return made

    # --- change --------------------------------------------------------------------------------------------------

    def _change(self, made: Statements, order: Line, kind: str, reach: Reach) -> Statements:
        tag = self._tag(order)
        if tag is None:
            return made
        named = [found for found in self._tagged(made, kind) if found.named.tag == tag.text]
        hits = [found for found in named if reach.holds(found.line)]
        if hits:
            return replaced(made, {id(hit.line): self._changed(hit, order) for hit in hits})
        if named:
            self._written_out(order, named[0].line)
        else:
            self._not_made(tag, made, kind, reach)
        return made

    def _changed(self, hit: Found, order: Line) -> tuple[Line, ...]:
        orders = _orders(order)
        if hit.named.is_load:
            return (change_load(hit.line, hit.named, orders, self.describer, self.report),)
        return (self._change_item(hit.line, hit.named, orders, order),)

    def _change_item(self, line: Line, named: Named, orders: list[Line], order: Line) -> Line:
        kind = self.describer.inner_scope(named)
        inside: Statements = [] if line.block is None else list(line.block.statements)
        reach = Reach("")
        done: set[str] = set()
        for change in orders:
            word = first_word(change)
            if word == "omit":
                inside = self._omit(inside, change, kind, reach)
            elif word == "change":
                inside = self._change_inside(inside, change, kind)
            else:
                inside = self._set(inside, change, orders, kind, named, done)
        span = line.block.span if line.block is not None else (order.block.span if order.block else order.span)
        return replace(line, block=Block(tuple(inside), span))

    def _change_inside(self, inside: Statements, order: Line, kind: str) -> Statements:
        """A change in a change: of what is there already, else kept for what a table puts into the gear later."""
        tag = self._tag(order)
        if tag is None:
            return inside
        if any(found.named.tag == tag.text for found in self._tagged(inside, kind)):
            return self._change(inside, order, kind, Reach(""))
        return [*inside, order]

    def _set(
        self, inside: Statements, change: Line, orders: list[Line], kind: str, item: Named, done: set[str]
    ) -> Statements:
        named = self.describer.describe(change, kind)
        if named.is_load or named.is_item:
            return self._set_tagged(inside, change, named, kind, item)
        if named.name in done:
            return inside  # went in with the first of its name
        done.add(named.name)
        new = [line for line in orders if self.describer.describe(line, kind).name == named.name]
        old = [s for s in inside if isinstance(s, Line) and self.describer.describe(s, kind).name == named.name]
        if not old:
            return [*inside, *new]
        if [_whole_text(line) for line in old] == [_whole_text(line) for line in new]:
            self._equal(change, item, old[0])
        return replaced(inside, {id(line): tuple(new) if line is old[0] else () for line in old})

    def _set_tagged(self, inside: Statements, change: Line, named: Named, kind: str, item: Named) -> Statements:
        described = [(s, self.describer.describe(s, kind)) for s in inside if isinstance(s, Line)]
        if named.tag:
            old = [line for line, other in described if other.tag == named.tag and other.kind == named.kind]
        else:
            old = [line for line, o in described if o.is_load and (o.name, o.title) == (named.name, named.title)]
        if not old:
            return [*inside, change]
        if len(old) > 1:
            self._ambiguous(change.runs[0], named, old)
            return inside
        if _whole_text(old[0]) == _whole_text(change):
            self._equal(change, item, old[0])
        return replaced(inside, {id(old[0]): (change,)})

    # --- omit ----------------------------------------------------------------------------------------------------

    def _omit(self, made: Statements, order: Line, kind: str, reach: Reach) -> Statements:
        if len(order.runs[0].parts) < 2:
            message = "`omit` needs what is left out"
            self.report.error("omit-form", "omit", message, order.runs[0].span, _OMIT_FORMS)
            return made
        for run in _omitted(order):
            made = self._omit_one(made, run, kind, reach)
        return made

    def _omit_one(self, made: Statements, run: Run, kind: str, reach: Reach) -> Statements:
        meant = self._meant(made, run, kind)
        hits = [hit for hit in meant if reach.holds(hit.line)]
        if not hits:
            if meant:
                self._written_out(Line((), (run,), None, run.span), meant[0].line)
            else:
                self._nothing(made, run, kind, reach)
        elif len(hits) > 1 and hits[0].named.is_load:
            self._ambiguous(run, hits[0].named, [hit.line for hit in hits])
        else:
            return replaced(made, {id(hit.line): () for hit in hits})
        return made

    def _meant(self, made: Statements, run: Run, kind: str) -> list[Found]:
        """The lines that `omit` means: by tag anywhere in what was made, by kind and title or property right here."""
        first = run.parts[0]
        if len(run.parts) == 1 and isinstance(first, Word):
            tagged = [found for found in self._tagged(made, kind) if found.named.tag == first.text]
            if tagged:
                return tagged
        pseudo = Line((), (run,), None, run.span)
        wanted = self.describer.describe(pseudo, kind)
        here = [Found(s, self.describer.describe(s, kind)) for s in made if isinstance(s, Line)]
        if wanted.kind == "":
            return []
        if wanted.is_load or wanted.is_item:
            return [
                found
                for found in here
                if found.named.name == wanted.name
                and (not wanted.title or found.named.title == wanted.title)
                and (not wanted.tag or found.named.tag == wanted.tag)
            ]
        return [found for found in here if found.named.name == wanted.name]

    # --- finding lines -------------------------------------------------------------------------------------------

    def _all(self, statements: Iterable[Statement], kind: str) -> Iterator[Found]:
        for statement in statements:
            if isinstance(statement, Line):
                named = self.describer.describe(statement, kind)
                yield Found(statement, named)
                if statement.block is not None and named.is_item:
                    yield from self._all(statement.block.statements, self.describer.inner_scope(named))

    def _tagged(self, statements: Iterable[Statement], kind: str) -> list[Found]:
        """Every item and load with a tag, also inside items."""
        return [found for found in self._all(statements, kind) if found.named.tag]

    def _tag(self, order: Line) -> Word | None:
        """The tag of `change TAG { … }`."""
        parts = order.runs[0].parts
        if len(parts) == 2 and isinstance(parts[1], Word) and (order.block is not None or len(order.runs) > 1):
            return parts[1]
        message = "`change` needs one tag, and braces with what changes"
        self.report.error("change-form", "change", message, order.runs[0].span, "write `change TAG { bus 225 A }`")
        return None

    # --- findings ------------------------------------------------------------------------------------------------

    def _not_made(self, tag: Word, made: Statements, kind: str, reach: Reach) -> None:
        if _holds_unreadable(made):
            return
        tags = [found.named.tag for found in self._tagged(made, kind)]
        close = nearest(tag.text, tags)
        if close:
            advice = f"{listed(close)} is close"
        else:
            advice = f"it makes {', '.join(tags[:8])}" if tags else "it makes nothing that has a tag"
        message = f"`{tag.text}` is not made by {reach.by}"
        self.report.error("change-unknown", tag.text, message, tag.span, advice)

    def _written_out(self, order: Line, line: Line) -> None:
        message = "what is changed here is written out in the same gear"
        related = (Label(line.runs[0].span, "written here"),)
        self.report.error(
            "change-written", head_text(order), message, order.runs[0].span, "change it where it is written", related
        )

    def _nothing(self, made: Statements, run: Run, kind: str, reach: Reach) -> None:
        if _holds_unreadable(made):
            return
        shown = run_text(run)
        by = f" made by {reach.by}" if reach.by else ""
        names = [name for found in self._all(made, kind) for name in (found.named.tag, found.named.name) if name]
        close = nearest(shown, names)
        advice = f"{listed(close)} is close" if close else _OMIT_FORMS
        self.report.error("omit-nothing", shown, f"`omit {shown}` matches nothing{by}", run.span, advice)

    def _misplaced(self, order: Line) -> None:
        word = first_word(order)
        message = f"`{word}` stands outside of a `use` and of gear"
        advice = f"put it in the braces of the `use`, or of the gear that the {word} is about"
        self.report.error("change-place", word, message, order.runs[0].span, advice)

    def _ambiguous(self, run: Run, named: Named, old: Sequence[Line]) -> None:
        shown = f'{named.name} "{named.title}"' if named.title else named.name
        message = f"`{shown}` matches {len(old)} lines"
        related = tuple(Label(line.runs[0].span, "one of them") for line in _different(old))
        advice = "give the load that is meant a tag, or a title of its own"
        self.report.error("change-ambiguous", shown, message, run.span, advice, related)

    def _equal(self, change: Line, item: Named, old: Line) -> None:
        message = f"this changes nothing: {item.subject} has it already"
        self.report.note("change-equal", item.subject, message, change.runs[0].span, "leave it out")


def replaced(statements: Sequence[Statement], by: dict[int, tuple[Line, ...]]) -> Statements:
    """Statements with lines (by identity, at any depth) replaced by others."""
    made: Statements = []
    for statement in statements:
        if id(statement) in by:
            made.extend(by[id(statement)])
        elif isinstance(statement, Line) and statement.block is not None:
            inner = replaced(statement.block.statements, by)
            same = len(inner) == len(statement.block.statements) and all(map(_is, inner, statement.block.statements))
            made.append(statement if same else replace(statement, block=Block(tuple(inner), statement.block.span)))
        else:
            made.append(statement)
    return made


def _orders(order: Line) -> list[Line]:
    """What a `change` says: after commas on its head, then in its braces. Brackets and the like are gone by now."""
    head = [Line((), (run,), None, run.span, order.trail) for run in order.runs[1:]]
    inside = () if order.block is None else order.block.statements
    return [*head, *(statement for statement in inside if isinstance(statement, Line))]


def _omitted(order: Line) -> list[Run]:
    """What `omit A, B` names, without the word `omit`."""
    first = order.runs[0]
    parts = first.parts[1:]
    return [Run(parts, Span(first.span.file, parts[0].span.start, first.span.end)), *order.runs[1:]]


def _whole_text(line: Line) -> str:
    inside = [] if line.block is None else [_whole_text(s) for s in line.block.statements if isinstance(s, Line)]
    return f"{head_text(line)} {{ {' / '.join(inside)} }}" if inside else head_text(line)


def _different(lines: Sequence[Line]) -> list[Line]:
    return list({line.runs[0].span: line for line in lines}.values())


def _is(left: object, right: object) -> bool:
    return left is right


def _holds_unreadable(statements: Iterable[Statement]) -> bool:
    """Whether a line could not be read: what an order does not find may have been meant by it."""
    return any(
        isinstance(statement, Line)
        and (statement.unreadable or (statement.block is not None and _holds_unreadable(statement.block.statements)))
        for statement in statements
    )
