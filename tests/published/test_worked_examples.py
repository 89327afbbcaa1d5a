"""Worked examples of voltage drop, constant power and short circuits printed on public pages."""

import math

import pytest

from ohmstead.parts.gauges import sae_area_mm2
from ohmstead.parts.wire import read_wire, standard_sizes
from ohmstead.quantity.gauge import KCMIL_MM2
from ohmstead.storage.cells import short_circuit_a
from ohmstead.wiring.conductor import loop_resistance_ohm, wire_loop_ohm
from ohmstead.wiring.ethernet import device_voltage_v
from ohmstead.wiring.stability import largest_loop_ohm, largest_power_w


def drop_v(length_m: float, area_mm2: float, resistivity: float, current_a: float) -> float:
    """Drop with the page's own resistivity in Ω·mm²/m, at 20 °C."""
    return current_a * loop_resistance_ohm(length_m, 1000 * resistivity / area_mm2, 20.0)


@pytest.mark.parametrize("what, ours, printed, digits", [
    ("16 AWG, 20 m one way, 1 A", drop_v(20, 1.3, 0.01785, 1.0), 0.549, 3),
    ("small-craft form, 1.5 mm², 22 m in all, 1.6 A", drop_v(11, 1.5, 0.0164, 1.6), 0.38, 2),
    ("13 AWG of 2 Ω/kft, 30 ft, 10 A, both ways", 10 * loop_resistance_ohm(30 * 0.3048, 2.0 / 0.3048, 20.0), 1.2, 1),
])  # fmt: skip
def test_drop(what, ours, printed, digits, outside):
    outside(source="worked-examples", place="voltage drop", read="second-hand", what=what, deviation=ours / printed - 1)
    assert abs(ours - printed) < 0.55 * 10.0**-digits + (0.005 if digits == 2 else 0)


def test_size_by_drop(outside):
    """25 W at 12 V, 18 m, 5 %: 2.25 mm², so 2.5 mm² is the size to take."""
    needed = 2 * 18 * 2.1 / (56 * 0.6)
    chosen = next(size for size in standard_sizes("mm2") if read_wire(size).area_mm2 >= needed)
    outside(source="worked-examples", place="chandler's catalogue", read="second-hand", what="lamp, 18 m, 5 %",
            deviation=needed / 2.25 - 1)  # fmt: skip
    assert needed == pytest.approx(2.25)
    assert chosen == "2.5 mm2"


@pytest.mark.parametrize("share, cmil, printed", [(0.03, 6271, "10"), (0.10, 1881, "16")])
def test_pump_by_sae_area(share, cmil, printed, outside):
    """10 A over 21 ft in all at 12 V: 3 % takes 10 gauge, 10 % takes 16 gauge, by the SAE areas."""
    needed = 10.75 * 10 * 21 / (12 * share)
    fitting = [size for size in standard_sizes("SAE") if read_wire(size).area_mm2 / KCMIL_MM2 * 1000 >= needed]
    outside(source="worked-examples", place="chandler's catalogue", read="second-hand", what=f"pump at {share:.0%}",
            deviation=needed / cmil - 1)  # fmt: skip
    assert needed == pytest.approx(cmil, abs=0.6)
    assert fitting[0].split()[0] == printed
    assert sae_area_mm2(printed) / KCMIL_MM2 * 1000 == pytest.approx({"10": 9343, "16": 2336}[printed])


def test_index_method(outside):
    """10 A, 100 ft, 24 V, 2 % asks for 4 AWG: 0.497 V at 20 °C, 0.616 V at 75 °C with the table's stranded wire."""
    solid = 10 * wire_loop_ohm(read_wire("4 AWG solid"), 100 * 0.3048, 20.0)
    hot = 10 * wire_loop_ohm(read_wire("4 AWG stranded"), 100 * 0.3048, 75.0)
    outside(source="worked-examples", place="voltage-drop index", read="second-hand", what="4 AWG, 100 ft, 10 A",
            deviation=hot / 0.616 - 1)  # fmt: skip
    assert solid == pytest.approx(0.497, abs=0.001)
    assert hot == pytest.approx(0.616, abs=0.0005)


@pytest.mark.parametrize("gauge, volts, watts", [(14, 0.172, 3.24), (12, 0.108, 2.05)])
def test_bench_loop(gauge, volts, watts, outside):
    """One metre of loop of stranded tinned wire at 18.9 A."""
    ours = 18.9 * wire_loop_ohm(read_wire(f"{gauge} AWG stranded tinned"), 0.5, 20.0)
    outside(source="ul-cable-chart", place="bench loop", read="second-hand", what=f"{gauge} AWG at 18.9 A",
            deviation=ours / volts - 1)  # fmt: skip
    assert ours == pytest.approx(volts, rel=0.006)
    assert ours * 18.9 == pytest.approx(watts, rel=0.006)


def test_longest_bench_loop(outside):
    """3 % of 12 V at 18.9 A allows 2.10 m of 14 AWG loop."""
    per_metre = wire_loop_ohm(read_wire("14 AWG stranded tinned"), 0.5, 20.0)
    ours = 0.36 / 18.9 / per_metre
    outside(source="ul-cable-chart", place="bench loop", read="second-hand", what="loop that 3 % allows",
            deviation=ours / 2.10 - 1)  # fmt: skip
    assert ours == pytest.approx(2.10, rel=0.006)


def test_largest_power_through_a_line(outside):
    """60 V behind 50 m of 14 AWG: 1086 W at 30 V and 36.2 A (printed as 36.3)."""
    loop = loop_resistance_ohm(50.0, 8.286, 20.0)
    ours = largest_power_w(60.0, loop)
    outside(source="worked-examples", place="constant-power question", read="second-hand", what="largest power at 60 V",
            deviation=ours / 1086 - 1)  # fmt: skip
    assert ours == pytest.approx(1086, abs=0.5)
    assert ours / 30.0 == pytest.approx(36.2, abs=0.05)
    assert device_voltage_v(60.0, ours * (1 - 1e-12), loop) == pytest.approx(30.0, abs=0.001)


def test_remote_powering_limits(outside):
    """7.5 W down to 21 V: both limits meet at twice the least voltage."""
    printed = {48.0: 76.8, 42.0: 58.8, 36.0: 42.0}
    worst = max(abs(largest_loop_ohm(u, 7.5, 21.0) / ohm - 1) for u, ohm in printed.items())
    outside(source="remote-powering-handbook", place="range of remote powering", read="second-hand", what="loop limits",
            deviation=worst)  # fmt: skip
    assert worst < 1e-9
    at_limit = device_voltage_v(36.0, 7.5, 42.0)
    assert at_limit == pytest.approx(21.0)


def test_operating_points_of_constant_power(outside):
    """10.5 V behind 0.10 Ω: 120 W runs at 9.195 V, 260 W at exactly 6.5 V, 280 W not at all."""
    light, heavy = device_voltage_v(10.5, 120.0, 0.10), device_voltage_v(10.5, 260.0, 0.10)
    outside(source="battery-textbook", place="load behind a resistance", read="computed", what="three loads at 10.5 V",
            deviation=heavy / 6.5 - 1)  # fmt: skip
    assert light == pytest.approx(9.195, abs=0.0005)
    assert light * (10.5 - light) / 0.10 == pytest.approx(120.0)
    assert heavy == pytest.approx(6.5)
    assert math.isnan(device_voltage_v(10.5, 280.0, 0.10))


def test_battery_short(outside):
    """12 V behind 5 mΩ: 2400 A; three such blocks side by side 7200 A, two in series no more than one."""
    one = short_circuit_a(12.0, 0.005)
    outside(source="battery-textbook", place="internal resistance", read="second-hand", what="short of 12 V, 5 mΩ",
            deviation=one / 2400 - 1)  # fmt: skip
    assert one == pytest.approx(2400)


def test_strings_side_by_side(outside):
    """Six 6 V blocks of 2400 A, two in series, three strings: 7200 A."""
    block_ohm = 6.0 / 2400
    ours = short_circuit_a(2 * 6.0, 2 * block_ohm / 3)
    outside(source="small-craft-interrupting", place="parallel strings", read="second-hand", what="2S3P of 2400 A",
            deviation=ours / 7200 - 1)  # fmt: skip
    assert ours == pytest.approx(7200)


def test_cells_of_a_lithium_bank(outside):
    """0.25 + 0.10 mΩ a cell at 3.325 V: 9.5 kA, whatever the number in series."""
    shorts = [short_circuit_a(n * 3.325, n * 0.35e-3) for n in (4, 8, 16)]
    outside(source="battery-textbook", place="cells in series", read="computed", what="short of 0.35 mΩ cells",
            deviation=shorts[0] / 9500 - 1)  # fmt: skip
    assert shorts == pytest.approx([9500] * 3)
