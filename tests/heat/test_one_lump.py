"""A box that is one lump, its fan switched or failed, against the closed forms."""

from dataclasses import replace

import pytest

from ohmstead.heat.around import Around, still
from ohmstead.heat.box import Box, Fan, FixedSpeed, Gear, Opening, Skin, Stated, Thermostat
from ohmstead.heat.limits import Limit, minutes_to
from ohmstead.heat.lumped import cycle_s, until_s, warmed_k
from ohmstead.heat.model import day, steady, year

CAPACITY, WALL, HEAT = 14250.0, 3.125, 35.0
FAN = Fan("fan", 0.5, "out", ((0.0, 200.0), (0.00525, 0.0)), 2.0, 0.02, stopped_fraction=1e-5)
BOX = Box(
    0.6,
    0.5,
    0.3,
    skin=Skin(thickness_m=1e-9),
    stated=Stated(wall_w_per_k=WALL, mixing_w_per_k=1e5),
    gear=(Gear("all", 0.45, CAPACITY, 1e4),),
    fan=FAN,
    openings=(Opening("grille", 0.1, 0.05),),
)


def with_fan_w_per_k():
    """Walls and air together while the fan runs."""
    found = steady(BOX, still(30.0), {"all": HEAT})
    return HEAT / (found.upper_c[0] - 30.0)


def test_a_slow_thermostat_keeps_the_beat_of_the_closed_form(outside):
    """Band of 36 to 40 °C over air of 30 °C: stands 6686 s; runs as long as walls and fan together need."""
    blown = with_fan_w_per_k()
    assert 8.5 < blown < 9.5
    stands, runs = cycle_s(HEAT, (WALL, blown), CAPACITY, (6.0, 10.0))
    box = replace(BOX, control=Thermostat(40.0, 36.0, 0.45, 0.0))
    hours = 24 * 20
    found = year(box, Around([30.0] * hours), {"all": HEAT})
    share = float(sum(found.fan_fraction)) / hours
    beat_s = 2 * 3600.0 * hours / float(sum(found.n_switched))
    outside(
        source="computed",
        place="first-order lag, fan switched",
        read="computed",
        what="share of time and beat of a fan",
        deviation=max(abs(share / (runs / (stands + runs)) - 1), abs(beat_s / (stands + runs) - 1)),
    )
    assert share == pytest.approx(runs / (stands + runs), rel=0.03)
    assert beat_s == pytest.approx(stands + runs, rel=0.03)
    assert max(found.upper_high_c) < 40.1 and min(found.upper_low_c) > 35.9


def test_minutes_after_a_failure(outside):
    """From where the fan kept it to 38 °C, as one exponential says."""
    kept = steady(BOX, still(30.0), {"all": HEAT}).upper_c[0] - 30.0
    expected = until_s(HEAT, WALL, CAPACITY, (kept, 8.0)) / 60.0
    found, part = minutes_to(BOX, still(30.0), {"all": HEAT}, [Limit("all", 0.45, 38.0)], 0)
    outside(
        source="computed",
        place="first-order lag, fan failed",
        read="computed",
        what="minutes to a limit",
        deviation=found / expected - 1,
    )
    assert part == "all"
    assert found == pytest.approx(expected, rel=0.03)


def test_warming_up_hour_by_hour():
    """A step of heat at midnight, forgotten by the next: each hour on its exponential."""
    heat = [HEAT] * 6 + [0.0] * 18
    found = day(replace(BOX, control=FixedSpeed(0.0)), Around([30.0] * 24), {"all": heat}).lump_c["upper"]
    start = found[23] - 30.0
    assert start < 0.01
    for hour in range(6):
        assert found[hour] - 30.0 == pytest.approx(warmed_k(HEAT, WALL, CAPACITY, 3600.0 * (hour + 1)), abs=0.03)
