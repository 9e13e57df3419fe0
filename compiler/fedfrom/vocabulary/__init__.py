"""The words of the language as data: item kinds, properties, load kinds, value patterns, units, bounds, help text.

Input: `grammar/vocabulary/*.toml`. Output: `Vocabulary`. The lowering, the error messages, the editor support and the
language reference all read it; a new load kind or property is one table entry. Not its job: to read source text.
"""
