"""The Vim syntax file, made from the vocabulary: names are coloured where a fact may begin."""

from __future__ import annotations

from collections.abc import Iterable

from fedfrom.editing.editor_words import CONTROL, EditorWords

_LINKS = {
    "fedComment": "Comment",
    "fedText": "String",
    "fedEscape": "SpecialChar",
    "fedSplice": "Special",
    "fedControl": "Statement",
    "fedItem": "Structure",
    "fedStatement": "Structure",
    "fedVerb": "Keyword",
    "fedLoad": "Type",
    "fedDevice": "Type",
    "fedName": "Identifier",
    "fedStatus": "StorageClass",
    "fedListed": "Constant",
    "fedJoining": "Operator",
    "fedNumber": "Number",
    "fedBrace": "Delimiter",
}
_END = r"\ze\%([[:blank:],{}#)]\|$\)"
# Looked back at, for numbers before a name are coloured by then.
_FACT = r"\%(\%(^\|[{,]\)\s*\%(STATUS\s\+\)\=\%(\d\+\%(,\d\+\)*\s\+\)\=\)\@200<="


def syntax(words: EditorWords) -> str:
    """`syntax/fed.vim`."""
    status = _any(words.status)
    fact = _FACT.replace("STATUS", rf"\%({status}\)")
    lines = [
        '" Fedfrom. Made from the vocabulary by `python -m fedfrom.editing.editors`: not to be edited.',
        "if exists('b:current_syntax')",
        "  finish",
        "endif",
        "syntax case match",
        rf"syntax match fedListed '\%([[:alnum:]./-]\)\@1<!\%({_any(words.listed)}\){_END}'",
        rf"syntax match fedJoining '\%([[:alnum:]./-]\)\@1<!\%({_any(words.joining)}\){_END}'",
        rf"syntax match fedNumber '\%([[:alnum:]._-]\)\@1<!-\=\d[0-9_]*\%(-\d\+/\d\+\|/\d\+\|\.\d\+\)\="
        rf"\%(\s*\%({_any(words.units)}\)[[:alnum:]/-]\@!\|[[:alnum:]-]\@!\)'",
        r"syntax match fedNumber '\%([[:alnum:]._-]\)\@1<!\d\+Y\=/\d\+\s*V\>'",
        rf"syntax match fedStatus '\%(^\|[{{,]\)\s*\zs\%({status}\){_END}'",
        rf"syntax match fedName '{fact}\%({_any(words.names)}\){_END}'",
        rf"syntax match fedDevice '{fact}\%({_any(words.devices)}\){_END}'",
        rf"syntax match fedVerb '{fact}\%({_any(words.verbs)}\){_END}'",
        rf"syntax match fedLoad '{fact}\%({_any(words.loads)}\){_END}'",
        rf"syntax match fedStatement '{fact}\%({_any(words.statements)}\){_END}'",
        rf"syntax match fedItem '{fact}\%({_any(words.items)}\)\ze\s\+[^,#]*\%({{\|$\)'",
        rf"syntax match fedControl '\%(^\|{{\)\s*\zs\%({_any(CONTROL)}\){_END}'",
        r"syntax match fedBrace '[{}]'",
        r"syntax region fedSplice start='\[' end='\]' oneline contained containedin=ALLBUT,fedComment",
        r"syntax match fedEscape '\\[\"\\]\|\[\[\|\]\]' contained",
        "syntax region fedText start='\"' skip='\\\\.' end='\"' oneline contains=fedEscape,fedSplice",
        r"syntax match fedComment '#.*$'",
        *(f"highlight default link {group} {link}" for group, link in _LINKS.items()),
        "let b:current_syntax = 'fed'",
    ]
    return "\n".join(lines) + "\n"


FILETYPE = "autocmd BufRead,BufNewFile *.fed setfiletype fed\n"
PLUGIN = "setlocal commentstring=#\\ %s\nsetlocal comments=:#\nsetlocal expandtab shiftwidth=4 softtabstop=4\n"


def _any(words: Iterable[str]) -> str:
    return r"\|".join(word.replace("/", "/").replace(" ", r"\s\+").replace(".", r"\.") for word in words)
