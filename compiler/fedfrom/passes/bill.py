"""The bill of materials: factory gear and field material, two lists that are never mixed.

Not bought, and so not here: what is existing or future, and what others provide. What is to be removed or relocated is
listed apart (`status`). Lengths that are not known are said in the line, never counted as nothing.
"""

from __future__ import annotations

from dataclasses import replace

from fedfrom.passes.bill_field import field_material
from fedfrom.passes.bill_gear import factory_gear
from fedfrom.passes.work import Pass, Work


def run(work: Work) -> Work:
    """Fill `Work.bill`."""
    return replace(work, bill=(*factory_gear(work), *field_material(work)))


PASS = Pass(
    "bill",
    needs=frozenset({"gear", "feeders", "circuits", "transformers", "transfers", "sources", "ties"}),
    gives=frozenset({"bill"}),
    run=run,
)


PASS = Pass(
    "bill",
    needs=frozenset({"circuits", "feeders", "transformers", "sources", "transfers", "gear"}),
    gives=frozenset({"bill"}),
    run=run,
)
