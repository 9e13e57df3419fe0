"""Near misses for an unknown name: the few known names that a slip of the keyboard explains."""

from __future__ import annotations

from collections.abc import Iterable

_MOST = 3


def edit_distance(left: str, right: str) -> int:
    """Insertions, removals, changes and swaps of neighbours that turn one word into the other, each counted 1."""
    before: list[int] = []
    row = list(range(len(right) + 1))
    for i, a in enumerate(left, start=1):
        two_before, before, row = before, row, [i]
        for j, b in enumerate(right, start=1):
            cost = min(before[j] + 1, row[j - 1] + 1, before[j - 1] + (a != b))
            if i > 1 and j > 1 and a == right[j - 2] and left[i - 2] == b:
                cost = min(cost, two_before[j - 2] + 1)
            row.append(cost)
    return row[-1]


def nearest(name: str, known: Iterable[str]) -> tuple[str, ...]:
    """At most three of `known` that are close to `name`, the closest first, equally close ones in the order given.

    Close: at most one slip for each three letters (at least one), or equal but for upper and lower case.
    """
    folded = name.casefold()
    limit = max(1, len(name) // 3)
    found: list[tuple[int, int, str]] = []
    for order, candidate in enumerate(dict.fromkeys(known)):
        if candidate == name or abs(len(candidate) - len(name)) > limit:
            continue
        distance = 0 if candidate.casefold() == folded else edit_distance(folded, candidate.casefold())
        if distance <= limit and distance < max(len(name), 1):
            found.append((distance, order, candidate))
    return tuple(candidate for _, _, candidate in sorted(found)[:_MOST])


def listed(names: Iterable[str]) -> str:
    """Names for a sentence: "`a`", "`a` or `b`", "`a`, `b` or `c`"; "" for none."""
    quoted = [f"`{name}`" for name in names]
    if len(quoted) < 2:
        return "".join(quoted)
    return f"{', '.join(quoted[:-1])} or {quoted[-1]}"
