"""Editor support as files, made from the vocabulary: `python -m fedfrom.editing.editors` writes `grammar/editors`."""

from __future__ import annotations

import json
import re
import sys
from pathlib import Path
from typing import Any

from fedfrom import __version__
from fedfrom.editing.editor_words import editor_words
from fedfrom.editing.textmate import grammar
from fedfrom.editing.vim_syntax import FILETYPE, PLUGIN, syntax
from fedfrom.vocabulary import Entry, Vocabulary, load_vocabulary

_EXTENSION = "extension"
_FEED_VERBS = ("fed from", "normal from", "emergency from", "connects to")


def editor_files() -> dict[str, str]:
    """Every file by its name below `grammar/editors`."""
    words = editor_words()
    return {
        f"{_EXTENSION}/package.json": _json(_package()),
        f"{_EXTENSION}/language-configuration.json": _json(_CONFIGURATION),
        f"{_EXTENSION}/syntaxes/fed.tmLanguage.json": _json(grammar(words)),
        f"{_EXTENSION}/snippets/fed.json": _json(snippets(load_vocabulary())),
        "vim/syntax/fed.vim": syntax(words),
        "vim/ftdetect/fed.vim": FILETYPE,
        "vim/ftplugin/fed.vim": PLUGIN,
        "README.md": _README,
    }


_README = """# Editors

Made from the vocabulary by `python -m fedfrom.editing.editors`; a test fails while a file is stale.

- `extension/` is an extension folder in the common format (language, TextMate grammar, brackets, comments, snippets).
  Copy it, or link it, into the folder where your editor keeps its extensions, under the name `fedfrom`.
- `extension/syntaxes/fed.tmLanguage.json` alone is enough for an editor that reads TextMate grammars.
- `vim/` belongs into `~/.vim/pack/fedfrom/start/fedfrom`.

Layout is the same everywhere: let your editor run `fedfrom fmt -` on save.
"""


def _package() -> dict[str, Any]:
    return {
        "name": "fedfrom",
        "displayName": "Fedfrom",
        "description": "Power distribution as text: colours, brackets, comments and snippets for .fed files",
        "version": __version__,
        "publisher": "fedfrom",
        "engines": {"vscode": "^1.60.0"},
        "categories": ["Programming Languages", "Snippets"],
        "contributes": {
            "languages": [
                {
                    "id": "fed",
                    "aliases": ["Fedfrom"],
                    "extensions": [".fed"],
                    "configuration": "./language-configuration.json",
                }
            ],
            "grammars": [{"language": "fed", "scopeName": "source.fed", "path": "./syntaxes/fed.tmLanguage.json"}],
            "snippets": [{"language": "fed", "path": "./snippets/fed.json"}],
            "configurationDefaults": {"[fed]": {"editor.tabSize": 4, "editor.insertSpaces": True}},
        },
    }


_CONFIGURATION: dict[str, Any] = {
    "comments": {"lineComment": "#"},
    "brackets": [["{", "}"], ["(", ")"], ["[", "]"]],
    "autoClosingPairs": [
        {"open": "{", "close": "}", "notIn": ["string", "comment"]},
        {"open": "(", "close": ")", "notIn": ["string", "comment"]},
        {"open": "[", "close": "]", "notIn": ["comment"]},
        {"open": '"', "close": '"', "notIn": ["string", "comment"]},
    ],
    "surroundingPairs": [["{", "}"], ["(", ")"], ["[", "]"], ['"', '"']],
    "wordPattern": "[A-Za-z0-9_][A-Za-z0-9_-]*",
    "indentationRules": {"increaseIndentPattern": '^[^#"]*\\{\\s*(#.*)?$', "decreaseIndentPattern": "^\\s*\\}"},
}


# --- snippets --------------------------------------------------------------------------------------------------------


def snippets(vocabulary: Vocabulary) -> dict[str, Any]:
    """One for each kind of item, statement and load, in the canonical layout."""
    found: dict[str, Any] = {}
    top = vocabulary.scope("top").entries.values()
    for entry in top:
        body = _item(entry, vocabulary) if entry.kind == "item" else [_plain(entry.example)]
        found[entry.name] = {"prefix": entry.name, "body": body, "description": entry.help}
    for entry in vocabulary.scope("switchboard").entries.values():
        if entry.kind in ("load", "reserve"):
            body = [_plain(entry.example)]
            found[entry.name] = {"prefix": entry.name, "body": body, "description": entry.help}
    return found


def _item(entry: Entry, vocabulary: Vocabulary) -> list[str]:
    """An item with its feed: places to fill in are numbered."""
    inside = vocabulary.scope(entry.name).entries
    lines = [f'{entry.name} ${{1:TAG}} "${{2:Title}}" {{']
    place = 3
    verbs = [verb for verb in _FEED_VERBS if verb in inside]
    column = max([12, *(-(-(len(verb) + 1) // 4) * 4 for verb in verbs)])
    for verb in verbs:
        lines.append(f"    {verb:<{column}}${{{place}:SOURCE}}, ${{{place + 1}:100}} ft")
        place += 2
    if not verbs and "voltage" in inside:
        lines.append(f"    {'voltage':<12}${{{place}:480Y/277}} V")
    return [*lines, "    $0", "}"]


def _plain(text: str) -> str:
    """Text in which nothing is taken for a place to fill in."""
    return re.sub(r"([$\\}])", r"\\\1", text)


def _json(content: object) -> str:
    return json.dumps(content, indent=4, ensure_ascii=False) + "\n"


# --- writing ---------------------------------------------------------------------------------------------------------


def write(folder: Path) -> None:
    """Writes every file below a folder."""
    for name, text in editor_files().items():
        file = folder / name
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text, encoding="utf-8", newline="\n")


if __name__ == "__main__":
    write(Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).parents[3] / "grammar/editors")
