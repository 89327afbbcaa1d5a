"""Closed enclosures after IEC TR 60890: surfaces as two manuals print them, curves as remembered.

The seven rows of cooling surfaces and the worked surface stand in a sheet after VDE 0660 part 500 and, but for one
misprint, in the manual of a controller. The curves of k and c could not be read: they are remembered from a handbook,
and the closed form of k is held against that table.
"""

import random

import pytest

from ohmstead.heat.around import still
from ohmstead.heat.box import Box, Gear
from ohmstead.heat.iec import OutsideCurves, allowed_w, effective_m2, enclosure_rise, rise_constant
from ohmstead.heat.model import steady
from ohmstead.tables.reader import numbers

SIDES = {"left": "covered"}
BOTH = {"left": "covered", "right": "covered"}
ROWS = {
    "single, free": ("floor", {}, lambda h, w, d: 1.8 * h * (w + d) + 1.4 * w * d),
    "single, wall": ("wall", {}, lambda h, w, d: 1.4 * w * (h + d) + 1.8 * d * h),
    "end of row, free": ("floor", SIDES, lambda h, w, d: 1.4 * d * (h + w) + 1.8 * w * h),
    "end of row, wall": ("wall", SIDES, lambda h, w, d: 1.4 * h * (w + d) + 1.4 * w * d),
    "middle of row, free": ("floor", BOTH, lambda h, w, d: 1.8 * w * h + 1.4 * w * d + d * h),
    "middle of row, wall": ("wall", BOTH, lambda h, w, d: 1.4 * w * (h + d) + d * h),
    "middle, wall, roof covered": (
        "wall",
        {**BOTH, "top": "covered"},
        lambda h, w, d: 1.4 * w * h + 0.7 * w * d + d * h,
    ),
}


@pytest.mark.parametrize("row", ROWS)
def test_cooling_surfaces(row, outside):
    mounting, exposure, formula = ROWS[row]
    sizes = [(2.0, 0.8, 0.6), (0.6, 0.5, 0.3), (1.2, 0.7, 0.4)]
    found = [effective_m2(Box(h, w, d, mounting=mounting, exposure=exposure)) for h, w, d in sizes]
    expected = [formula(*size) for size in sizes]
    outside(
        source="cooling-sheet",
        place="cooling surfaces by way of standing",
        read="second-hand",
        what=row,
        deviation=max(abs(a / b - 1) for a, b in zip(found, expected, strict=True)),
    )
    assert found == pytest.approx(expected, rel=1e-12)


def test_worked_surface(outside):
    found = effective_m2(Box(2.0, 0.8, 0.6, mounting="floor"))
    outside(
        source="cooling-sheet",
        place="worked surface",
        read="second-hand",
        what="free, 2.0 x 0.8 x 0.6 m: 5.712 m²",
        deviation=found / 5.712 - 1,
    )
    assert found == pytest.approx(5.712, abs=5e-4)


def test_closed_form_of_k(outside):
    areas, k = numbers("enclosure_k_small", "area_m2"), numbers("enclosure_k_small", "k")
    worst = max(abs(rise_constant(a) / b - 1) for a, b in zip(areas, k, strict=True))
    outside(
        source="iec-tr-60890",
        place="curve of k, small enclosures",
        read="from memory",
        what="k = 0.618 · Ae^-0.7366",
        deviation=worst,
    )
    assert worst < 0.002  # printed to three digits


def test_curves_meet_and_are_monotone():
    """k falls with the surface and meets at 1.25 m²; c rises with slenderness and falls the more sides are covered."""
    areas = numbers("enclosure_k_large", "area_m2")
    k = [rise_constant(a) for a in areas]
    assert k == sorted(k, reverse=True)
    assert rise_constant(1.25) == pytest.approx(numbers("enclosure_k_large", "k")[0], rel=0.002)
    small = numbers("enclosure_c_small", "c")
    assert small == sorted(small) and small[0] == 1.0
    curves = [numbers("enclosure_c_large", f"c_{i}") for i in range(1, 6)]
    assert all(curve == sorted(curve) for curve in curves)
    assert all(list(row) == sorted(row, reverse=True) for row in zip(*curves, strict=True))


# Worked by us with the remembered coefficients: they catch slips of arithmetic, not of memory.
VECTORS = [
    (20.0, (0.3, 0.3, 0.2), 0.318, 15.98),
    (35.0, (0.4, 0.3, 0.2), 0.396, 21.32),
    (35.0, (0.6, 0.5, 0.3), 0.954, 11.16),
    (60.0, (0.6, 0.6, 0.3), 1.080, 15.70),
    (25.0, (0.4, 0.4, 0.25), 0.544, 12.87),
]


@pytest.mark.parametrize("heat_w, size, area_m2, middle_k", VECTORS)
def test_vectors(heat_w, size, area_m2, middle_k, outside):
    rise = enclosure_rise(Box(*size, mounting="wall"), heat_w)
    outside(
        source="computed",
        place="five wall boxes",
        read="computed",
        what="rise at mid height by the closed form of k",
        deviation=rise.middle_k / middle_k - 1,
    )
    assert rise.area_m2 == pytest.approx(area_m2, abs=6e-4)
    assert rise.middle_k == pytest.approx(middle_k, abs=0.03)
    assert allowed_w(Box(*size, mounting="wall"), rise.top_k) == pytest.approx(heat_w, rel=1e-9)


def test_profile_and_scope():
    box = Box(0.6, 0.5, 0.3, mounting="wall")
    rise = enclosure_rise(box, 35.0)
    assert rise.at_k(0.3) == pytest.approx(rise.middle_k)
    assert rise.at_k(0.45) == rise.at_k(0.6) == pytest.approx(rise.top_k)
    assert rise.at_k(0.0) == pytest.approx(2 * rise.middle_k - rise.top_k)
    assert [round(rise.at_k(h), 1) for h in (0.0, 0.3, 0.6)] == [8.8, 11.2, 13.5]
    large = Box(2.0, 0.8, 0.6, mounting="floor")
    assert enclosure_rise(large, 100.0, 3).middle_k == pytest.approx(1.3 * enclosure_rise(large, 100.0).middle_k)
    with pytest.raises(OutsideCurves, match="three at most"):
        enclosure_rise(large, 100.0, 4)
    with pytest.raises(OutsideCurves, match="12 m²"):
        enclosure_rise(Box(3.0, 4.0, 1.0, mounting="floor"), 100.0)


def made_boxes(n_box: int) -> list[tuple[Box, float]]:
    """Boxes such as builders use, within the curves of small enclosures; heat evenly in both halves."""
    dice = random.Random(60890)
    found = []
    while len(found) < n_box:
        height, width, depth = dice.uniform(0.2, 0.8), dice.uniform(0.2, 0.6), dice.uniform(0.15, 0.35)
        gear = (Gear("low", 0.25 * height), Gear("high", 0.75 * height))
        box = Box(height, width, depth, mounting=dice.choice(["wall", "free"]), gear=gear)
        if effective_m2(box) <= 1.25:
            found.append((box, 10 ** dice.uniform(0.7, 2.1)))
    return found


def test_second_method_on_a_hundred_boxes(outside):
    """The balance by correlations and the report's curves, which share no figure; docs/methods/heat.md says why they
    differ. Both within 15 %, the middle on average within 5 %."""
    middles, tops = [], []
    for box, heat_w in made_boxes(100):
        found = steady(box, still(35.0), {"low": heat_w / 2, "high": heat_w / 2})
        rise = enclosure_rise(box, heat_w)
        middles.append(((found.lower_c[0] + found.upper_c[0]) / 2 - 35.0) / rise.middle_k)
        tops.append((found.air_c(0.8 * box.height_m)[0] - 35.0) / rise.top_k)
    mean = sum(middles) / len(middles)
    outside(
        source="iec-tr-60890",
        place="table 1",
        read="from memory",
        what="mid-height rise of 100 boxes by our balance",
        deviation=max(abs(m - 1) for m in middles),
    )
    outside(
        source="iec-tr-60890",
        place="table 1",
        read="from memory",
        what="top rise of 100 boxes by our balance",
        deviation=max(abs(t - 1) for t in tops),
    )
    assert min(middles) > 0.85 and max(middles) < 1.15
    assert 0.95 < mean < 1.05
    assert min(tops) > 0.85 and max(tops) < 1.15
