"""Values with a dimension: exact fractions in base units, units by name, and voltage systems as a closed table.

Input: text of units and numbers. Output: `Quantity`, `Dimension`, `VoltageSystem`. Not its job: to know what a
quantity is used for.
"""

from fedfrom.quantity.quantity import UNITS, USUAL_UNITS, Dimension, DimensionError, Quantity, Unit
from fedfrom.quantity.voltage import SYSTEMS, VoltageSystem, find_system

__all__ = [
    "SYSTEMS",
    "UNITS",
    "USUAL_UNITS",
    "Dimension",
    "DimensionError",
    "Quantity",
    "Unit",
    "VoltageSystem",
    "find_system",
]
