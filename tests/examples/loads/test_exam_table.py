"""Short problems of licence exams, each one line of load and one figure, worked by hand from the clause beside it."""

from __future__ import annotations

import math

import pytest
from tests.support.sizing import results_of, row_of
from tests.support.texts import loads_of, node

SINGLE, WYE, LARGE = "120/240 V", "208Y/120 V", "480Y/277 V"


def panel(lines: str, volts: str, code: str, main: str = "") -> str:
    return (
        f'fedfrom 1\nproject "Exam" {{ code NEC {code} }}\nutility UT {{\n voltage {volts}\n'
        f" fault 22 kA at service point, X/R 6\n}}\npanelboard P {{\n fed from UT, 20 ft\n {main}\n{lines}\n}}\n"
    )


DEMANDS = [
    ("2020", SINGLE, 'range "R" 16 kW', 9600, "Table 220.55 note 1: 8 kW x 1.20"),
    ("2020", SINGLE, 'range "R" 15 kW x 12', 31_050, "12 ranges 27 kW x 1.15"),
    ("2020", SINGLE, 'range "A" 9 kW x 4\nrange "B" 13 kW x 3\nrange "C" 17 kW x 3', 27_500, "note 2: 25 kW x 1.1"),
    ("2020", SINGLE, 'range "R" 8 kW x 20', 35_000, "note 3: 28 % of 160 = 44.8, column C 35 is less"),
    ("2020", SINGLE, 'range "R" 3 kW x 6', 10_620, "column A: 59 % of 18"),
    ("2020", SINGLE, 'range "A" 3 kW x 3\nrange "B" 6 kW x 3', 16_200, "70 % of 9 and 55 % of 18"),
    ("2020", SINGLE, 'range "R" 12 kW x 45', 58_750, "25 + 0.75 x 45"),
    ("2020", SINGLE, 'dryer "A" 4 kW x 4\ndryer "B" 6 kW x 3', 24_700, "220.54: (20 + 18) at 65 %"),
    ("2020", SINGLE, 'dryer "D" 5.5 kW x 22', 43_560, "47 - (22 - 11) = 36 %"),
    ("2020", SINGLE, 'dryer "D" 5 kW x 30', 47_250, "35 - 0.5 x (30 - 23) = 31.5 %"),
    ("2020", SINGLE, 'mobile-home "L" 16 kVA, 240 V 1-phase x 15', 62_400, "Table 550.31: 26 %"),
    ("2020", WYE, 'kitchen "A" 10 kW, 208 V 3-phase\nkitchen "B" 6 kW, 208 V 3-phase\n'
     'kitchen "C" 3 kW, 208 V 1-phase', 17_100, "220.56: 3 at 90 %"),
    ("2023", WYE, 'kitchen "A" 12 kW, 208 V 3-phase\nkitchen "B" 10 kW, 208 V 3-phase\n'
     'kitchen "C" 2 kW, 208 V 1-phase x 3', 22_000, "5 at 70 % = 19.6, the two largest are 22"),
    ("2023", WYE, 'kitchen "A" 5 kW, 208 V 3-phase x 8', 26_000, "6 and more at 65 %"),
    ("2017", WYE, 'lighting "Hospital" 60_000 ft2 hospital', 34_000, "2 VA/ft2: 50 at 40 %, 70 at 20 %"),
    ("2023", WYE, 'lighting "Hotel" 50_000 ft2 hotel', 44_500, "1.7 VA/ft2: 20 at 60 %, 65 at 50 %"),
    ("2020", WYE, 'receptacles "A" 80 ft multioutlet, simultaneous\nreceptacles "B" 60 ft multioutlet\n'
     'receptacles "C" 40 outlets', 16_880, "14 400 + 2160 + 7200: 10 000 and half of 13 760"),
    ("2023", WYE, 'ev-charger "L1" 16 A, 120 V x 3', 21_600, "220.57: 7200 VA each at least"),
    ("2023", LARGE, 'x-ray "A" 120 A momentary, 480 V 1-phase\nx-ray "B" 90 A momentary, 480 V 1-phase\n'
     'x-ray "C" 60 A momentary, 480 V 1-phase', 88.5 * 480, "517.73(A)(2): 60 + 22.5 + 6 A"),
    ("2023", LARGE, 'welder "A" 60 A, 480 V 3-phase, arc, duty 60 %\nwelder "B" 50 A, 480 V 3-phase, arc, duty 60 %\n'
     'welder "C" 40 A, 480 V 3-phase, arc, duty 40 %\nwelder "D" 30 A, 480 V 3-phase, arc, duty 20 % x 2',
     124.77 * math.sqrt(3) * 480, "630.11: 46.8 + 39 + 0.85 x 25.2 + 0.7 x 13.5 + 0.6 x 13.5 A"),
]  # fmt: skip


@pytest.mark.parametrize(("code", "volts", "lines", "expected", "by"), DEMANDS, ids=[row[4] for row in DEMANDS])
def test_demand(code: str, volts: str, lines: str, expected: float, by: str) -> None:
    assert node(loads_of(panel(lines, volts, code)), "P").demand_va == pytest.approx(expected, rel=1e-4), by


CIRCUITS = [
    ('motor "L" 60 hp, fused switch, time-delay, 50 ft', 150, "3", "1.75 x 77 = 134.8; 96.3 A"),
    ('motor "L" 60 hp, fused switch, non-time-delay, 50 ft', 250, "3", "3 x 77 = 231"),
    ('motor "L" 100 hp, starter wye-delta, 60 ft', 350, "2/0", "2.5 x 124 = 310; 155 A"),
    ('motor "L" 50 hp, design wound rotor, 60 ft', 100, "4", "1.5 x 65 = 97.5; 81.3 A"),
    ('motor "L" 10 hp, drive 18 A, 60 ft', 35, "12", "430.122: 22.5 A"),
    ('cooling "L" 40 A, 480 V 3-phase, 30 ft', 70, "8", "440.22: 1.75 x 40 = 70; 50 A"),
    ('hvac "L" mca 67.5 A, mocp 100 A, 460 V 3-phase, 60 ft', 100, "4", "440.4(B): 85 A"),
    ('elevator "L" 30 hp, duty 30 min, 60 ft', 100, "8", "Table 430.22(E): 0.9 x 40 = 36 A"),
    ('heating "L" 20 kW, 480 V 3-phase, 30 ft', 35, "8", "424.4(B): 1.25 x 24.06 = 30.1 A"),
    ('equipment "L" 16 A, 277 V 1-phase, continuous, current-carrying 9, ambient 40 C, 100 ft', 20, "12",
     "30 x 0.91 x 0.7 = 19.1 A"),
    ('equipment "L" 70 A, 480 V 3-phase, ambient 50 C, current-carrying 6, 100 ft', 70, "3",
     "115 x 0.82 x 0.8 = 75.4 A"),
    ('equipment "L" 95 A, 480 V 3-phase, continuous, 50 ft, wire Cu THW in PVC-80', 125, "1", "118.8 A"),
    ('equipment "L" 200 A, 480 V 3-phase, 50 ft, wire Al THWN in PVC, ambient 38 C', 200, "300", "230 x 0.88 A"),
]  # fmt: skip


@pytest.mark.parametrize(("line", "device", "phase", "by"), CIRCUITS, ids=[row[3] for row in CIRCUITS])
def test_branch_circuit(line: str, device: float, phase: str, by: str) -> None:
    row = row_of(results_of(panel(line, LARGE, "2023", "main breaker 800 A")), "L")
    assert row.device is not None
    assert row.conductors is not None
    assert (row.device.protects_a, row.conductors.phase) == (device, phase), by
