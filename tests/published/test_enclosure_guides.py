"""Worked examples of guides: closed cabinets, fans, air flow, converters, capacitors. All second-hand."""

import pytest

from ohmstead.heat.air import needed_m3_per_s, pressure_pa
from ohmstead.heat.box import Fan, Filter
from ohmstead.heat.fan import at_speed, fan_curve, operating_point, way_pa
from ohmstead.heat.handbook import (
    both_m2,
    chimney_m3_per_s,
    fan_m3_per_s,
    hottest_air_c,
    loss_of_w,
    simple_allowed_w,
    simple_rise_k,
)
from ohmstead.heat.life import LONGEST_H, ageing_c, life_factor, life_hours
from ohmstead.tables.reader import rows
from ohmstead.wiring.inrush import inrush_energy_ws, inrush_peak_a

CUBIC_FOOT_A_MINUTE = 0.3048**3 / 60.0


def test_closed_cabinet(outside):
    """3.96 m² at 30 °C, k = 5.5: 46 °C with 350 W, 76 °C with 1000 W, 653 W for 60 °C; printed to whole degrees."""
    found = [30.0 + simple_rise_k(350.0, 3.96), 30.0 + simple_rise_k(1000.0, 3.96), simple_allowed_w(30.0, 3.96)]
    outside(
        source="enclosure-manual",
        place="worked examples",
        read="second-hand",
        what="closed cabinet of 3.96 m²",
        deviation=max(abs(a / b - 1) for a, b in zip(found, (46.0, 76.0, 653.0), strict=True)),
    )
    assert found[0] == pytest.approx(46.0, abs=0.5)
    assert found[1] == pytest.approx(76.0, abs=0.5)
    assert found[2] == pytest.approx(653.0, abs=0.5)


def test_fan_of_a_switchboard(outside):
    """1000 W, 10 K, 4.46 m² at 5.5 W/(m²·K): 234 m³/h."""
    found = 3600.0 * fan_m3_per_s(1000.0, 10.0, 5.5 * 4.46)
    outside(
        source="switchboard-guide",
        place="ventilation",
        read="second-hand",
        what="V = 3.1 · (P/ΔT - k · S): 234 m³/h",
        deviation=found / 234.0 - 1,
    )
    assert found == pytest.approx(234.0, abs=0.5)


def test_the_guide_against_the_gas_law(outside):
    """3.1 m³·K/Wh is the air of 30 °C at sea level, within 2 %."""
    found = 3600.0 * needed_m3_per_s(1.0, 1.0, 30.0, 0.0)
    outside(
        source="switchboard-guide",
        place="ventilation",
        read="second-hand",
        what="3.1 m³·K/Wh at sea level",
        deviation=found / 3.1 - 1,
    )
    assert found == pytest.approx(3.1, rel=0.02)


def test_cubic_feet_a_minute(outside):
    """CFM = 1760 · kW / ΔT(°C), 3160 · kW / ΔT(°F); 340 W and 15 °C want 40. Their air is that of 21 °C."""
    found = needed_m3_per_s(340.0, 15.0, 21.0, 0.0) / CUBIC_FOOT_A_MINUTE
    kelvin = needed_m3_per_s(1000.0, 1.0, 21.0, 0.0) / CUBIC_FOOT_A_MINUTE
    fahrenheit = needed_m3_per_s(1000.0, 1.0 / 1.8, 21.0, 0.0) / CUBIC_FOOT_A_MINUTE
    outside(
        source="fan-notes",
        place="required flow",
        read="second-hand",
        what="CFM for 340 W and 15 K, and both constants",
        deviation=max(abs(found / 40 - 1), abs(kelvin / 1760 - 1), abs(fahrenheit / 3160 - 1)),
    )
    assert found == pytest.approx(40.0, rel=0.01)
    assert kelvin == pytest.approx(1760.0, rel=0.01)
    assert fahrenheit == pytest.approx(3160.0, rel=0.01)


def test_mass_of_air(outside):
    """800 W and 3 K: 0.265 kg/s."""
    found = needed_m3_per_s(800.0, 3.0, 20.0, 0.0) * pressure_pa(0.0) / (287.05 * 293.15)
    outside(
        source="air-flow-example",
        place="example",
        read="second-hand",
        what="800 W at 3 K: 0.265 kg/s",
        deviation=found / 0.265 - 1,
    )
    assert found == pytest.approx(0.265, abs=5e-4)


def test_speed_laws_against_a_row_of_fans(outside):
    """One 80 mm fan in three speeds: 3700, 2900, 2300 a minute; 1.07, 0.84, 0.67 m³/min; 46, 29.4, 18.6 Pa. 5 %."""
    full = fan_curve(1.07 / 60.0, 46.0)
    worst = 0.0
    for speed, volume, pressure in ((2900, 0.84, 29.4), (2300, 0.67, 18.6)):
        curve = at_speed(full, speed / 3700.0)
        worst = max(worst, abs(60.0 * curve[-1][0] / volume - 1), abs(curve[0][1] / pressure - 1))
    outside(
        source="axial-fan-sheets",
        place="80 x 20 mm, three speeds",
        read="second-hand",
        what="laws of fans",
        deviation=worst,
    )
    assert worst < 0.05


def test_volume_of_a_fan_is_the_same_higher_up(outside):
    """A fan of constant speed moves the same volume in thin air; its pressure falls with the density."""
    fan = Fan("fan", 0.5, "out", fan_curve(0.014, 29.4), 2.5, 0.0064)
    sea, high = (operating_point(fan, 0.0023, 0.0, rho) for rho in (1.16, 0.87))
    outside(
        source="fan-notes",
        place="height above the sea",
        read="second-hand",
        what="volume of a fan at 3000 m",
        deviation=high[0] / sea[0] - 1,
    )
    assert high[0] == pytest.approx(sea[0], rel=1e-3)
    assert high[1] / sea[1] == pytest.approx(0.87 / 1.16, rel=1e-3)


def test_arrestance_by_class(outside):
    """G1 50 to 65 %, G2 65 to 80, G3 80 to 90, G4 90 and more: the table holds the least of each."""
    bounds = {"G1": 0.50, "G2": 0.65, "G3": 0.80, "G4": 0.90}
    table = {row["class"]: row["arrestance_fraction"] for row in rows("filter_mats")}
    outside(
        source="en-779",
        place="classes by arrestance",
        read="second-hand",
        what="least arrestance of four classes",
        deviation=max(abs(table[c] / x - 1) for c, x in bounds.items()),
    )
    assert table == bounds


def test_charging_a_bank_of_capacitors(outside):
    """480 V mains + 10 %, 2350 µF, 30 A: peak 746.6 V, 655 J, 25 Ω cold."""
    peak_v = 480.0 * 1.1 * 2**0.5
    found = [peak_v, inrush_energy_ws(peak_v, 2350e-6), peak_v / 30.0]
    outside(
        source="inrush-notes",
        place="worked example",
        read="second-hand",
        what="peak, energy and cold resistance",
        deviation=max(abs(a / b - 1) for a, b in zip(found, (746.6, 655.0, 25.0), strict=True)),
    )
    assert found == pytest.approx([746.6, 655.0, 25.0], rel=0.005)
    assert inrush_peak_a(peak_v, 25.0) < 30.0


# Worked by us: openings of 60 % before and behind, 0.6 discharge, air of 50 °C; mats of 20 and 60 Pa at 1 m/s. m³/h.
WAYS = [
    (0.08, 0.67, 18.6, (24.7, 13.7, 6.4)),
    (0.08, 0.84, 29.4, (31.0, 19.2, 9.8)),
    (0.08, 1.07, 46.0, (39.1, 26.4, 14.5)),
]


@pytest.mark.parametrize("size_m, free, most_pa, flows", WAYS)
def test_fan_meets_its_way(size_m, free, most_pa, flows, outside):
    area = size_m**2
    found = []
    for loading in (None, 0.0, 0.5):
        mat = None if loading is None else Filter(area, 20.0, loading)
        fan = Fan("fan", 0.5, "out", fan_curve(free / 60.0, most_pa), 2.0, area, mat=mat, density_kg_per_m3=1.09)
        volume, pressure = operating_point(fan, 0.6 * 0.6 * area, 0.0, 1.09)
        assert pressure == pytest.approx(way_pa(fan, volume, 0.6 * 0.6 * area, 1.09), rel=1e-3)
        found.append(3600.0 * volume)
    worst = max(abs(a / b - 1) for a, b in zip(found, flows, strict=True))
    outside(
        source="computed",
        place="three fans, three ways",
        read="computed",
        what="flow where fan and way meet",
        deviation=worst,
    )
    assert worst < 0.02  # curve in sixteen straight pieces, flows printed to three digits


def test_stack_effect(outside):
    """Q = C · A · √(2 g h ΔT / Ti): three rows worked by us from the handbook's formula."""
    found = [
        chimney_m3_per_s(0.01, 0.5, 50.0, 40.0, 0.65),
        3600.0 * chimney_m3_per_s(0.005, 0.4, 55.0, 40.0, 0.65),
        chimney_m3_per_s(0.5, 10.0, 20.0, 0.0, 0.65),
    ]
    expected = [0.00358, 7.0, 1.189]
    outside(
        source="ashrae-fundamentals",
        place="stack effect",
        read="second-hand",
        what="three openings",
        deviation=max(abs(a / b - 1) for a, b in zip(found, expected, strict=True)),
    )
    assert found == pytest.approx(expected, rel=0.006)
    assert both_m2(0.01, 0.01) == pytest.approx(0.01 / 2**0.5)


def test_hottest_air_of_a_converter(outside):
    """Case to 110 °C, 20 W at 91 %: loss 1.98 W; 6.3 K/W allow 97.5 °C, 5.0 K/W 100 °C."""
    loss = loss_of_w(20.0, 0.91)
    found = [hottest_air_c(110.0, 6.3, loss), hottest_air_c(110.0, 5.0, loss)]
    outside(
        source="converter-heat-notes",
        place="thermal resistance",
        read="second-hand",
        what="hottest air, two cases",
        deviation=max(abs(loss / 1.98 - 1), abs(found[0] / 97.5 - 1), abs(found[1] / 100.0 - 1)),
    )
    assert loss == pytest.approx(1.98, abs=0.005)
    assert found == pytest.approx([97.5, 100.0], abs=0.15)


def test_losses_of_converters(outside):
    """30 W at 92.5 %: 2.43 W. 47.996 V, 0.348 A in and 5.014 V, 2.998 A out: 1.67 W."""
    delivered, taken = 5.014 * 2.998, 47.996 * 0.348
    found = [loss_of_w(30.0, 0.925), loss_of_w(delivered, delivered / taken)]
    outside(
        source="converter-heat-notes",
        place="losses",
        read="second-hand",
        what="loss from efficiency, two cases",
        deviation=max(abs(found[0] / 2.43 - 1), abs(found[1] / 1.67 - 1)),
    )
    assert found == pytest.approx([2.43, 1.67], abs=0.005)


def test_a_maker_counts_losses_from_the_output(outside):
    """1.4 W in a 5 V module of 93 % is said to be 4.0 A, 1.0 W 2.857 A, and 3.33 A at 94 %: the maker takes
    output · (1 - η), which is η times the true loss."""
    cases = [(1.4, 0.93, 4.0), (1.0, 0.93, 2.857), (1.0, 0.94, 3.33)]
    found = [loss_of_w(5.0 * current_a, share) * share for _, share, current_a in cases]
    outside(
        source="converter-heat-notes",
        place="output current from losses",
        read="second-hand",
        what="three modules",
        deviation=max(abs(a / b - 1) for a, (b, _, _) in zip(found, cases, strict=True)),
    )
    assert found == pytest.approx([watt for watt, _, _ in cases], rel=0.002)


def test_capacitors_last_twice_as_long_ten_kelvins_cooler(outside):
    """2000 h at 105 °C are 32 000 at 65; 5000 h at 105 are 40 000 at 75; 2000 h at 85 are 8000 at 65."""
    found = [life_hours(2000.0, 65.0, 105.0), life_hours(5000.0, 75.0, 105.0), life_hours(2000.0, 65.0, 85.0)]
    outside(
        source="capacitor-life",
        place="rule of ten kelvins",
        read="second-hand",
        what="three capacitors",
        deviation=max(abs(a / b - 1) for a, b in zip(found, (32000.0, 40000.0, 8000.0), strict=True)),
    )
    assert found == pytest.approx([32000.0, 40000.0, 8000.0])
    assert life_hours(5000.0, 25.0, 105.0) == LONGEST_H
    assert life_factor(115.0, 105.0) == 0.5
    assert ageing_c([50.0] * 24) == pytest.approx(50.0)
    assert 50.0 < ageing_c([40.0, 60.0]) < 60.0


# m³·K/Wh at 30 °C, worked by us from the gas law and the standard atmosphere.
@pytest.mark.parametrize("elevation_m, factor", [(0, 3.07), (500, 3.26), (1000, 3.46), (2000, 3.92), (3000, 4.44)])
def test_more_air_higher_up(elevation_m, factor, outside):
    found = 3600.0 * needed_m3_per_s(1.0, 1.0, 30.0, elevation_m)
    outside(
        source="us-standard-atmosphere-1976",
        place="pressure",
        read="from memory",
        what="flow for a rise by height",
        deviation=found / factor - 1,
    )
    assert found == pytest.approx(factor, rel=0.002)
