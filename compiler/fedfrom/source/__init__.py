"""Source text, files and spans.

Input: paths. Output: `SourceFile`, `SourceSet` and `Span`. Not its job: to understand the text.
"""

from fedfrom.source.span import Place, SourceFile, Span

__all__ = ["Place", "SourceFile", "Span"]
