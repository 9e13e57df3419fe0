"""Comments and blank lines, for the formatter."""

from __future__ import annotations

from fedfrom.source import SourceFile
from fedfrom.syntax.comments import blank_lines, comments

TEXT = """\
# head of the file
fedfrom 1   # version  \n
  # before a panel
#12 is allowed here
panelboard LP1 "no # comment" { # three things

    wire 4 #12
    main lugs#glued
}
"""


def test_comments() -> None:
    source = SourceFile("test.fed", TEXT)
    found = [(c.line, c.text, c.own_line, c.after_blank) for c in comments(source)]
    assert found == [
        (1, "# head of the file", True, True),
        (2, "# version", False, False),
        (4, "# before a panel", True, True),
        (5, "#12 is allowed here", True, False),
        (6, "# three things", False, False),
        (9, "#glued", False, False),
    ]
    assert all(TEXT[c.span.start : c.span.end] == c.text for c in comments(source))


def test_blank_lines() -> None:
    assert blank_lines(SourceFile("test.fed", TEXT)) == (3, 7)
    assert blank_lines(SourceFile("test.fed", "a\r\n\r\n \t\r\nb")) == (2, 3)
    assert blank_lines(SourceFile("test.fed", "")) == (1,)
    assert blank_lines(SourceFile("test.fed", "a\n")) == ()


def test_a_byte_order_mark_is_nothing_visible() -> None:
    (comment,) = comments(SourceFile("test.fed", "\ufeff# x"))
    assert comment.own_line
