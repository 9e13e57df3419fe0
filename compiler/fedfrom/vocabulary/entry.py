"""`Vocabulary`, `Scope`, `Entry`, `WordList`: the words of the language, ready to look up."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property

from fedfrom.vocabulary.pattern import Bound, Pattern


@dataclass(frozen=True)
class WordList:
    """A closed list of words: each with its help, and the key under which tables know it (often the word itself).

    `noun`: what one of them is, for sentences ("a kind of raceway").
    """

    name: str
    noun: str
    help: str
    words: Mapping[str, str]
    keys: Mapping[str, str] = field(default_factory=dict)

    @cached_property
    def by_first_word(self) -> dict[str, tuple[tuple[str, ...], ...]]:
        """The words of each entry of the list by their first, those of most words first."""
        table: dict[str, list[tuple[str, ...]]] = {}
        for word in self.words:
            pieces = tuple(word.split())
            table.setdefault(pieces[0], []).append(pieces)
        return {first: tuple(sorted(found, key=len, reverse=True)) for first, found in table.items()}

    def key(self, word: str) -> str:
        """The key of tables for a word of the list."""
        return self.keys.get(word, word)

    def plain(self, key: str) -> str:
        """The word for a key of tables; the key itself where the list does not know it."""
        return next((word for word in self.words if self.key(word) == key), key)


@dataclass(frozen=True, slots=True)
class Entry:
    """One name of the language in the scopes where it may stand.

    `kind`: "item", "statement", "property", "verb" (of a feed), "load", "reserve" (spare, space), "device", "option".
    `patterns` say what may follow the name in its run; `options` what may follow after commas (and `option_scopes` the
    scopes whose entries may follow too). `block`: the scope of its braces, "" for none. `head_is_option`: the
    first run is itself one of the options (`main breaker 400 A`, `growth load 20 %`). `continues`: bare runs of this
    type after it belong to it ("count" for `position 2,4,6`, "part" for `lost UT-1, UT-2`). `merge`: the options'
    values are stored as values of the fact. `note` and `program` (a whole little design) serve the language reference.
    `computed` False: no pass uses it yet, so a note is given.
    """

    name: str
    kind: str
    scopes: tuple[str, ...]
    help: str
    example: str
    patterns: tuple[Pattern, ...] = ()
    forms: tuple[str, ...] = ()
    options: tuple[Entry, ...] = ()
    option_scopes: tuple[str, ...] = ()
    block: str = ""
    repeat: bool = False
    head_is_option: bool = False
    continues: str = ""
    merge: bool = False
    computed: bool = True
    bounds: Mapping[str, Bound] = field(default_factory=dict)
    unnamed: bool = False
    nested: bool = False
    shape: str = ""
    note: str = ""
    program: str = ""

    @property
    def words(self) -> tuple[str, ...]:
        """The words of the name; () for a fact that is known by its value alone (`180 ft`)."""
        return () if self.unnamed else tuple(self.name.split())

    @property
    def is_load(self) -> bool:
        return self.kind == "load"


@dataclass(frozen=True)
class Scope:
    """What may stand in one kind of block. `flat`: a comma may start another of its facts (`level 1, height 10 ft`)."""

    kind: str
    entries: Mapping[str, Entry]
    flat: bool = False
    help: str = ""

    @cached_property
    def _by_first_word(self) -> dict[str, tuple[Entry, ...]]:
        table: dict[str, list[Entry]] = {}
        for entry in self.entries.values():
            if entry.words:
                table.setdefault(entry.words[0], []).append(entry)
        return {word: tuple(sorted(found, key=lambda e: len(e.words), reverse=True)) for word, found in table.items()}

    @cached_property
    def unnamed(self) -> tuple[Entry, ...]:
        """The facts known by their value alone."""
        return tuple(entry for entry in self.entries.values() if entry.unnamed)

    @cached_property
    def names(self) -> tuple[str, ...]:
        """Every name that may stand here, in the order of the files."""
        return tuple(entry.name for entry in self.entries.values() if not entry.unnamed)

    def match(self, words: Sequence[str]) -> Entry | None:
        """The entry whose name is the longest word-wise start of `words`, or None."""
        if not words:
            return None
        for entry in self._by_first_word.get(words[0], ()):
            if entry.words == tuple(words[: len(entry.words)]):
                return entry
        return None


@dataclass(frozen=True, slots=True)
class Reserved:
    """What `match_patterns` needs to know of a set of patterns: words that are at first no tags; whether tags occur."""

    patterns: Sequence[Pattern]
    words: frozenset[str]
    has_tag: bool


@dataclass(frozen=True)
class Vocabulary:
    """All scopes and word lists.

    `instead` maps a word of the trade that the language does not take to what is written; `units_instead` does so for
    spellings of units. `bare`: for a value that stands alone and says not what it is, the form that does.
    `explain`: a word of the trade that needs none here, with the reason.
    """

    scopes: Mapping[str, Scope]
    lists: Mapping[str, WordList]
    instead: Mapping[str, str]
    units_instead: Mapping[str, str]
    bare: Mapping[str, str]
    explain: Mapping[str, str]
    default_bounds: Mapping[str, Bound]
    item_kinds: tuple[str, ...]
    _reserved: dict[int, Reserved] = field(default_factory=dict, compare=False, repr=False)

    def reserved(self, patterns: Sequence[Pattern]) -> Reserved:
        """The words that mean something in these patterns (worked out once for each entry)."""
        known = self._reserved.get(id(patterns))
        if known is None or known.patterns is not patterns:
            elements = [element for pattern in patterns for element in pattern.elements]
            literals = {element.literal for element in elements if element.type == "word"}
            lists = {element.list for element in elements if element.type == "list"}
            listed = {first for name in lists for first in self.lists[name].by_first_word}
            has_tag = any(element.type == "tag" for element in elements)
            known = self._reserved[id(patterns)] = Reserved(patterns, frozenset(literals | listed), has_tag)
        return known

    def scope(self, kind: str) -> Scope:
        """The scope of a kind of block ("top", "panelboard", "feed", "load", "room" …); an empty one if unknown."""
        return self.scopes.get(kind, Scope(kind, {}))

    def class_defaults(self, kind: str) -> Scope:
        """What may stand in `defaults KIND { … }`: the properties of the kind, and wire and ambient of its feeds."""
        own = {name: entry for name, entry in self.scope(kind).entries.items() if entry.kind == "property"}
        everywhere = self.scope("defaults").entries
        return Scope(kind, {**own, **{name: everywhere[name] for name in ("wire", "ambient") if name in everywhere}})

    def where_known(self, words: Sequence[str]) -> tuple[tuple[str, Entry], ...]:
        """Every scope that knows a name starting these words, with its entry, in the order of the files."""
        found = ((kind, scope.match(words)) for kind, scope in self.scopes.items())
        return tuple((kind, entry) for kind, entry in found if entry is not None)
