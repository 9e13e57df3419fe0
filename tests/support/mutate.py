"""Single mistakes, made at random places of a correct program: what a person gets wrong when typing.

A mutator proposes every place where its mistake can be made, as edits of whole lines; the caller draws one with its
own seeded generator. Edits of different mutators on different lines can be put together into one file.
"""

from __future__ import annotations

import random
import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from fedfrom.syntax.scan import Kind, mask, scan

TEXT = re.compile(r'"(?:[^"\\\n]|\\.)*"')
COMMENT = re.compile(r"#(?!\d).*$")


@dataclass(frozen=True, slots=True)
class Mutation:
    """One mistake: new text for some lines (from 0), and where a finding belongs: (line, line within its new text)."""

    kind: str
    edits: tuple[tuple[int, str], ...]
    at: frozenset[tuple[int, int]]

    @property
    def touched(self) -> set[int]:
        """The lines that the mistake has to do with."""
        return {line for line, _ in self.edits} | {line for line, _ in self.at}


@dataclass(frozen=True, slots=True)
class Mutant:
    """A file with mistakes in it: for each its kind and the lines (from 1) of which one must be named."""

    text: str
    kinds: tuple[str, ...]
    lines: tuple[frozenset[int], ...]


@dataclass(frozen=True, slots=True)
class Code:
    """A line of the program without its comment: `masked` has texts and splices covered."""

    number: int
    text: str
    masked: str

    def edit(self, kind: str, text: str, within: int = 0) -> Mutation:
        """A mutation of this line alone."""
        return Mutation(kind, ((self.number, text),), frozenset({(self.number, within)}))

    def put(self, kind: str, at: int, end: int, text: str) -> Mutation:
        """A mutation that replaces `[at, end)` of this line."""
        return self.edit(kind, self.text[:at] + text + self.text[end:])


class Program:
    """A correct program, line by line, with its matching braces."""

    def __init__(self, text: str) -> None:
        self.lines = text.rstrip("\n").split("\n")
        self.code = [
            Code(number, line, mask(line))
            for number, line in enumerate(self._bare(line) for line in self.lines)
            if line.strip()
        ]
        self.closings = self._closings(text)
        self.bracketed = self._bracketed()

    @staticmethod
    def _bare(line: str) -> str:
        spared = TEXT.sub(lambda match: "_" * len(match[0]), line)
        comment = COMMENT.search(spared)
        return line[: comment.start()].rstrip() if comment else line.rstrip()

    @staticmethod
    def _closings(text: str) -> list[tuple[int, int, int]]:
        """(offset of a `}` in the text, its line, the line of the head that it closes)."""
        found = []
        heads = []
        for piece in scan(text):
            if piece.kind is Kind.HEAD:
                heads.append(text.count("\n", 0, piece.end))
            elif piece.kind is Kind.CLOSE:
                found.append((piece.start, text.count("\n", 0, piece.start), heads.pop()))
        return found

    def _bracketed(self) -> dict[int, set[int]]:
        """For a line whose round bracket goes on over others: the lines of its `(` and its `)`."""
        found = {}
        opened: list[int] = []
        for code in self.code:
            for sign in re.findall("[()]", code.masked):
                if sign == "(":
                    opened.append(code.number)
                elif (first := opened.pop()) != code.number:
                    found[first] = found[code.number] = {first, code.number}
        return found

    def column(self, offset: int, line: int) -> int:
        """The column (from 0) of an offset that lies on a line (from 0)."""
        return offset - sum(len(text) + 1 for text in self.lines[:line])

    def with_mistakes(self, mutations: Sequence[Mutation]) -> Mutant:
        """The program with these mistakes, which must touch different lines."""
        edits = dict(edit for mutation in mutations for edit in mutation.edits)
        made: list[str] = []
        first: list[int] = []
        for number, line in enumerate(self.lines):
            first.append(len(made) + 1)
            made.extend(edits.get(number, line).split("\n"))
        lines = [frozenset(first[line] + within for line, within in mutation.at) for mutation in mutations]
        return Mutant("\n".join(made) + "\n", tuple(mutation.kind for mutation in mutations), tuple(lines))


Mutator = Callable[[Program, random.Random], Iterator[Mutation]]
STRUCTURE: dict[str, Mutator] = {}
MEANING: dict[str, Mutator] = {}


def _structure(mutator: Mutator) -> Mutator:
    STRUCTURE[mutator.__name__] = mutator
    return mutator


def _meaning(mutator: Mutator) -> Mutator:
    MEANING[mutator.__name__] = mutator
    return mutator


def _plain(program: Program) -> Iterator[Code]:
    """Statements without a brace or round bracket, on lines of their own."""
    for code in program.code:
        bare = code.masked.strip()
        if bare and not re.search(r"[{}()]|,$|^[\w ]+:", bare):
            yield code


# --- braces ---------------------------------------------------------------------------------------------------------


@_structure
def drop_open_brace(program: Program, rng: random.Random) -> Iterator[Mutation]:
    for code in program.code:
        for match in re.finditer(r"\{", code.masked):
            yield code.put("drop_open_brace", match.start(), match.end(), "")


@_structure
def stray_open_brace(program: Program, rng: random.Random) -> Iterator[Mutation]:
    for code in _plain(program):
        yield code.edit("stray_open_brace", code.text + " {")


@_structure
def drop_close_brace(program: Program, rng: random.Random) -> Iterator[Mutation]:
    for offset, line, head in program.closings:
        at = program.column(offset, line)
        text = program.lines[line]
        edited = (text[:at] + text[at + 1 :]).rstrip()
        yield Mutation("drop_close_brace", ((line, edited),), frozenset({(head, 0)}))


@_structure
def stray_close_brace(program: Program, rng: random.Random) -> Iterator[Mutation]:
    for code in _plain(program):
        yield code.edit("stray_close_brace", code.text + " }")


@_structure
def stray_close_line(program: Program, rng: random.Random) -> Iterator[Mutation]:
    for code in _plain(program):
        indent = code.text[: len(code.text) - len(code.text.lstrip())]
        yield code.edit("stray_close_line", f"{code.text}\n{indent}}}", within=1)


@_structure
def brace_on_next_line(program: Program, rng: random.Random) -> Iterator[Mutation]:
    for code in program.code:
        if code.masked.endswith("{"):
            indent = code.text[: len(code.text) - len(code.text.lstrip())]
            mutation = code.edit("brace_on_next_line", code.text[:-1].rstrip() + "\n" + indent + "{")
            yield Mutation(mutation.kind, mutation.edits, frozenset({(code.number, 0), (code.number, 1)}))


# --- texts and brackets ---------------------------------------------------------------------------------------------


@_structure
def drop_quote(program: Program, rng: random.Random) -> Iterator[Mutation]:
    for code in program.code:
        for match in re.finditer("[\x02\x03]", code.masked):
            yield code.put("drop_quote", match.start(), match.end(), "")


@_structure
def add_quote(program: Program, rng: random.Random) -> Iterator[Mutation]:
    for code in program.code:
        for match in re.finditer(r"(?<=\w)(?=[ ,]|$)", code.masked):
            yield code.put("add_quote", match.start(), match.end(), '"')


@_structure
def drop_bracket(program: Program, rng: random.Random) -> Iterator[Mutation]:
    for code in program.code:
        for match in re.finditer("[()\x04\x05]", code.masked):
            mutation = code.put("drop_bracket", match.start(), match.end(), "")
            at = {(line, 0) for line in program.bracketed.get(code.number, {code.number})}
            yield Mutation(mutation.kind, mutation.edits, frozenset(at))


@_structure
def add_bracket(program: Program, rng: random.Random) -> Iterator[Mutation]:
    for code in _plain(program):
        for match in re.finditer(r"(?<=\w)(?=[ ,]|$)", code.masked):
            yield code.put("add_bracket", match.start(), match.end(), rng.choice("()[]"))


@_structure
def braced_parameter(program: Program, rng: random.Random) -> Iterator[Mutation]:
    for code in program.code:
        for match in re.finditer("\x04\x00*\x05", code.masked):
            inner = code.text[match.start() + 1 : match.end() - 1]
            yield code.put("braced_parameter", match.start(), match.end(), "{" + inner + "}")


@_structure
def broken_arithmetic(program: Program, rng: random.Random) -> Iterator[Mutation]:
    for code in program.code:
        for match in re.finditer("\x04\x00*\x05", code.masked):
            inner = code.text[match.start() + 1 : match.end() - 1]
            ways = [f"[{inner} +]", f"[{inner} 2 {inner}]", f"[({inner}]", f"[{inner})]", "[]", f"[* {inner}]"]
            yield code.put("broken_arithmetic", match.start(), match.end(), rng.choice(ways))


# --- signs that do not belong ---------------------------------------------------------------------------------------


@_structure
def semicolon(program: Program, rng: random.Random) -> Iterator[Mutation]:
    for code in _plain(program):
        yield code.edit("semicolon", code.text + ";")


@_structure
def equals_sign(program: Program, rng: random.Random) -> Iterator[Mutation]:
    for code in _plain(program):
        match = re.match(r"(\s*[A-Za-z][A-Za-z\-]*)( +)(?=[\w\x02])", code.masked)
        if match and match[1].strip() not in RESERVED:
            yield code.put("equals_sign", match.start(2), match.end(2), " = ")


@_structure
def colon(program: Program, rng: random.Random) -> Iterator[Mutation]:
    for code in _plain(program):
        match = re.match(r"(\s*[A-Za-z][A-Za-z\-]*)( +)(?=[\w\x02])", code.masked)
        if match and match[1].strip() not in RESERVED:
            yield code.put("colon", match.start(2), match.end(2), ": ")


@_structure
def trailing_comma(program: Program, rng: random.Random) -> Iterator[Mutation]:
    for code in _plain(program):
        yield code.edit("trailing_comma", code.text + ",")


@_structure
def line_broken_at_comma(program: Program, rng: random.Random) -> Iterator[Mutation]:
    for code in _plain(program):
        indent = code.text[: len(code.text) - len(code.text.lstrip())]
        for match in re.finditer(r", (?=\S)", code.masked):
            broken = f"{code.text[: match.start()]},\n{indent}    {code.text[match.end() :]}"
            yield code.edit("line_broken_at_comma", broken)


@_structure
def doubled_comma(program: Program, rng: random.Random) -> Iterator[Mutation]:
    for code in _plain(program):
        for match in re.finditer(r",(?= )", code.masked):
            yield code.put("doubled_comma", match.start(), match.end(), ",,")


@_structure
def stray_sign(program: Program, rng: random.Random) -> Iterator[Mutation]:
    for code in _plain(program):
        for match in re.finditer(r" (?=\S)|$", code.masked):
            yield code.put("stray_sign", match.start(), match.end(), f" {rng.choice('$@?!&^~|`')} ")


@_structure
def curly_quotes(program: Program, rng: random.Random) -> Iterator[Mutation]:
    for code in program.code:
        for match in re.finditer("\x02(\x00*)\x03", code.masked):
            yield code.put("curly_quotes", match.start(), match.end(), f"“{code.text[match.start(1) : match.end(1)]}”")


@_structure
def no_break_blank(program: Program, rng: random.Random) -> Iterator[Mutation]:
    for code in program.code:
        for match in re.finditer(r"(?<=\w) (?=\w)", code.masked):
            yield code.put("no_break_blank", match.start(), match.end(), "\u00a0")


@_structure
def long_dash(program: Program, rng: random.Random) -> Iterator[Mutation]:
    for code in program.code:
        for match in re.finditer(r"(?<=\w)-(?=\w)", code.masked):
            yield code.put("long_dash", match.start(), match.end(), "–")


# --- numbers and positions ------------------------------------------------------------------------------------------


@_structure
def thousands_comma(program: Program, rng: random.Random) -> Iterator[Mutation]:
    for code in _plain(program):
        for match in re.finditer(r"(?<= )(\d{1,3})_?(\d{3})(?= )", code.masked):
            yield code.put("thousands_comma", match.start(), match.end(), f"{match[1]},{match[2]}")


@_structure
def number_sign(program: Program, rng: random.Random) -> Iterator[Mutation]:
    for code in _plain(program):
        for match in re.finditer(r"(?<= )(?=\d)", code.masked):
            if code.masked[: match.start()].strip():
                yield code.put("number_sign", match.start(), match.end(), "#")


@_structure
def foot_mark(program: Program, rng: random.Random) -> Iterator[Mutation]:
    for code in program.code:
        for match in re.finditer(r"(?<=\d) ft\b", code.masked):
            yield code.put("foot_mark", match.start(), match.end(), "'")


@_structure
def inch_mark(program: Program, rng: random.Random) -> Iterator[Mutation]:
    for code in program.code:
        for match in re.finditer(r"(?<=\d) (?:ft|inch)\b", code.masked):
            yield code.put("inch_mark", match.start(), match.end(), '"')


@_structure
def glued_count(program: Program, rng: random.Random) -> Iterator[Mutation]:
    for code in program.code:
        for match in re.finditer(r"(?<=\w )x (?=\d+(?:,|$))", code.masked):
            yield code.put("glued_count", match.start(), match.end(), "x")


@_structure
def dashed_positions(program: Program, rng: random.Random) -> Iterator[Mutation]:
    for code in _plain(program):
        match = re.match(r"\s*(\d+(?:,\d+)+)(?= )", code.masked)
        if match:
            yield code.put("dashed_positions", match.start(1), match.end(1), match[1].replace(",", "-"))


@_structure
def spaced_positions(program: Program, rng: random.Random) -> Iterator[Mutation]:
    for code in _plain(program):
        match = re.match(r"\s*(\d+(?:,\d+)+)(?= )", code.masked)
        if match:
            yield code.put("spaced_positions", match.start(1), match.end(1), match[1].replace(",", ", "))


@_structure
def bare_arithmetic(program: Program, rng: random.Random) -> Iterator[Mutation]:
    for code in program.code:
        for match in re.finditer(r"(\d+) ft(?=,|$)", code.masked):
            yield code.put("bare_arithmetic", match.start(), match.end(), f"{match[1]} ft {rng.choice('+*')} 10 ft")


# --- words of the structure -----------------------------------------------------------------------------------------


@_structure
def fused_feed(program: Program, rng: random.Random) -> Iterator[Mutation]:
    for code in program.code:
        match = re.match(r"\s*(fed from)\b", code.masked)
        if match:
            yield code.put("fused_feed", match.start(1), match.end(1), "fedfrom")


@_structure
def drop_structure_word(program: Program, rng: random.Random) -> Iterator[Mutation]:
    for code in program.code:
        pattern = r"^\s*(?:for .*?(\bin |\.\.)|accept .*?(\bon |\bbecause )|expect .*?([<>=]+ ))"
        match = re.match(pattern, code.masked)
        if match:
            group = next(index for index in (1, 2, 3) if match[index])
            yield code.put("drop_structure_word", match.start(group), match.end(group), " " if group == 1 else "")


@_structure
def misspelt_structure_word(program: Program, rng: random.Random) -> Iterator[Mutation]:
    for code in program.code:
        match = re.match(r"\s*(for|use|expect)\b", code.masked)
        if match:
            word = match[1]
            swapped = word[0] + word[2] + word[1] + word[3:]
            yield code.put("misspelt_structure_word", match.start(1), match.end(1), swapped)


# --- what only the meaning shows ------------------------------------------------------------------------------------

RESERVED = {"fedfrom", "include", "typical", "for", "use", "accept", "expect"}


@_meaning
def misspelt_name(program: Program, rng: random.Random) -> Iterator[Mutation]:
    for code in program.code:
        match = re.match(r"\s*(?:\d[\d,]* +)?([a-z]{5,})\b", code.masked)
        if match and match[1] not in RESERVED and match[1][2] != match[1][3]:
            word = match[1]
            yield code.put("misspelt_name", match.start(1), match.end(1), word[:2] + word[3] + word[2] + word[4:])


@_meaning
def drop_value(program: Program, rng: random.Random) -> Iterator[Mutation]:
    for code in _plain(program):
        match = re.match(r"(\s*(?:bus|rating|voltage|secondary|place|poles|fault))\b.+$", code.masked)
        if match:
            yield code.edit("drop_value", match[1])


@_meaning
def wrong_unit(program: Program, rng: random.Random) -> Iterator[Mutation]:
    for code in _plain(program):
        for match in re.finditer(r"(?<=\d )(ft|A|kVA|kW|V|hp|kA)(?=,|$| )", code.masked):
            wrong = "ohm" if match[1] != "ft" else "kVA"
            yield code.put("wrong_unit", match.start(1), match.end(1), wrong)


@_meaning
def drop_unit(program: Program, rng: random.Random) -> Iterator[Mutation]:
    for code in _plain(program):
        for match in re.finditer(r"(?<=\d) (ft|A|kVA|kW|hp|kA)(?=,|$)", code.masked):
            yield code.put("drop_unit", match.start(), match.end(), "")


@_meaning
def drop_comma(program: Program, rng: random.Random) -> Iterator[Mutation]:
    for code in _plain(program):
        for match in re.finditer(r",(?= )", code.masked):
            yield code.put("drop_comma", match.start(), match.end(), "")


@_meaning
def unknown_tag(program: Program, rng: random.Random) -> Iterator[Mutation]:
    for code in program.code:
        match = re.match(r"\s*(?:fed|normal|emergency) from +([A-Z][\w\-]*)", code.masked)
        if match:
            yield code.put("unknown_tag", match.start(1), match.end(1), match[1] + "Q")


@_meaning
def unknown_parameter(program: Program, rng: random.Random) -> Iterator[Mutation]:
    for code in program.code:
        for match in re.finditer("\x04\x00*\x05", code.masked):
            yield code.put("unknown_parameter", match.start(), match.end(), "[wrong]")


@_meaning
def doubled_word(program: Program, rng: random.Random) -> Iterator[Mutation]:
    for code in _plain(program):
        match = re.match(r"\s*([a-z]+)\b(?= )", code.masked)
        if match and match[1] not in RESERVED:
            yield code.put("doubled_word", match.end(1), match.end(1), f" {match[1]}")


def draw(program: Program, kinds: dict[str, Mutator], rng: random.Random) -> Mutation | None:
    """One mutation of a kind drawn first, so that rare kinds count as much as common ones."""
    for _ in range(20):
        proposals = list(kinds[rng.choice(sorted(kinds))](program, rng))
        if proposals:
            return rng.choice(proposals)
    return None


def mutants(text: str, kinds: dict[str, Mutator], seed: int, count: int) -> Iterator[Mutant]:
    """`count` files with one mistake each."""
    program, rng = Program(text), random.Random(seed)
    for _ in range(count):
        mutation = draw(program, kinds, rng)
        if mutation is not None:
            yield program.with_mistakes([mutation])


def many_mistakes(text: str, kinds: dict[str, Mutator], seed: int, count: int, mistakes: int) -> Iterator[Mutant]:
    """`count` files with several mistakes each, at least two lines apart from one another."""
    program, rng = Program(text), random.Random(seed)
    for _ in range(count):
        chosen: list[Mutation] = []
        taken: set[int] = set()
        while len(chosen) < mistakes:
            mutation = draw(program, kinds, rng)
            if mutation is None:
                break
            near = {line + shift for line in mutation.touched for shift in (-2, -1, 0, 1, 2)}
            if not near & taken:
                chosen.append(mutation)
                taken |= mutation.touched
        yield program.with_mistakes(chosen)
