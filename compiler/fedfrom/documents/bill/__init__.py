"""The bill of materials as CSV and workbook: factory gear and field material, work on what is there, and assumptions.

Input: `Design`. Output: `bill.csv` and `bill.xlsx`. Prices and numbers come from the user's own file, joined here only.
"""

from __future__ import annotations

from collections.abc import Mapping

from fedfrom.documents.registry import Output
from fedfrom.rules.registry import Design


def write(design: Design) -> Mapping[str, bytes]:
    from fedfrom.documents.bill.sheets import bill_view
    from fedfrom.documents.bill.write import bill_csv, bill_xlsx

    view = bill_view(design)
    return {"bill.csv": bill_csv(view), "bill.xlsx": bill_xlsx(design, view)}


OUTPUT = Output("bill", "Bill of materials and take-off", ("bill.csv", "bill.xlsx"), write)
