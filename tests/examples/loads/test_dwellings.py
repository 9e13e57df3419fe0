"""Published load calculations of dwellings, from the text to the printed figure. Figures are the sources'."""

from __future__ import annotations

import pytest
from tests.support.published import Published, PublishedLoads, published


def example(name: str) -> Published:
    return published("loads", name)


def test_one_family_standard() -> None:
    """source: NFPA 70 (2005), Annex D, Example D1(a)."""
    found = example("one-family-standard")
    load = found.load("LC")
    assert found.category("LC", "dwelling lighting") == pytest.approx(5100)
    assert found.category("LC", "range") == pytest.approx(8000)
    assert load.demand_va == pytest.approx(18600, abs=1)
    assert load.demand_a == pytest.approx(78, abs=0.55)  # printed 78; the page drops fractions, 77.5 unrounded
    assert load.design_a == pytest.approx(77.5, abs=0.01)
    assert load.neutral_va == pytest.approx(14550, abs=1)
    assert load.neutral_a == pytest.approx(61, abs=0.5)
    assert found.results.gear["LC"].main.rating_a == 100  # 230.79(C)
    lighting = [row for row in found.results.circuits["LC"] if row.category == "dwelling lighting"]
    assert len(lighting) == 3  # 37.5 A on 15 A circuits
    public = found.json["loads"]["LC"]["Normal"]
    assert (public["demand_va"], public["neutral_va"]) == (18600, 14550)


def test_one_family_motors_by_line() -> None:
    """source: NFPA 70 (2005), Annex D, Example D1(b): 99 A and 104 A on the lines, a 110 A service.

    The page rounds 77.5 A up to 78 A and 2.5 A down to 2 A. Its neutral (83 A in one printing, 84 A in another) adds
    12 A of line A, 8 A of line B and 3 A; by 220.61(A) the greatest net load is that of line B, 60.6 + 10 + 8 + 2.5 =
    81.1 A: two loads on opposite lines take from each other in the neutral and never add.
    """
    found = example("one-family-motors-by-line")
    load = found.load("LC")
    assert load.phase_demand_a[0] == pytest.approx(99, abs=0.55)
    assert load.phase_demand_a[1] == pytest.approx(104, abs=0.5)
    assert load.phase_demand_a[1] == pytest.approx(77.5 + 6 + 10 + 8 + 2.5, abs=0.05)
    assert load.neutral_a == pytest.approx(14550 / 240 + 10 + 8 + 2.5, abs=0.05)
    assert found.results.gear["LC"].main.rating_a == 110


def test_optional_method_heating_governs() -> None:
    """source: NFPA 70 (2005), Annex D, Example D2(a). The neutral of 15 400 VA is the page's; its 64.2 A spreads the
    dishwasher over both lines, the line that has it carries 69.2 A."""
    found = example("one-family-optional-heating")
    load = found.load("LC")
    assert found.category("LC", "general loads") == pytest.approx(17880)
    assert found.category("LC", "heating and cooling") == pytest.approx(3600)
    assert load.demand_va == pytest.approx(21480, abs=1)
    assert load.demand_a == pytest.approx(89.5, abs=0.5)
    assert load.neutral_va == pytest.approx(15400, abs=1)
    assert found.step("LC.neutral", "In spread evenly").result == "64.2 A"
    assert load.neutral_a == pytest.approx((15400 - 1200) / 240 + 10, abs=0.1)
    assert found.results.gear["LC"].main.rating_a == 100


def test_optional_method_heat_pump() -> None:
    """source: NFPA 70 (2005), Annex D, Example D2(c); its total counts heat pump and backup together."""
    found = example("one-family-optional-heat-pump")
    load = found.load("LC")
    assert found.category("LC", "heating and cooling") == pytest.approx(15510, abs=1)
    assert load.demand_va == pytest.approx(34790, abs=1)
    assert load.demand_a == pytest.approx(145, abs=0.5)
    assert found.results.gear["LC"].main.rating_a == 150


def test_house_with_electric_heat() -> None:
    """source: an article on a home's service calculation: 46 575 VA, 194 A, 200 A, 2/0 copper by the old dwelling
    table; 83 % of 200 A gives the same size."""
    found = example("house-with-electric-heat")
    load = found.load("LC")
    assert load.demand_va == pytest.approx(46575, abs=1)
    assert load.demand_a == pytest.approx(194, abs=0.5)
    assert found.results.gear["LC"].main.rating_a == 200
    assert found.results.feeders["LC"].conductors.phase == "2/0"
    assert not found.errors() & {"conductor-ampacity", "continuous-125", "feeder-overload"}
    cooling = next(line for line in load.categories if line.category == "cooling")
    assert (cooling.connected_va, cooling.demand_va) == (9000, 0)
    assert "not at the same time" in cooling.factor


def test_dwelling_service_at_83_percent() -> None:
    """source: NFPA 70, Annex D, Example D7 (from memory): 175 A, 145.25 A, 1/0 copper or 3/0 aluminum."""
    found = example("dwelling-service-83-percent")
    copper, aluminum = found.results.feeders["CU"].conductors, found.results.feeders["AL"].conductors
    assert (copper.material, copper.phase) == ("Cu", "1/0")
    assert (aluminum.material, aluminum.phase) == ("Al", "3/0")
    assert "145.2 A" in found.step("CU.feeder.phase", "not below 83 %").numbers
    assert not found.errors() & {"conductor-ampacity", "small-conductor"}


def test_forty_units_standard() -> None:
    """source: NFPA 70 (2005), Annex D, Example D4(a)."""
    found = PublishedLoads("loads", "forty-units-standard")
    unit, bank, main = found.load("R1-1"), found.load("B1"), found.load("MAIN")
    assert unit.demand_va == pytest.approx(11882, abs=1)
    assert unit.demand_a == pytest.approx(49.5, abs=0.2)
    assert unit.neutral_a == pytest.approx(39.5, abs=0.1)
    assert found.load("G1-1").demand_a == pytest.approx(16.2, abs=0.1)
    assert found.category("B1", "dwelling lighting") == pytest.approx(40590)
    assert bank.demand_a == pytest.approx(273, abs=0.5)
    assert found.step("B1.neutral", "In of line A").result == "242 A"
    assert bank.neutral_a == pytest.approx(229, abs=0.7)
    assert found.category("MAIN", "dwelling lighting") == pytest.approx(69150)
    assert main.demand_a == pytest.approx(434, abs=0.5)
    assert main.neutral_a == pytest.approx(333, abs=0.7)


def test_forty_units_optional() -> None:
    """source: NFPA 70 (2005), Annex D, Example D4(b)."""
    found = PublishedLoads("loads", "forty-units-optional")
    unit, bank, main = found.load("U1-1"), found.load("B1"), found.load("MAIN")
    assert unit.demand_va == pytest.approx(18782, abs=1)
    assert unit.demand_a == pytest.approx(78.3, abs=0.1)
    assert unit.neutral_a == pytest.approx(35, abs=0.3)
    stove = next(row for row in found.work.circuits["U1-1"] if row.category == "range")
    assert stove.load_a == pytest.approx(27, abs=0.5)  # by column B
    assert bank.demand_va == pytest.approx(167352, abs=1)
    assert bank.demand_a == pytest.approx(697, abs=0.5)
    assert main.demand_va == pytest.approx(246624, abs=1)
    assert main.demand_a == pytest.approx(1028, abs=0.5)
    assert main.neutral_a == pytest.approx(374, abs=0.7)


def test_ranges_over_12_kw() -> None:
    """source: NFPA 70 (2005), Annex D, Example D6, part A."""
    assert example("ranges-over-12-kw").category("P", "range") == pytest.approx(46800, abs=50)


def test_four_water_heaters() -> None:
    """source: a trade magazine's series on load calculations, part LV, 2008."""
    found = example("four-water-heaters")
    assert found.category("U1", "water-heater") == pytest.approx(4500)
    assert found.category("MAIN", "water-heater") == pytest.approx(13500, abs=1)


def test_thirty_two_units_lighting() -> None:
    """source: a trade magazine's series on load calculations, part LIV, 2008: 100 800 VA, at 31 % 31 248 VA.

    The compiler takes all that the units have connected together; lighting is 32 x 3150 VA of it.
    """
    found = PublishedLoads("loads", "thirty-two-units-lighting")
    line = next(line for line in found.load("MAIN").categories if line.category == "dwelling units")
    unit = [entry for entry in found.load("U1").categories if entry.category == "dwelling lighting"]
    others = 2 * 1500
    lighting = 32 * (unit[0].connected_va - others)
    assert lighting == pytest.approx(100800)
    assert line.count == 32
    assert "31 %" in line.factor
    assert line.demand_va / line.connected_va * lighting == pytest.approx(31248, abs=1)
    assert line.connected_va == pytest.approx(32 * (3150 + 3000 + 12000 + 4000))


def test_neutral_475_a() -> None:
    """source: a trade magazine's code quiz on 220.61."""
    found = example("neutral-475-a")
    assert found.load("MSB").neutral_a == pytest.approx(392.5, abs=0.1)
    assert found.step("MSB.neutral", "In of line A").result == "475 A"
