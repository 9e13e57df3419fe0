"""The conductor to each electrode: rods and concrete ask for no more than their caps."""

from __future__ import annotations

from fedfrom.compile import compile_texts

TEXT = """fedfrom 1
utility UT {{
    voltage     480Y/277 V
    fault       22 kA
}}
switchboard MSB "Main" {{
    fed from    UT, 20 ft, 4 sets, 600 kcmil
    main        breaker 1600 A
    {electrodes}
    lighting    "Hall" 6 kVA, 277 V, 80 ft
}}
"""


def sizes(*electrodes: str) -> tuple[str, ...]:
    text = TEXT.format(electrodes="\n    ".join(f"electrode   {each}" for each in electrodes))
    return compile_texts({"hall.fed": text}, "hall.fed").design().results.gear["MSB"].electrode_conductors


def test_each_electrode_by_its_kind() -> None:
    # source: NEC 2023, Table 250.66: over 1100 kcmil copper, 3/0; 250.66(A): rods not over 6; (B): concrete not over 4.
    assert sizes("building steel, 25 ft", "rod x 2, 12 ft", "concrete-encased, 20 ft") == ("3/0", "6", "4")


def test_rods_alone() -> None:
    # source: NEC 2023, 250.66(A)
    assert sizes("rod x 2, 12 ft") == ("6",)
