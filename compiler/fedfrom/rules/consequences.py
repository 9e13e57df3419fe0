"""What is not known only because a line could not be read: one finding says so, in place of one for each check."""

from __future__ import annotations

from collections.abc import Iterable

from fedfrom.findings import Finding, Severity
from fedfrom.model.items import Item, Model

_SHOWN = 5


def without_consequences(model: Model, findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """The findings without those that only repeat an error of the text further down.

    What is not checked on an item that could not be read whole, or on what hangs from it, is gathered in one finding
    of the rule `waiting`. An orphan is no news while some line names a source that does not exist.
    """
    found = tuple(findings)
    unknown = _unknown(model)
    if not unknown:
        return found
    nameless = any(_nowhere(model, item) for item in model.items.values())
    kept, waiting = [], []
    for finding in found:
        if finding.severity is Severity.NOT_CHECKED and _owner(finding.subject, model) in unknown:
            waiting.append(finding)
        elif not (nameless and finding.rule == "orphan"):
            kept.append(finding)
    return (*kept, _gathered(waiting, model)) if waiting else tuple(kept)


def _nowhere(model: Model, item: Item) -> bool:
    """Whether nobody knows what feeds the item: its source is not in the project, or its lines could not be read."""
    if item.unreadable and not item.feeds:
        return True
    return any(feed.source not in model.items for feed in item.feeds)


def _unknown(model: Model) -> frozenset[str]:
    """The tags of what was not read whole, and of all that hangs from it."""
    unknown = {tag for tag, item in model.items.items() if item.unreadable or _nowhere(model, item)}
    grown = bool(unknown)
    while grown:
        more = {tag for tag, item in model.items.items() if tag not in unknown and _hangs(item, unknown)}
        unknown |= more
        grown = bool(more)
    return frozenset(unknown)


def _hangs(item: Item, unknown: set[str]) -> bool:
    return item.enclosing in unknown or any(feed.source in unknown for feed in item.feeds)


def _owner(subject: str, model: Model) -> str:
    """The item that a subject (`LP1`, `LP1.14`, `LP1.normal`, `LP1/14`) belongs to, or the subject itself."""
    for mark in (".", "/", ":", " "):
        head = subject.split(mark, 1)[0]
        if head in model.items:
            return head
    return subject


def _gathered(waiting: list[Finding], model: Model) -> Finding:
    owners = sorted({_owner(finding.subject, model) for finding in waiting}, key=lambda tag: model.items[tag].order)
    names = ", ".join(owners[:_SHOWN]) + (f" and {len(owners) - _SHOWN} more" if len(owners) > _SHOWN else "")
    count = f"{len(waiting)} checks wait" if len(waiting) > 1 else "1 check waits"
    return Finding(
        "waiting",
        Severity.NOT_CHECKED,
        owners[0],
        f"{count} for the errors in the text: {names}",
        model.items[owners[0]].tag_span,
        help="mend the errors; what is not known then is listed by its own line",
    )
