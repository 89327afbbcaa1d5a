"""Laws that every cabinet obeys: energy is kept, more heat is warmer, and what helps does not hurt."""

from dataclasses import replace
from math import cos, pi

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ohmstead.heat.around import Around, still
from ohmstead.heat.box import (
    FACES,
    MOUNTINGS,
    Box,
    Fan,
    Filter,
    FixedSpeed,
    Gear,
    Opening,
    Skin,
    SpeedCurve,
    Stated,
    Thermostat,
)
from ohmstead.heat.fan import fan_curve
from ohmstead.heat.model import day, steady, year

share = st.floats(0.0, 1.0)
EXPOSURES = st.dictionaries(st.sampled_from(FACES), st.sampled_from(["free", "covered", "closed"]), max_size=3)


@st.composite
def skins(draw):
    return Skin(
        thickness_m=draw(st.sampled_from([0.001, 0.002, 0.01])),
        conductivity_w_per_m_k=draw(st.sampled_from([0.2, 15.0, 200.0])),
        insulation_m2_k_per_w=draw(st.sampled_from([0.0, 0.0, 0.7])),
        emissivity=draw(st.sampled_from([0.1, 0.9])),
        inside_emissivity=draw(st.sampled_from([0.1, 0.9])),
        absorptance=draw(share),
    )


@st.composite
def fans(draw, height):
    mat = draw(st.none() | st.builds(Filter, st.just(0.01), loading_fraction=share))
    return Fan(
        "fan",
        draw(share) * height,
        draw(st.sampled_from(["in", "out"])),
        fan_curve(draw(st.floats(0.003, 0.03)), draw(st.floats(5.0, 80.0))),
        draw(st.floats(0.5, 6.0)),
        draw(st.floats(0.001, 0.012)),
        mat=mat,
    )


@st.composite
def boxes(draw):
    """Any box: sizes, walls, holes, fan and what drives it, gear."""
    height = draw(st.floats(0.2, 1.2))
    holes = draw(st.lists(st.tuples(share, st.floats(1e-4, 0.02)), max_size=3))
    mats = draw(st.sampled_from([None, Filter(0.01, loading_fraction=0.5)]))
    on = draw(st.floats(20.0, 50.0))
    sense = draw(share) * height
    control = draw(
        st.sampled_from(
            [
                FixedSpeed(1.0),
                FixedSpeed(0.4),
                FixedSpeed(0.0),
                Thermostat(on, on - draw(st.floats(0.5, 8.0)), sense),
                SpeedCurve(((on, 0.0), (on + 10.0, 1.0)), sense),
            ]
        )
    )
    stated = draw(st.sampled_from([Stated(), Stated(), Stated(wall_w_per_k=3.0), Stated(9.0, None), Stated(None, 6.0)]))
    return Box(
        height,
        draw(st.floats(0.2, 0.8)),
        draw(st.floats(0.1, 0.5)),
        mounting=draw(st.sampled_from(sorted(MOUNTINGS))),
        skin=draw(skins()),
        exposure=draw(EXPOSURES),
        openings=tuple(Opening(str(i), z * height, a, mat=mats) for i, (z, a) in enumerate(holes)),
        leak_m2=draw(st.sampled_from([0.0, 2e-4])),
        fan=draw(st.none() | fans(height)),
        control=control,
        gear=(
            Gear("low", 0.1 * height, draw(st.floats(0.0, 2e4))),
            Gear("bank", 0.2 * height, 2e4, 5.0, 0.0, "battery"),
            Gear("high", 0.9 * height, draw(st.floats(0.0, 2e4))),
        ),
        stated=stated,
        stirred=draw(st.sampled_from(["", "", "stirred"])),
    )


@st.composite
def days(draw):
    """A day outdoors or in, with sun, wind and sky."""
    mean, swing = draw(st.floats(-20.0, 45.0)), draw(st.floats(0.0, 15.0))
    sun = {face: [draw(share) * 1000.0] * 12 + [0.0] * 12 for face in draw(st.sets(st.sampled_from(FACES), max_size=3))}
    return Around(
        [mean - swing * cos(2 * pi * (hour - 3) / 24) for hour in range(24)],
        sun_w_per_m2=sun,
        wind_m_per_s=draw(st.none() | st.just([1.5] * 24)),
        sky_w_per_m2=draw(st.none() | st.just([60.0] * 24)),
        elevation_m=draw(st.floats(0.0, 3000.0)),
    )


def imbalance(found):
    """Largest share of the heat that moves in an hour which is not accounted for."""
    rows = zip(found.heat_w, found.sun_w, found.wall_w, found.vent_w, found.stored_w, strict=True)
    return max(abs(h + s - w - v - c) / max(1.0, abs(h), abs(s), abs(w), abs(v), abs(c)) for h, s, w, v, c in rows)


def energy_of_any_box():
    worst = 0.0

    @settings(max_examples=40)
    @given(boxes(), days(), st.floats(0.0, 100.0), st.floats(0.0, 100.0))
    def check(box, around, low, high):
        nonlocal worst
        found = day(box, around, {"low": low, "high": [high] * 12 + [0.0] * 12, "bank": 1.0})
        worst = max(worst, imbalance(found))
        assert worst < 1e-6
        assert all(np.isfinite(found.upper_c)) and all(np.isfinite(found.lower_c))
        assert all(a <= b + 1e-9 for a, b in zip(found.upper_low_c, found.upper_high_c, strict=True))
        assert all(-1e-9 <= x <= 1 + 1e-9 for x in found.fan_fraction)

    check()
    return worst


def test_energy_is_kept_in_every_hour(outside):
    worst = energy_of_any_box()
    outside(
        source="computed",
        place="first law",
        read="computed",
        what="heat and sun in, walls, air and store out, by hour",
        deviation=worst,
    )
    assert worst < 1e-6


def test_energy_is_kept_when_settled():
    @settings(max_examples=25)
    @given(boxes(), days(), st.floats(0.0, 100.0))
    def check(box, around, heat_w):
        found = steady(box, around, {"low": heat_w, "high": heat_w}, 6)
        assert imbalance(found) < 1e-6
        if not isinstance(box.control, Thermostat):
            assert abs(found.stored_w[0]) < 0.02 * (1.0 + heat_w)  # an hour more changes nothing

    check()


@settings(max_examples=25)
@given(st.floats(5.0, 120.0), st.floats(1.05, 3.0), st.sampled_from(sorted(MOUNTINGS)), st.floats(-10.0, 45.0))
def test_more_heat_is_warmer(heat_w, more, mounting, air_c):
    box = Box(0.5, 0.4, 0.25, mounting=mounting, gear=(Gear("a", 0.1), Gear("b", 0.4)))
    less, much = (steady(box, still(air_c), {"a": x / 2, "b": x / 2}) for x in (heat_w, heat_w * more))
    assert air_c < less.lower_c[0] < much.lower_c[0]
    assert less.upper_c[0] < much.upper_c[0]
    rises = [found.upper_c[0] - air_c for found in (less, much)]
    assert rises[1] < more * rises[0]  # and less than in proportion: films grow


@settings(max_examples=25)
@given(st.floats(5.0, 120.0), st.floats(3e-4, 5e-3), st.floats(1.2, 4.0))
def test_larger_vents_are_cooler(heat_w, area_m2, more):
    def upper(area):
        holes = (Opening("in", 0.03, area), Opening("out", 0.47, area))
        box = Box(0.5, 0.4, 0.25, openings=holes, gear=(Gear("a", 0.1), Gear("b", 0.4)))
        return steady(box, still(30.0), {"a": heat_w / 2, "b": heat_w / 2}).upper_c[0]

    assert upper(area_m2 * more) < upper(area_m2)


@settings(max_examples=20)
@given(st.floats(0.0, 0.9), st.floats(0.05, 0.1), st.floats(0.0, 80.0))
def test_lighter_colour_is_cooler(dark, lighter, heat_w):
    around = Around([30.0] * 24, sun_w_per_m2={"top": [0.0] * 6 + [800.0] * 12 + [0.0] * 6})
    skin = Skin(absorptance=dark + lighter)
    box = Box(0.5, 0.4, 0.25, skin=skin, gear=(Gear("a", 0.4),))
    light = replace(box, skin=replace(skin, absorptance=dark))
    assert day(light, around, {"a": heat_w}).hottest(0.4)[1] < day(box, around, {"a": heat_w}).hottest(0.4)[1]


@settings(max_examples=20)
@given(st.floats(0.0, 0.9), st.floats(0.05, 0.1))
def test_a_loaded_mat_passes_less(loading, more):
    def found(x):
        fan = Fan("fan", 0.45, "out", fan_curve(0.014, 29.4), 2.5, 0.0064)
        vent = Opening("in", 0.05, 0.0064, 0.6, mat=Filter(0.0064, loading_fraction=x))
        box = Box(0.5, 0.4, 0.25, fan=fan, openings=(vent,), gear=(Gear("a", 0.4),))
        return steady(box, still(30.0), {"a": 60.0})

    clean, dirty = found(loading), found(loading + more)
    assert dirty.air_kg_per_s[0] < clean.air_kg_per_s[0]
    assert dirty.upper_c[0] > clean.upper_c[0]


AIR = [20.0 - 8.0 * cos(2 * pi * (hour - 3) / 24) for hour in range(24)]
SUN = {"top": [max(0.0, 800.0 * cos(pi * (h - 12) / 13)) if abs(h - 12) < 6 else 0.0 for h in range(24)]}
HOLES = (Opening("in", 0.03, 0.0064, 0.6, mat=Filter(0.0064)), Opening("out", 0.47, 0.003))
FAN = Fan("fan", 0.45, "out", fan_curve(0.014, 29.4), 2.5, 0.0064)
DRIVES = {
    "closed": Box(0.5, 0.4, 0.25),
    "vents": Box(0.5, 0.4, 0.25, openings=HOLES, leak_m2=2e-4),
    "thermostat": Box(0.5, 0.4, 0.25, openings=HOLES[:1], fan=FAN, control=Thermostat(40.0, 35.0, 0.4)),
    "speed": Box(0.5, 0.4, 0.25, openings=HOLES[:1], fan=FAN, control=SpeedCurve(((30.0, 0.0), (45.0, 1.0)), 0.4)),
}


@pytest.mark.parametrize("drive", DRIVES)
def test_compiled_and_plain_say_the_same(drive):
    """Ten days as a year, and the day that repeats; a thermostat keeps its own beat, so only its means."""
    box = replace(DRIVES[drive], gear=(Gear("a", 0.1, 4000.0), Gear("b", 0.4, 2000.0)))
    heat = {"a": 20.0, "b": 25.0}
    plain = day(box, Around(AIR, sun_w_per_m2=SUN), heat)
    long = year(box, Around(AIR * 10, sun_w_per_m2={"top": SUN["top"] * 10}), heat)
    assert imbalance(long) < 1e-6
    if drive == "thermostat":
        assert np.mean(long.fan_fraction[-24:]) == pytest.approx(np.mean(plain.fan_fraction), abs=0.03)
        assert np.mean(long.upper_c[-24:]) == pytest.approx(np.mean(plain.upper_c), abs=0.3)
        return
    for row in ("lower_c", "upper_c", "wall_w", "vent_w", "fan_fraction", "coldest_c"):
        assert getattr(long, row)[-24:] == pytest.approx(np.array(getattr(plain, row)), abs=0.02)
