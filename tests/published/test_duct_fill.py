"""Limits on filling ducts and bending cables, against the printed tables of cable and trunking factors."""

from math import floor, pi

import pytest

from ohmstead.plan.cords import bend_times, cable_mm, wire_mm
from ohmstead.plate.duct import bundle_mm2, inside_mm2
from ohmstead.tables.reader import rows

# Cable-capacity tables to the On-Site Guide, as printed by makers of trunking: size -> factor.
TRUNKING = {(50, 50): 1037, (75, 75): 2371, (100, 50): 2091, (100, 75): 3189, (100, 100): 4252, (150, 50): 3091,
            (150, 75): 4743, (150, 100): 6394, (150, 150): 9697}  # fmt: skip
STRANDED = {1.5: 8.6, 2.5: 12.6, 4: 16.6, 6: 21.2, 10: 35.3, 16: 47.8, 25: 73.9}
DATA = {"Cat5e": 30.2, "Cat6": 42.2}  # the same for data cable, from a guide to perimeter trunking: d squared


def limit(rules: str) -> float:
    return float(next(row["fill_fraction"] for row in rows("duct_fill") if row["rules"] == rules))


def test_trunking_factors_are_45_per_cent_of_the_inside(outside):
    worst = max(abs(limit("IEC") * inside_mm2(*size) / factor - 1) for size, factor in TRUNKING.items())
    outside(source="on-site-guide", place="trunking factors", read="second-hand", what="what a trunking may hold",
            deviation=worst)  # fmt: skip
    assert worst < 0.035  # makers' lids and walls differ by fractions of a millimetre


def test_cable_factors_are_the_circles_of_wires(outside):
    """Flexible wire is a little thicker than the stranded wire of the table: never less, at most 11 % more."""
    found = {area: bundle_mm2([wire_mm(area)]) / factor - 1 for area, factor in STRANDED.items()}
    outside(source="on-site-guide", place="cable factors, stranded", read="second-hand", what="cross-section of a wire",
            deviation=max(found.values()))  # fmt: skip
    assert min(found.values()) >= 0
    assert max(found.values()) < 0.11


def test_how_many_wires_fit_into_a_trunking(outside):
    """1037 over 8.6: 120 stranded wires of 1.5 mm² in 50 x 50."""
    theirs = floor(1037 / 8.6)
    wide = 3.31  # outer diameter behind the factor 8.6
    ours = floor(limit("IEC") * inside_mm2(50, 50) / bundle_mm2([wide]))
    deviation = abs(ours / theirs - 1)
    outside(source="on-site-guide", place="cable and trunking factors", read="second-hand",
            what="how many 1.5 mm² wires a 50 x 50 holds", deviation=deviation)  # fmt: skip
    assert ours == theirs == 120


@pytest.mark.parametrize("category", DATA)
def test_data_cables_are_as_thick_as_in_the_guide(category, outside):
    class Cable:
        name = category

    deviation = abs(cable_mm(Cable()) ** 2 / DATA[category] - 1)  # type: ignore[arg-type]
    outside(source="trunking-guide", place="cable factors, data", read="second-hand", what="diameter of data cable",
            deviation=deviation)  # fmt: skip
    assert deviation < 0.005


def test_industrial_machinery_allows_half(outside):
    outside(source="duct-fill", place="NFPA 79, 13.5.2", read="second-hand", what="half of a raceway", deviation=0.0)
    assert limit("US") == 0.5


def test_bends_of_installed_cable(outside):
    outside(source="cable-bend-guide", place="IEC 61156-5, 4.2; cables in place", read="second-hand",
            what="inner radius in diameters", deviation=0.0)  # fmt: skip
    assert bend_times("data", 5.5) == 4
    assert bend_times("wire", 8.1) == 4
    assert bend_times("wire", 25.0) == 4
    assert bend_times("wire", 26.0) == 6


def test_a_bundle_is_the_sum_of_its_circles():
    assert bundle_mm2([2.0, 4.0]) == pytest.approx(pi + 4 * pi)
