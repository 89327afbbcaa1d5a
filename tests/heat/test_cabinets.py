"""What a cabinet does: the switch of its fan, draughts, faces, stated figures, and what cannot be asked."""

from dataclasses import replace

import pytest

from ohmstead.heat.around import Around, still
from ohmstead.heat.box import Box, Fan, Filter, FixedSpeed, Gear, Opening, Skin, SpeedCurve, Stated, Thermostat
from ohmstead.heat.fan import fan_curve
from ohmstead.heat.hours import SWITCHES
from ohmstead.heat.limits import Limit, allowed_heat, excess_k, minutes_to, scaled
from ohmstead.heat.model import day, steady

GEAR = (Gear("low", 0.12, 3000.0), Gear("high", 0.45, 3000.0))
HEAT = {"low": 20.0, "high": 20.0}
FAN = Fan("fan", 0.55, "out", fan_curve(0.014, 29.4), 2.5, 0.0064)
GRILLE = Opening("grille", 0.05, 0.0064, 0.6)
PLAIN = Box(0.6, 0.5, 0.3, gear=GEAR)
BLOWN = replace(PLAIN, fan=FAN, openings=(GRILLE,))


def hottest(box, air_c=30.0, heat=HEAT):
    return steady(box, still(air_c), heat).hottest(0.45)[1]


def test_a_fan_buys_more_than_vents_and_vents_more_than_nothing():
    vents = replace(PLAIN, openings=(GRILLE, replace(GRILLE, name="upper", height_m=0.55)))
    assert hottest(BLOWN) < hottest(vents) - 3.0 < hottest(PLAIN) - 3.0


def test_a_failed_fan_leaves_a_hole():
    failed = replace(BLOWN, control=FixedSpeed(0.0))
    assert hottest(BLOWN) < hottest(failed) < hottest(PLAIN)
    assert steady(failed, still(30.0), HEAT).fan_w == (0.0,)


def test_the_fan_heats_the_box_only_when_it_blows_in():
    into = replace(FAN, blows="in", height_m=0.05)
    out, inside = (replace(PLAIN, fan=f, openings=(replace(GRILLE, height_m=0.6 - f.height_m),)) for f in (FAN, into))
    assert steady(out, still(30.0), HEAT).heat_w[0] == pytest.approx(40.0)
    assert steady(inside, still(30.0), HEAT).heat_w[0] == pytest.approx(42.5)


def test_a_fan_against_the_draught_serves_the_hot_air_to_the_low_gear():
    """Blowing in above and out below: upper air is the fresh one."""
    down = replace(PLAIN, fan=replace(FAN, blows="in"), openings=(GRILLE,))
    found = steady(down, still(30.0), HEAT)
    assert found.air_kg_per_s[0] > 0.0
    assert found.upper_c[0] < steady(PLAIN, still(30.0), HEAT).upper_c[0]
    assert found.lower_c[0] - 30.0 > found.upper_c[0] - 30.0 - 3.0


def test_a_fan_that_has_nowhere_to_take_air_from_moves_none():
    shut = replace(PLAIN, fan=FAN)
    found = steady(shut, still(30.0), HEAT)
    assert found.air_kg_per_s[0] == 0.0
    assert found.hottest(0.45)[1] == pytest.approx(hottest(PLAIN), abs=1e-6)


def test_a_fan_does_not_help_in_hot_air():
    """It limits the rise, not the level: roof space of 60 °C."""
    assert hottest(BLOWN, 60.0) > 60.0
    assert hottest(BLOWN, 60.0) - 60.0 == pytest.approx(hottest(BLOWN, 30.0) - 30.0, rel=0.15)


def switched(on_c, off_c):
    return replace(BLOWN, control=Thermostat(on_c, off_c, 0.45))


def test_a_thermostat_set_too_high_never_starts_and_too_low_never_stops():
    warm = Around([30.0] * 24)
    assert set(day(switched(60.0, 50.0), warm, HEAT).fan_fraction) == {0.0}
    never_stops = day(switched(35.0, 30.5), warm, HEAT)
    assert set(never_stops.fan_fraction) == {1.0}
    assert never_stops.fan_w[0] == pytest.approx(2.5)


def test_a_narrow_band_hunts_and_a_wide_one_does_not():
    warm = Around([30.0] * 24)
    narrow, wide = day(switched(38.0, 37.0), warm, HEAT), day(switched(42.0, 33.8), warm, HEAT)
    assert max(narrow.n_switched) >= SWITCHES
    assert max(wide.n_switched) < SWITCHES
    assert 0.0 < narrow.fan_fraction[12] < 1.0
    assert narrow.high_c(0.45)[12] == pytest.approx(38.0, abs=0.1)
    assert narrow.low_c(0.45)[12] == pytest.approx(37.0, abs=0.1)
    assert max(wide.high_c(0.45)) <= 42.0 + 0.3


def test_a_settled_thermostat_keeps_the_middle_of_its_band():
    found = steady(switched(38.0, 36.0), still(30.0), HEAT)
    assert found.air_c(0.45)[0] == pytest.approx(37.0, abs=0.05)
    assert 0.0 < found.fan_fraction[0] < 1.0


def test_hysteresis_remembers():
    """A morning that warms to between the limits keeps the fan still; an evening that cools to there keeps it on."""
    air = [20.0] * 6 + [26.0] * 4 + [40.0] * 4 + [26.0] * 4 + [20.0] * 6
    found = day(switched(45.0, 28.0), Around(air), HEAT)
    assert found.fan_fraction[8] == 0.0
    assert found.fan_fraction[16] == 1.0


def test_speed_follows_its_curve():
    box = replace(BLOWN, control=SpeedCurve(((32.0, 0.0), (44.0, 1.0)), 0.45))
    found = steady(box, still(30.0), HEAT)
    air = found.air_c(0.45)[0]
    assert found.fan_fraction[0] == pytest.approx((air - 32.0) / 12.0, abs=2e-3)
    assert found.fan_w[0] == pytest.approx(2.5 * found.fan_fraction[0] ** 3, rel=1e-3)


def test_a_clogged_filter_fails_what_a_clean_one_holds_and_a_larger_one_mends():
    """The fan example: 60 W in a box of 30 °C, limit 40 °C."""

    def with_mat(mat):
        return hottest(replace(BLOWN, openings=(replace(GRILLE, mat=mat),)), heat={"low": 30.0, "high": 30.0})

    clean, clogged, larger = Filter(0.0064), Filter(0.0064, loading_fraction=1.0), Filter(0.03, loading_fraction=1.0)
    assert with_mat(clean) < 40.0 < with_mat(clogged)
    assert with_mat(larger) < 40.0


def test_a_measured_mat_takes_the_place_of_its_class():
    loaded = Filter(0.0064, loading_fraction=0.5)
    measured = Filter(0.0064, pa_per_m3_per_s=20.0 * 3.0 / 0.0064)
    found = [hottest(replace(BLOWN, openings=(replace(GRILLE, mat=mat),))) for mat in (loaded, measured)]
    assert found[0] == pytest.approx(found[1], abs=1e-9)


def test_leaks_are_small_vents():
    assert hottest(replace(PLAIN, leak_m2=20e-4)) < hottest(PLAIN)


def test_faces_that_are_shut_keep_heat_in():
    names = ("covered", "closed")
    found = [hottest(PLAIN), *(hottest(replace(PLAIN, exposure={"left": x, "right": x})) for x in names)]
    assert found == sorted(found) and found[2] - found[0] > 1.0
    mounted = [hottest(replace(PLAIN, mounting=m)) for m in ("free", "wall", "corner", "recessed")]
    assert mounted == sorted(mounted)


def test_bare_metal_is_hotter_than_paint_in_shade():
    assert hottest(replace(PLAIN, skin=Skin(emissivity=0.1, inside_emissivity=0.1))) > hottest(PLAIN) + 3.0


def test_a_hot_roof_deck_shines_into_the_box():
    around = Around((40.0,), radiant_c=(60.0,))
    assert steady(PLAIN, around, HEAT).upper_c[0] > steady(PLAIN, still(40.0), HEAT).upper_c[0] + 5.0


def test_wind_cools():
    around = Around((30.0,), wind_m_per_s=(4.0,))
    assert steady(PLAIN, around, HEAT).upper_c[0] < hottest(PLAIN) - 1.0


def test_a_clear_night_sky_chills_the_roof_below_the_air():
    around = Around((5.0,), sky_w_per_m2=(65.0,), dew_point_c=(4.0,))
    found = steady(replace(PLAIN, mounting="free"), around, {})
    assert found.face_c["top"][0] < 4.0
    assert found.coldest_c[0] < 4.0


def test_lining_keeps_the_inner_face_warm():
    around = Around((5.0,), sky_w_per_m2=(65.0,))
    lined = replace(PLAIN, mounting="free", skin=Skin(insulation_m2_k_per_w=0.5))
    bare = steady(replace(PLAIN, mounting="free"), around, HEAT).coldest_c[0]
    assert steady(lined, around, HEAT).coldest_c[0] > bare + 2.0


def test_sun_on_one_face_warms_that_face():
    around = Around((30.0,), sun_w_per_m2={"front": (700.0,)})
    found = steady(PLAIN, around, {})
    assert found.sun_w[0] == pytest.approx(0.5 * 700.0 * 0.3)
    assert found.face_c["front"][0] > found.face_c["left"][0] + 5.0
    covered = steady(replace(PLAIN, exposure={"front": "covered"}), around, {})
    assert covered.sun_w[0] == 0.0


def test_stated_figures_take_the_place_of_correlations():
    wall = hottest(replace(PLAIN, stated=Stated(wall_w_per_k=40.0 / 8.0, mixing_w_per_k=1e5)))
    assert wall == pytest.approx(38.0, abs=0.01)
    weak = hottest(replace(PLAIN, stated=Stated(outside_w_per_m2_k=2.0)))
    strong = hottest(replace(PLAIN, stated=Stated(outside_w_per_m2_k=25.0)))
    assert strong < hottest(PLAIN) < weak
    assert hottest(replace(PLAIN, stated=Stated(inside_w_per_m2_k=25.0))) < hottest(PLAIN)


def test_stirring_evens_out_the_air():
    found, plain = (steady(replace(PLAIN, stirred=s), still(30.0), HEAT) for s in ("stirred", ""))
    assert found.upper_c[0] - found.lower_c[0] < 0.6 < plain.upper_c[0] - plain.lower_c[0]
    assert found.upper_c[0] < plain.upper_c[0]


def test_heat_above_leaves_the_lower_half_cool():
    found = {name: steady(PLAIN, still(30.0), {name: 40.0}) for name in ("low", "high")}
    even = steady(PLAIN, still(30.0), HEAT)
    assert found["high"].lower_c[0] < even.lower_c[0] < found["low"].lower_c[0]
    assert found["high"].upper_c[0] > even.upper_c[0] > found["low"].upper_c[0]


def test_height_above_the_sea_warms():
    low, high = (steady(BLOWN, still(30.0, z), HEAT).upper_c[0] for z in (0.0, 3000.0))
    assert high > low + 0.5


def test_a_battery_lags_behind_the_day():
    air = [15.0 if hour < 12 else 35.0 for hour in range(24)]
    bank = Gear("bank", 0.1, 11000.0, 2.0, lump="battery")
    found = day(replace(PLAIN, gear=(*GEAR, bank)), Around(air), HEAT)
    cell, air_low = found.lump_c["lower battery"], found.lower_c
    assert max(cell) - min(cell) < max(air_low) - min(air_low)


def test_allowed_heat_is_where_the_worst_part_stands_at_its_limit():
    limits = [Limit("low", 0.12, 60.0), Limit("high", 0.45, 55.0)]
    found = allowed_heat(PLAIN, Around([40.0] * 24), HEAT, limits)
    assert found.part == "high"
    at_limit = day(PLAIN, Around([40.0] * 24), scaled(HEAT, found.share))
    assert excess_k(at_limit, limits)[0] == pytest.approx(0.0, abs=0.02)
    assert allowed_heat(PLAIN, Around([70.0] * 24), HEAT, limits).share == 0.0
    assert allowed_heat(PLAIN, Around([40.0] * 24), {}, limits).share == float("inf")


def test_minutes_after_the_fan_has_failed():
    limits = [Limit("high", 0.45, 45.0)]
    light, heavy = (replace(BLOWN, gear=tuple(replace(g, capacity_j_per_k=c) for g in GEAR)) for c in (1000.0, 10000.0))
    soon, late = (minutes_to(box, still(35.0), HEAT, limits, 0)[0] for box in (light, heavy))
    assert 0.5 <= soon < late < 600.0
    assert minutes_to(BLOWN, still(10.0), HEAT, limits, 0)[0] == float("inf")


def test_what_cannot_be_asked():
    with pytest.raises(KeyError, match="router: not in the box"):
        steady(PLAIN, still(30.0), {"router": 5.0})
    with pytest.raises(ValueError, match="23 hours beside 24"):
        day(PLAIN, Around([30.0] * 24), {"low": [1.0] * 23})
    with pytest.raises(ValueError, match="sun on top: 2 hours beside 1"):
        steady(PLAIN, Around((30.0,), sun_w_per_m2={"top": (1.0, 2.0)}), HEAT)
    with pytest.raises(ValueError, match="curve of fan: volumes must rise"):
        steady(replace(BLOWN, fan=replace(FAN, curve=((0.0, 10.0), (0.0, 5.0)))), still(30.0), HEAT)


def test_a_table_has_a_row_an_hour():
    table = day(PLAIN, Around([30.0] * 24), HEAT).table()
    assert table.shape[0] == 24
    assert {"upper_c", "face top", "gear lower", "vent_w"} <= set(table.columns)
    balance = table.heat_w + table.sun_w - table.wall_w - table.vent_w - table.stored_w
    assert balance.abs().max() < 1e-9
