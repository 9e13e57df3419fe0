"""The files for editors are those of the vocabulary, and colour every sample without a stray scope."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from collections.abc import Iterator, Sequence
from functools import cache
from pathlib import Path

import pytest
from tests.support import programs
from tests.support.textmate import Token, Tokenizer

from fedfrom.editing.editors import editor_files
from fedfrom.editing.formatting import format_text
from fedfrom.editing.reading import LISTS_IN_BRACES, inner_scope, named
from fedfrom.source import SourceFile
from fedfrom.syntax.comments import comments
from fedfrom.syntax.parse import parse_file
from fedfrom.syntax.tree import For, Line, ListValue, Part, Statement, Text, Typical, Use, Word
from fedfrom.vocabulary import Scope, load_vocabulary

EDITORS = programs.ROOT / "grammar/editors"
GRAMMAR = json.loads(editor_files()["extension/syntaxes/fed.tmLanguage.json"])
# Where a name begins a statement, its scope is that of the kind of thing that it is.
SCOPES = {
    "item": "storage.type.item.fed",
    "statement": "storage.type.statement.fed",
    "verb": "keyword.other.feed.fed",
    "load": "support.type.load.fed",
    "reserve": "support.type.load.fed",
    "device": "support.type.device.fed",
    "property": "support.type.property-name.fed",
    "option": "support.type.property-name.fed",
}
SAMPLES = [file for file in programs.whole_files() if "examples" not in file.parts]


def test_the_files_are_not_stale() -> None:
    made = editor_files()
    found = {file.relative_to(EDITORS).as_posix() for file in EDITORS.rglob("*") if file.is_file()}
    assert found == set(made)
    stale = [name for name, text in made.items() if (EDITORS / name).read_text(encoding="utf-8") != text]
    assert stale == [], "run `python -m fedfrom.editing.editors`"


def test_the_extension_names_files_that_exist() -> None:
    made = editor_files()
    package = json.loads(made["extension/package.json"])
    contributes = package["contributes"]
    named_files = [
        *(language["configuration"] for language in contributes["languages"]),
        *(part["path"] for part in (*contributes["grammars"], *contributes["snippets"])),
    ]
    assert all(f"extension/{name.removeprefix('./')}" in made for name in named_files)
    configuration = json.loads(made["extension/language-configuration.json"])
    assert configuration["comments"] == {"lineComment": "#"}
    assert ["{", "}"] in configuration["brackets"]
    assert re.match(configuration["indentationRules"]["increaseIndentPattern"], "panelboard A {  # x")


def test_snippets_are_canonical_text() -> None:
    for name, snippet in json.loads(editor_files()["extension/snippets/fed.json"]).items():
        text = "\n".join(snippet["body"])
        text = re.sub(r"(?<!\\)\$\{\d+:([^}]*)\}", r"\1", text).replace("    $0\n", "")
        text = re.sub(r"\\([$\\}])", r"\1", text) + "\n"
        parsed = parse_file(SourceFile("snippet.fed", text))
        assert not parsed.findings, name
        if text.count("\n") > 1:
            assert format_text(SourceFile("snippet.fed", text)).text == text, name


# --- colours ---------------------------------------------------------------------------------------------------------


@cache
def tokenizer() -> Tokenizer:
    return Tokenizer(GRAMMAR)


class Colours:
    """The innermost scope of every character of a text."""

    def __init__(self, text: str) -> None:
        self.scopes: list[str] = []
        self.tokens: list[tuple[str, Token]] = []
        for line in text.split("\n"):
            own = ["source.fed"] * (len(line) + 1)
            for token in tokenizer().line(line):
                own[token.start : token.end] = [token.scopes[-1]] * (token.end - token.start)
                self.tokens.append((line[token.start : token.end], token))
            self.scopes += own

    def at(self, start: int, end: int) -> set[str]:
        return set(self.scopes[start:end])


def statements(block: Sequence[Statement], scope: Scope) -> Iterator[tuple[Statement, Scope]]:
    for statement in block:
        yield statement, scope
        inside = getattr(statement, "block", None)
        if inside is None:
            continue
        match statement:
            case Line():
                yield from statements(inside.statements, inner_scope(statement, scope, load_vocabulary()))
            case Typical():
                yield from statements(inside.statements, load_vocabulary().scope("top"))
            case For():
                yield from statements(inside.statements, scope)
            case Use():
                yield from statements(inside.statements, Scope("use", {}))


def texts(parts: Sequence[Part]) -> Iterator[Text]:
    for part in parts:
        if isinstance(part, Text):
            yield part
        elif isinstance(part, ListValue):
            for run in part.values:
                yield from texts(run.parts)


@pytest.mark.parametrize("file", SAMPLES, ids=lambda file: file.stem)
def test_no_stray_scope(file: Path) -> None:
    source = SourceFile(file.name, file.read_text(encoding="utf-8"))
    colours = Colours(source.text)
    plain = [text for text, token in colours.tokens if token.scopes == ("source.fed",) and text.strip()]
    assert plain == []
    for comment in comments(source):
        assert colours.at(comment.span.start, comment.span.end) == {"comment.line.number-sign.fed"}
    for statement, scope in statements(parse_file(source).tree.statements, load_vocabulary().scope("top")):
        if not isinstance(statement, Line):
            continue
        shown = source.text[statement.span.start : statement.span.end].partition("\n")[0]
        found = named(statement, scope)
        if found.entry is not None and scope.kind != "use":
            parts = statement.runs[0].parts[found.before : found.before + found.name_parts]
            expected = SCOPES[found.entry.kind]
            for part in parts:
                assert colours.at(part.span.start, part.span.end) == {expected}, (shown, found.entry.kind)
        for word in () if scope.kind in LISTS_IN_BRACES else statement.positions:
            if isinstance(word.segments[0], str):
                assert "constant.numeric.position.fed" in colours.at(word.span.start, word.span.end), shown
        for run in statement.runs:
            for text in texts(run.parts):
                assert "string.quoted.double.fed" in colours.at(text.span.start, text.span.end), shown
        after = statement.runs[0].parts[found.before + found.name_parts :]
        if found.entry is not None and found.entry.kind == "item" and after and isinstance(after[0], Word):
            assert "entity.name.tag.fed" in colours.at(after[0].span.start, after[0].span.end), shown


def test_words_in_other_places_are_no_names() -> None:
    line = '2,4 equipment main-2 "fed from, main" 3.1 kVA, 208 V 1-phase, breaker 20 A, note "x"  # bus 3'
    colours = Colours(line)
    said = {text: token.scopes[-1] for text, token in colours.tokens if text.strip()}
    assert said["2,4"] == "constant.numeric.position.fed"
    assert said["main-2"] == "variable.other.tag.fed"
    assert said["fed from, main"] == "string.quoted.double.fed"
    assert said["1-phase"] == "constant.language.fed"
    assert said["breaker"] == "support.type.device.fed"
    assert said["kVA"] == "keyword.other.unit.fed"
    assert said["# bus 3"] == "comment.line.number-sign.fed"


def test_interpolation() -> None:
    said = {text: token.scopes for text, token in Colours('fed from LP-[level], [20 ft + run] "a [n] [[b]]"').tokens}
    assert said["level"][-2:] == ("meta.interpolation.fed", "variable.parameter.fed")
    assert said["ft"][-1] == "keyword.other.unit.fed"
    assert said["n"][-3:] == ("string.quoted.double.fed", "meta.interpolation.fed", "variable.parameter.fed")
    assert said["[["][-1] == "constant.character.escape.fed"


@pytest.mark.skipif(shutil.which("vim") is None, reason="no vim on this machine")
def test_vim_reads_its_file(tmp_path: Path) -> None:
    """Vim itself names the groups of a few words."""
    (tmp_path / "a.fed").write_text('panelboard LP1 "A" {\n    fed from    UT, 40 ft   # x\n    1,3 motor M 5 hp\n}\n')
    asked = {(1, 1): "fedItem", (1, 17): "fedText", (2, 5): "fedVerb", (2, 21): "fedNumber", (2, 29): "fedComment"}
    asked[(3, 9)] = "fedLoad"
    lines = [f"call add(got, synIDattr(synID({line}, {column}, 1), 'name'))" for line, column in asked]
    script = ["syntax on", f"source {EDITORS / 'vim/syntax/fed.vim'}", "let got = []", *lines]
    script += [f"call writefile(got, '{tmp_path / 'out'}')", "qa!"]
    (tmp_path / "s.vim").write_text("\n".join(script) + "\n")
    subprocess.run(
        ["vim", "-u", "NONE", "-es", "-S", str(tmp_path / "s.vim"), str(tmp_path / "a.fed")],
        check=False,
        timeout=30,
        capture_output=True,
    )
    assert (tmp_path / "out").read_text().split() == list(asked.values())
