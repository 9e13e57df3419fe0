"""The calculation, as an ordered tuple of passes; each is a function from typed inputs to typed results.

Input: `Model`, `Network`, `StatePlan`, tables. Output: `Results`. Passes never print; documents never compute.
"""

from fedfrom.passes import (
    bill,
    branch_circuits,
    circuits,
    drop,
    fault,
    feeders,
    gear,
    histories,
    line_up,
    loads,
    ratings,
    rooms,
    sources,
    transformers,
)
from fedfrom.passes.work import Pass

PASSES: tuple[Pass, ...] = (
    circuits.PASS,  # first: which phase a load hangs on is needed for every load by phase above it
    loads.PASS,  # from the placed loads; everything that is sized is sized for these currents
    branch_circuits.PASS,  # from its own row alone: before feeders, whose motor rule asks for the largest branch device
    transformers.PASS,  # a transformer's rating sets the currents that its own feeder and secondary are sized for
    feeders.PASS,  # devices, conductors, mains, ties and transfer ratings, from loads and transformers
    fault.PASS,  # needs the conductors: their impedance limits the fault
    ratings.PASS,  # what each device must interrupt, from the faults
    drop.PASS,  # needs the conductors and the loads of each state
    sources.PASS,  # what sources deliver and transfer equipment withstands, from faults, loads and mains
    gear.PASS,  # the class, bus and short-circuit rating of gear: looks at everything above
    line_up.PASS,  # sections, sizes and weights, from the class and the devices
    rooms.PASS,  # what stands in each room, from the sizes
    histories.PASS,  # lays open what several of the above had a hand in
    bill.PASS,  # last: counts what all the others chose
)
