"""The vocabulary as data: no two readings, help and an example that reads clean everywhere, lists as the tables."""

from __future__ import annotations

import re
from itertools import combinations

import pytest

from fedfrom.findings import Severity
from fedfrom.model.csv_fields import FIELDS
from fedfrom.model.lower import lower
from fedfrom.model.lower_match import fitting
from fedfrom.quantity import USUAL_UNITS, Dimension
from fedfrom.source import SourceFile, Span
from fedfrom.syntax.parse import parse_file
from fedfrom.syntax.tree import Part, Text, Word
from fedfrom.tables import editions, load_edition
from fedfrom.vocabulary import (
    Element,
    Entry,
    Vocabulary,
    VocabularyError,
    build_vocabulary,
    compile_bound,
    compile_pattern,
    load_vocabulary,
)

VOCABULARY = load_vocabulary()
HERE = Span("test.fed", 0, 0)
# Names where the longest match decides and the shorter one cannot take the next word as its tag. Both come from the
# closed list of gear; a test of lowering shows that each reads right.
DECIDED_BY_LENGTH = {("generator", "generator connection")}


def everything() -> list[tuple[str, Entry]]:
    """Every entry once, with the first scope that it stands in; own options with their holder."""
    found: dict[int, tuple[str, Entry]] = {}
    for kind, scope in VOCABULARY.scopes.items():
        for entry in scope.entries.values():
            found.setdefault(id(entry), (kind, entry))
    return list(found.values())


def test_longest_name_wins() -> None:
    top = VOCABULARY.scope("top")
    assert top.match(["generator", "G1"]) is top.entries["generator"]
    assert top.match(["generator", "connection", "GCC1"]) is top.entries["generator connection"]
    assert top.match(["motor", "control", "center", "M"]) is top.entries["motor control center"]
    assert top.match(["pannelboard"]) is None
    assert VOCABULARY.scope("no such kind").match(["bus"]) is None


def test_no_name_is_the_start_of_another_in_its_scope() -> None:
    clashes = set()
    for scope in VOCABULARY.scopes.values():
        for left, right in combinations([e for e in scope.entries.values() if not e.unnamed], 2):
            for short, long in ((left, right), (right, left)):
                if short.words == long.words[: len(short.words)]:
                    clashes.add((short.name, long.name))
    assert clashes == DECIDED_BY_LENGTH


def sample(element: Element, vocabulary: Vocabulary) -> list[list[str]]:
    """Words that the element reads: one row for each form that matters."""
    if element.type == "quantity":
        return [["7", USUAL_UNITS[dimension]] for dimension in element.dimensions]
    if element.type == "list":
        words = list(vocabulary.lists[element.list].words)
        return [word.split() for word in words]
    if element.type == "word":
        return [[element.literal]]
    return {
        "count": [["7"]],
        "number": [["7.5"], ["7"]],
        "system": [["480Y/277", "V"], ["480", "V"], ["120", "V", "isolated"]],
        "text": [['"a text"']],
        "tag": [["XQ-7"]],
        "part": [["XQ-7.main"], ["XQ-7"]],
        "size": [["3/0", "AWG"], ["250", "kcmil"]],
        "trade": [["1-1/4", "inch"], ["4", "inch"]],
        "date": [["2026-05-31"]],
        "pair": [["480Y/277", "V"], ["125/250", "V", "DC"]],
    }[element.type]


def parts_of(words: list[str]) -> tuple[Part, ...]:
    return tuple(Text((w.strip('"'),), HERE) if w.startswith('"') else Word((w,), HERE) for w in words)


def samples_of(entry: Entry) -> list[tuple[Part, ...]]:
    rows: list[list[str]] = []
    for pattern in entry.patterns:
        built: list[list[str]] = [[]]
        for element in pattern.elements:
            built = [[*row, *more] for row in built for more in sample(element, VOCABULARY)][:200]
        rows += built
    return [parts_of(row) for row in rows]


@pytest.mark.parametrize(("kind", "entry"), everything(), ids=lambda v: getattr(v, "name", v))
def test_no_two_patterns_accept_the_same_parts(kind: str, entry: Entry) -> None:
    for holder in (entry, *entry.options):
        for parts in samples_of(holder):
            found = fitting(holder.patterns, parts, VOCABULARY)
            shown = " ".join(getattr(part, "text", "") for part in parts)
            assert len(found) == 1, f"{kind} {holder.name}: `{shown}` fits {[p.source for p in found]}"


def test_no_two_facts_known_by_their_value_accept_the_same_parts() -> None:
    for scope in VOCABULARY.scopes.values():
        holders = [(scope.unnamed, scope.kind)]
        holders += [(tuple(o for o in e.options if o.unnamed), e.name) for e in scope.entries.values()]
        for unnamed, where in holders:
            for entry in unnamed:
                for parts in samples_of(entry):
                    names = [other.name for other in unnamed if fitting(other.patterns, parts, VOCABULARY)]
                    assert names == [entry.name], f"{where}: {names}"


@pytest.mark.parametrize(("kind", "entry"), everything(), ids=lambda v: getattr(v, "name", v))
def test_every_entry_has_help_and_an_example_that_reads_clean(kind: str, entry: Entry) -> None:
    assert entry.help.endswith(".")
    assert entry.example
    for option in entry.options:
        assert option.help.endswith(".")
        assert option.example
        assert clean(kind, f"{entry.name} {option.example}" if entry.head_is_option else with_option(entry, option))
    assert clean(kind, entry.example)


def with_option(entry: Entry, option: Entry) -> str:
    head = re.sub(r'"[^"]*"', '"x"', entry.example).split(",")[0]
    return f"{head}, {option.example}"


def clean(kind: str, example: str) -> bool:
    """Whether an example gives no finding in the kind of block that it belongs to (notes apart)."""
    if kind == "loads from" or example.startswith("loads from"):
        return "loads from" not in kind or example.split()[0] in FIELDS  # read by the import, not by lowering
    text = in_block(kind, example)
    parsed = parse_file(SourceFile("test.fed", text))
    lowered = lower(parsed.tree)
    found = [f for f in (*parsed.findings, *lowered.findings) if f.severity > Severity.NOTE]
    assert not found, f"{text}\n{[f'{f.rule}: {f.message}' for f in found]}"
    return True


def in_block(kind: str, example: str) -> str:
    holders = {
        "top": "{}",
        "feed": "panelboard X {{ fed from MSB, {} }}",
        "load": 'panelboard X {{ equipment "E" 4 kVA, {} }}',
        "circuit": "panelboard X {{ circuit {{ {} }} }}",
        "main": "panelboard X {{ main breaker 100 A, {} }}",
        "tie": "tie X between A and B, {}",
        "reserve": "panelboard X {{ spare 20 A 1-pole, {} }}",
        "project": 'project "X" {{ {} }}',
        "defaults": "defaults {{ {} }}",
        "state": 'state "X" {{ {} }}',
    }
    if kind == "main" and example.split()[0] in {"breaker", "fused", "bolted-pressure", "switch"}:
        return f"panelboard X {{ main {example} }}"
    return holders.get(kind, f"{kind} X {{{{ {{}} }}}}").format(example)


def test_every_value_has_a_bound_by_its_dimension() -> None:
    for dimension in Dimension:
        assert dimension.name.lower() in VOCABULARY.default_bounds
    bound = compile_bound("15 A to 10 kA")
    assert bound.holds(compile_bound("15 A to 15 A").low)
    assert not bound.holds(compile_bound("10001 A to 10001 A").low)


@pytest.mark.parametrize("edition", editions())
def test_occupancies_are_those_of_the_lighting_table(edition: str) -> None:
    keys = {row["key"] for row in load_edition(edition).rows("lighting_220")}
    words = VOCABULARY.lists["occupancy"]
    known = {words.key(word) for word in words.words}
    assert keys <= known, "an occupancy of the table has no word"
    if edition == "NEC 2017":
        assert known & {"accessory_corridor", "accessory_storage"}


def test_words_of_code_tables_are_in_the_lists() -> None:
    rows = load_edition("NEC 2023").rows
    assert {row["type"] for row in rows("nema_enclosures_110_28")} <= set(VOCABULARY.lists["enclosure-type"].words)
    kinds = VOCABULARY.lists["raceway-kind"]
    assert {row["conduit_type"] for row in rows("conduit_ch9_t4")} <= {kinds.key(word) for word in kinds.words}
    insulations = {row["insulation"].split(" no ")[0].split(" with ")[0] for row in rows("wire_area_ch9_t5")}
    assert insulations <= set(VOCABULARY.lists["insulation"].words)
    assert set(editions()) == set(VOCABULARY.lists["code-edition"].words)


def test_columns_of_an_import_are_those_that_it_reads() -> None:
    assert set(VOCABULARY.scope("loads from").names) == set(FIELDS)


def test_other_words_lead_to_words_of_the_language() -> None:
    names = {name for scope in VOCABULARY.scopes.values() for name in scope.names}
    words = {word for found in VOCABULARY.lists.values() for word in found.words} | names | {"A", "ft"}
    for word, instead in VOCABULARY.instead.items():
        starts = {" ".join(instead.split()[:length]) for length in (1, 2, 3)} | set(instead.split())
        assert starts & words, f"{word}: {instead}"


@pytest.mark.parametrize(
    ("table", "words"),
    [
        ({"property": [{"name": "bus", "in": ["top"], "pattern": ["x"]}]}, "unknown field"),
        ({"property": [{"name": "bus", "in": ["top"], "patterns": ["a:nonsense"]}]}, "unknown type"),
        ({"property": [{"name": "bus", "in": ["top"], "patterns": ["a:@nothing"]}]}, "unknown list"),
        ({"property": [{"name": "bus", "in": ["top"]}, {"name": "bus", "in": ["top"]}]}, "twice"),
        ({"property": [{"name": "bus", "in": ["top"], "bounds": {"a": "5 A"}}]}, "LOW to HIGH"),
    ],
)
def test_a_malformed_vocabulary_is_refused(table: dict[str, object], words: str) -> None:
    with pytest.raises(VocabularyError, match=words):
        build_vocabulary([table])


def test_pattern_notation() -> None:
    patterns = compile_pattern("amperes:current material:@metal?")
    assert [len(pattern.elements) for pattern in patterns] == [2, 1]
    assert patterns[0].elements[0].dimensions == (Dimension.CURRENT,)
    assert patterns[0].elements[1].list == "metal"
