"""What is wrong with `typical`, `for`, `use` and brackets as they stand, before anything is expanded."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from fedfrom.findings import Label
from fedfrom.findings.nearest import listed, nearest
from fedfrom.model.arithmetic import names_in
from fedfrom.model.expand_lines import words_of
from fedfrom.model.expand_project import ParsedProject
from fedfrom.model.expand_report import Report
from fedfrom.model.expand_values import is_unit_name, unknown_name
from fedfrom.source import Span
from fedfrom.syntax.tree import (
    Accept,
    Expect,
    For,
    Include,
    Line,
    ListValue,
    Part,
    RangeSource,
    Run,
    Statement,
    Typical,
    Use,
    Version,
    Word,
)
from fedfrom.vocabulary import Vocabulary


@dataclass
class Typicals:
    """The typicals of a project by name. Those in `circular` use themselves, straight or through others."""

    by_name: dict[str, Typical] = field(default_factory=dict)
    circular: frozenset[str] = frozenset()


def check_project(project: ParsedProject, vocabulary: Vocabulary, report: Report) -> Typicals:
    """Gather the typicals, and report what is wrong with the text as it stands."""
    typicals = _gather(project, report)
    typicals.circular = _circles(typicals.by_name, report)
    check = _Check(typicals.by_name, vocabulary, report)
    for name, tree in project.trees.items():
        _check_versions(tree.statements, name == project.root, name, report)
        for statement in tree.statements:
            check.statement(statement, {}, "top")
    for name, typical in typicals.by_name.items():
        if name not in check.used:
            advice = f"write `use {name}(…)` where it stands in the building, or leave it out"
            report.note("typical-not-used", name, f"nothing uses the typical `{name}`", typical.name.span, advice)
    return typicals


def _gather(project: ParsedProject, report: Report) -> Typicals:
    typicals = Typicals()
    for tree in project.trees.values():
        for statement in tree.statements:
            if not isinstance(statement, Typical):
                continue
            name = statement.name.text
            before = typicals.by_name.setdefault(name, statement)
            if before is not statement:
                related = (Label(before.name.span, "the first"),)
                message = f"there are two typicals `{name}`"
                report.error("typical-twice", name, message, statement.name.span, "give one another name", related)
    return typicals


def _check_versions(statements: tuple[Statement, ...], is_root: bool, file: str, report: Report) -> None:
    """`fedfrom 1` and `project` stand in the root file only. That the version comes first is a matter of syntax."""
    for statement in statements:
        if isinstance(statement, Line) and not is_root and words_of(statement.runs[0].parts)[:1] == ["project"]:
            message = "`project` stands in an included file"
            report.error("not-in-root", "project", message, statement.runs[0].span, "move it to the root file")
        if not isinstance(statement, Version):
            continue
        if not is_root:
            message = "the version of the language stands in an included file"
            report.error("not-in-root", file, message, statement.span, "leave it out: the root file's holds for all")
        elif statement.number.text != "1":
            message = f"`{statement.number.text}` is not a version of the language that is known here"
            report.error("version-unknown", file, message, statement.number.span, "write `fedfrom 1`")


def _circles(typicals: Mapping[str, Typical], report: Report) -> frozenset[str]:
    """Typicals on a circle of uses; each circle is named in full once, at the use that closes it."""
    uses = {
        name: [use for use in _uses(typical.block.statements) if use.name.text in typicals]
        for name, typical in typicals.items()
    }
    circular: set[str] = set()
    done: set[str] = set()
    for start in typicals:
        path: list[str] = [start]
        waiting: list[Iterator[Use]] = [iter(uses[start])]
        while waiting and start not in done:
            use = next(waiting[-1], None)
            if use is None:
                waiting.pop()
                done.add(path.pop())
            elif use.name.text in path:
                circle = path[path.index(use.name.text) :]
                circular.update(circle)
                chain = " → ".join([*circle, use.name.text])
                message = f"the typical `{use.name.text}` uses itself: {chain}"
                advice = "a typical may use others, not itself: take one `use` of the circle out"
                report.error("typical-circle", use.name.text, message, use.name.span, advice)
            elif use.name.text not in done:
                path.append(use.name.text)
                waiting.append(iter(uses[use.name.text]))
    return frozenset(circular)


def _uses(statements: tuple[Statement, ...]) -> Iterator[Use]:
    for statement in statements:
        if isinstance(statement, Use):
            yield statement
        if isinstance(statement, (Use, Line, For)) and statement.block is not None:
            yield from _uses(statement.block.statements)


class _Check:
    """Walks statements with the names in scope (name -> where it is declared)."""

    def __init__(self, typicals: Mapping[str, Typical], vocabulary: Vocabulary, report: Report) -> None:
        self.typicals = typicals
        self.vocabulary = vocabulary
        self.report = report
        self.used: set[str] = set()

    def statement(self, statement: Statement, names: Mapping[str, Span], place: str) -> None:
        if isinstance(statement, Line):
            self._line(statement, names)
        elif isinstance(statement, For):
            self._for(statement, names, place)
        elif isinstance(statement, Use):
            self._use(statement, names)
        elif isinstance(statement, Typical):
            self._typical(statement, place)
        elif isinstance(statement, Accept):
            self._only_outside(statement, "accept", place)
            for reference in statement.references:
                self._parts((reference.word, *((reference.text,) if reference.text else ())), names)
            self._parts((statement.reason,), names)
        elif isinstance(statement, Expect):
            self._only_outside(statement, "expect", place)
            self._parts((*statement.left.parts, *statement.right.parts), names)
        elif place != "top":
            word = "include" if isinstance(statement, Include) else "fedfrom"
            self._refuse(statement, word, "move it out of the braces")

    def _line(self, line: Line, names: Mapping[str, Span]) -> None:
        self._parts(line.positions, names)
        for run in line.runs:
            self._parts(run.parts, names)
            self._plain_words(run, names, True)
        for statement in line.block.statements if line.block is not None else ():
            self.statement(statement, names, "block")

    def _for(self, statement: For, names: Mapping[str, Span], place: str) -> None:
        if isinstance(statement.source, RangeSource):
            self._parts((statement.source.first, statement.source.last), names)
        elif isinstance(statement.source, ListValue):
            self._parts((statement.source,), names)
        inner = {**names, **self._declared(statement.name, names)}
        for inside in statement.block.statements:
            self.statement(inside, inner, place if place == "block" else "for")

    def _typical(self, typical: Typical, place: str) -> None:
        if place != "top":
            advice = "move it to the top level of the file; `use` may stay"
            self._refuse(typical, "typical", advice, typical.name.span)
        names: dict[str, Span] = {}
        for parameter in typical.parameters:
            names.update(self._declared(parameter.name, names))
            if parameter.default is not None:
                self._parts(parameter.default.parts, {})
        for statement in typical.block.statements:
            self.statement(statement, names, "typical")

    def _use(self, use: Use, names: Mapping[str, Span]) -> None:
        name = use.name.text
        self.used.add(name)
        for argument in use.arguments:
            self._parts(argument.value.parts, names)
            self._plain_words(argument.value, names, False)
        for statement in use.block.statements if use.block is not None else ():
            self.statement(statement, names, "block")
        typical = self.typicals.get(name)
        if typical is None:
            close = nearest(name, self.typicals)
            advice = f"{listed(close)} is close" if close else f"write `typical {name}(…) {{ … }}`, or include its file"
            self.report.error("unknown-typical", name, f"there is no typical `{name}`", use.name.span, advice)
            return
        self._arguments(use, typical)

    def _arguments(self, use: Use, typical: Typical) -> None:
        name = use.name.text
        known = [parameter.name.text for parameter in typical.parameters]
        given: dict[str, Span] = {}
        for argument in use.arguments:
            word = argument.name.text
            if word not in known:
                close = nearest(word, known)
                shown = listed(known).replace(" or ", " and ")
                advice = f"{listed(close)} is close" if close else f"it has {shown}" if known else "it has none"
                message = f"`{name}` has no parameter `{word}`"
                related = (Label(typical.name.span, "the typical"),)
                self.report.error("unknown-argument", name, message, argument.name.span, advice, related)
            elif word in given:
                related = (Label(given[word], "the first"),)
                message = f"`{word}` is given twice"
                self.report.error("argument-twice", name, message, argument.name.span, "leave one out", related)
            given.setdefault(word, argument.name.span)
        meant = {close for word in given if word not in known for close in nearest(word, known)[:1]}
        missing = [p for p in typical.parameters if p.name.text not in {*given, *meant} and p.default is None]
        if missing:
            words = [parameter.name.text for parameter in missing]
            shown = listed(words).replace(" or ", " and ")
            message = f"{shown} {'is' if len(words) == 1 else 'are'} not given to `{name}`"
            places = tuple(Label(parameter.name.span, "the parameter") for parameter in missing)
            advice = f"write `{', '.join(f'{word}: …' for word in words)}` between the brackets"
            self.report.error("missing-argument", name, message, use.name.span, advice, places)

    def _declared(self, word: Word, names: Mapping[str, Span]) -> dict[str, Span]:
        """A name that a `for` or `typical` declares, checked."""
        name = word.text
        if is_unit_name(name):
            message = f"`{name}` is a unit"
            self.report.error("name-is-unit", name, message, word.span, "choose a name that is no unit")
        elif not name.isidentifier() or not name.isascii():
            message = f"`{name}` cannot be named in brackets"
            advice = "a name has letters, digits and `_`, and begins with a letter"
            self.report.error("parameter-name", name, message, word.span, advice)
        elif name in names:
            related = (Label(names[name], "the other"),)
            message = f"`{name}` is declared inside the reach of another `{name}`"
            self.report.error("name-hidden", name, message, word.span, "give one of them another name", related)
        return {name: word.span}

    def _parts(self, parts: tuple[Part, ...], names: Mapping[str, Span]) -> None:
        for part in parts:
            if isinstance(part, ListValue):
                for run in part.values:
                    self._parts(run.parts, names)
                continue
            for segment in part.segments:
                if isinstance(segment, str):
                    continue
                for name in names_in(segment.expr):
                    if name.name not in names:
                        self.report.add(unknown_name(name, names, name.name))

    def _plain_words(self, run: Run, names: Mapping[str, Span], is_line: bool) -> None:
        """A plain word that reads like a parameter is a word all the same; say so, unless it is the language's own."""
        if not names:
            return
        words = words_of(run.parts)
        known = max((len(e.words) for _, e in self.vocabulary.where_known(words)), default=0) if is_line else 0
        for index, part in enumerate(run.parts):
            if isinstance(part, Word) and index >= known and len(part.segments) == 1 and part.text in names:
                message = f"`{part.text}` is a plain word here, not the parameter"
                advice = f"for its value write `[{part.text}]`"
                self.report.note("plain-parameter", part.text, message, part.span, advice)

    def _only_outside(self, statement: Accept | Expect, word: str, place: str) -> None:
        if place == "block":
            self._refuse(statement, word, "move it out of the braces of the item")

    def _refuse(self, statement: Statement, word: str, advice: str, span: Span | None = None) -> None:
        message = f"`{word}` stands inside braces, and it stands at the top level only"
        self.report.error("not-at-top-level", word, message, span or statement.span, advice)
