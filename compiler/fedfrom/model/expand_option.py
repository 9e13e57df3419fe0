"""Changes one load: each option takes the place of the one that sets the same thing, or is added.

The language's own line begins with positions, so `60 ft` alone on a line is read as position 60 of a thing called `ft`;
in a changed load it is the length.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from fedfrom.model.expand_lines import STATUS_WORDS, Describer, Named, first_word, run_text, words_of
from fedfrom.model.expand_report import Report
from fedfrom.quantity import UNITS
from fedfrom.source import Span
from fedfrom.syntax.tree import Block, Line, Part, Run, Word


def change_load(line: Line, named: Named, orders: list[Line], describer: Describer, report: Report) -> Line:
    """A load line after the options written in a `change` of it.

    `60 ft`, `breaker 50 A`, `shunt trip` … replace or add options; `14 kW` or `mca 31 A` replaces the load itself,
    `position 2,4` the positions, a status word the status; `omit breaker` leaves an option out.
    """
    change = _LoadChange(line, named, describer, report)
    for order in orders:
        change.carry_out(order)
    return change.line


@dataclass
class _LoadChange:
    line: Line
    named: Named
    describer: Describer
    report: Report

    def carry_out(self, order: Line) -> None:
        word = first_word(order)
        if word == "change":
            message = "a load holds nothing that could be changed by a tag"
            self.report.error("change-form", self.named.subject, message, order.runs[0].span, "write its options")
        elif word == "omit":
            self._omit(order)
        elif word == "position":
            self._set_positions(order)
        else:
            for run in with_number(order):
                self._set(run)
            if order.block is not None:
                message = "an option has no braces"
                self.report.error("change-form", self.named.subject, message, order.block.span, "write a line for each")

    # --- one option ----------------------------------------------------------------------------------------------

    def _set(self, run: Run) -> None:
        words = words_of(run.parts)
        if len(run.parts) == 1 and words and words[0] in STATUS_WORDS:
            self._set_status(run)
            return
        entry = self.describer.vocabulary.scope("load").match(words)
        is_head = self._is_amount(run) and (entry is None or entry.name == "mca")
        old_text = run_text(Run(self.line.runs[0].parts[self.named.rest :], run.span)) if is_head else None
        if is_head:
            new_text = run_text(run)
            head = self.line.runs[0]
            parts = (*head.parts[: self.named.rest], *run.parts)
            self.line = replace(self.line, runs=(Run(parts, head.span), *self.line.runs[1:]))
            self._note_if_equal(run, old_text == new_text)
            return
        key = self.describer.option_key(run, "load")
        if not self._replace_in_head(run, key) and not self._replace_in_block(run, key):
            self._add(run)

    def _is_amount(self, run: Run) -> bool:
        """Whether a run says how large the load is: a bare power, current or shaft power, `mca 31 A`, `8 outlets`."""
        words = words_of(run.parts)
        if words[:1] == ["mca"] or words[1:2] == ["outlets"]:
            return True
        return self.describer.option_key(run, "load") == "load"

    def _replace_in_head(self, run: Run, key: str) -> bool:
        runs = list(self.line.runs)
        for index in range(1, len(runs)):
            if self.describer.option_key(runs[index], "load") == key:
                self._note_if_equal(run, run_text(runs[index]) == run_text(run))
                runs[index] = run
                self.line = replace(self.line, runs=tuple(runs))
                return True
        return False

    def _replace_in_block(self, run: Run, key: str) -> bool:
        block = self.line.block
        if block is None or self.named.name == "circuit":  # the block of a circuit holds loads
            return False
        for index, inside in enumerate(block.statements):
            if not isinstance(inside, Line):
                continue
            runs = with_number(inside)
            hit = next((i for i, old in enumerate(runs) if self.describer.option_key(old, "load") == key), None)
            if hit is None:
                continue
            self._note_if_equal(run, run_text(runs[hit]) == run_text(run))
            runs[hit] = run
            new = replace(inside, positions=(), runs=tuple(runs))
            statements = (*block.statements[:index], new, *block.statements[index + 1 :])
            self.line = replace(self.line, block=Block(statements, block.span))
            return True
        return False

    def _add(self, run: Run) -> None:
        self.line = replace(self.line, runs=(*self.line.runs, run))

    def _set_positions(self, order: Line) -> None:
        words = [part for run in order.runs for part in run.parts if isinstance(part, Word)][1:]
        bad = next((word for word in words if not word.text.isdigit() or int(word.text) == 0), None)
        if bad is not None or not words:
            span = bad.span if bad is not None else order.runs[0].span
            message = "positions are whole numbers from 1, with commas between them"
            self.report.error("splice-position", self.named.subject, message, span, "write `position 2,4,6`")
            return
        self._note_if_equal(order.runs[0], [w.text for w in words] == [w.text for w in self.line.positions])
        self.line = replace(self.line, positions=tuple(words))

    def _set_status(self, run: Run) -> None:
        head = self.line.runs[0]
        words = words_of(head.parts)
        has_status = bool(words) and words[0] in STATUS_WORDS
        self._note_if_equal(run, has_status and words[0] == run_text(run))
        rest: tuple[Part, ...] = head.parts[1:] if has_status else head.parts
        self.named = replace(self.named, rest=self.named.rest + (0 if has_status else 1))
        self.line = replace(self.line, runs=(Run((*run.parts, *rest), head.span), *self.line.runs[1:]))

    def _omit(self, order: Line) -> None:
        first = order.runs[0]
        wanted = [Run(first.parts[1:], first.span), *order.runs[1:]] if len(first.parts) > 1 else []
        for run in wanted:
            key = self.describer.option_key(run, "load")
            kept = tuple(r for r in self.line.runs[1:] if self.describer.option_key(r, "load") != key)
            if len(kept) == len(self.line.runs) - 1:
                shown = run_text(run)
                message = f"`omit {shown}` matches nothing of {self.named.subject}"
                self.report.error("omit-nothing", shown, message, run.span, "name an option that the load has")
            self.line = replace(self.line, runs=(self.line.runs[0], *kept))

    def _note_if_equal(self, run: Run, is_equal: bool) -> None:
        if is_equal:
            message = f"this changes nothing: {self.named.subject} has it already"
            self.report.note("change-equal", self.named.subject, message, run.span, "leave it out")


def with_number(order: Line) -> list[Run]:
    """The runs of an option line; a number in the place of positions goes back before its unit."""
    if len(order.positions) == 1 and order.runs and words_of(order.runs[0].parts)[:1]:
        unit = words_of(order.runs[0].parts)[0]
        if unit in UNITS or unit in ("outlets", "AWG", "kcmil"):
            number, first = order.positions[0], order.runs[0]
            span = Span(first.span.file, number.span.start, first.span.end)
            return [Run((number, *first.parts), span), *order.runs[1:]]
    return list(order.runs)
