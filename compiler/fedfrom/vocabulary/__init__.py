"""The words of the language as data: item kinds, properties, load kinds, value patterns, units, bounds, help text.

Input: `grammar/vocabulary/*.toml`. Output: `Vocabulary`. The lowering, the error messages, the editor support and the
language reference all read it; a new load kind or property is one table entry. Not its job: to read source text.
"""

from fedfrom.vocabulary.entry import Entry, Scope, Vocabulary, WordList
from fedfrom.vocabulary.load import build_vocabulary, load_vocabulary
from fedfrom.vocabulary.pattern import Bound, Element, Pattern, VocabularyError, compile_bound, compile_pattern

__all__ = [
    "Bound",
    "Element",
    "Entry",
    "Pattern",
    "Scope",
    "Vocabulary",
    "VocabularyError",
    "WordList",
    "build_vocabulary",
    "compile_bound",
    "compile_pattern",
    "load_vocabulary",
]
