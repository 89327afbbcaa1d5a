"""Resistance, temperature, and the other small laws of wiring."""

from math import inf, isnan

import pytest

from ohmstead.parts.cable import read_ethernet_cable
from ohmstead.parts.wire import read_wire
from ohmstead.wiring.adiabatic import k_factor, withstand_a2s
from ohmstead.wiring.conductor import conductor_temperature_c, loop_resistance_ohm, temperature_factor, wire_loop_ohm
from ohmstead.wiring.ethernet import cable_loop_ohm, device_voltage_v, power_class, reserved_w
from ohmstead.wiring.inrush import inrush_energy_ws, pulse_share
from ohmstead.wiring.stability import (
    filter_peak_ohm,
    impedance_margin_db,
    input_resistance_ohm,
    largest_loop_ohm,
    largest_power_w,
)


def test_temperature_factor():
    assert temperature_factor(20.0) == 1.0
    assert temperature_factor(60.0, "aluminium") > temperature_factor(60.0)
    assert temperature_factor(-20.0) < 1.0
    with pytest.raises(KeyError):
        temperature_factor(20.0, "silver")


def test_loop_of_a_wire():
    wire = read_wire("6 mm2")
    assert wire_loop_ohm(wire, 5.0, 20.0) == pytest.approx(0.033)
    assert wire_loop_ohm(wire, 5.0, 20.0, "least") < wire_loop_ohm(wire, 5.0, 20.0)
    assert wire_loop_ohm(wire, 5.0, 70.0) == pytest.approx(loop_resistance_ohm(5.0, 3.30, 70.0))


def test_conductor_temperature():
    assert conductor_temperature_c(0.0, 24.0, 70.0, 30.0) == 30.0
    assert conductor_temperature_c(24.0, 24.0, 70.0, 30.0) == 70.0
    assert conductor_temperature_c(34.0, 24.0, 70.0, 30.0) > 70.0
    assert conductor_temperature_c(1.0, 0.0, 70.0, 80.0) == 70.0


def test_a_hot_start_leaves_less():
    assert withstand_a2s(2.5, 70, 160) < withstand_a2s(2.5, 40, 160)
    assert k_factor(160, 160) == 0.0


def test_network_loop():
    cable = read_ethernet_cable("Cat5e 24 AWG")
    assert cable_loop_ohm(cable, 100, 1, 20) == pytest.approx(18.76)
    assert cable_loop_ohm(cable, 100, 2, 60) == pytest.approx(9.38 * 1.157, rel=0.001)
    assert cable_loop_ohm(cable, 100, 2, 20, "least") < 9.38


def test_classes():
    assert [reserved_w(n) for n in (0, 4, 8)] == [15.4, 30.0, 90.0]
    assert (power_class(6).type, power_class(6).pairs) == (3, 4)
    with pytest.raises(KeyError, match="no power class 9"):
        power_class(9)


def test_device_voltage():
    assert device_voltage_v(24.0, 0.0, 1.0) == 24.0
    assert device_voltage_v(24.0, 8.0, 5.628) == pytest.approx(21.95, abs=0.005)
    assert isnan(device_voltage_v(24.0, 200.0, 1.0))


def test_limits_of_constant_power():
    assert largest_loop_ohm(20.0, 7.5, 21.0) == 0.0
    assert largest_loop_ohm(20.0, 0.0, 5.0) == inf
    # above twice the least voltage the load still gets its power at half the source voltage
    loop = largest_loop_ohm(48.0, 100.0, 12.0)
    assert largest_power_w(48.0, loop) == pytest.approx(100.0)
    assert input_resistance_ohm(24.0, 0.0) == impedance_margin_db(0.1, 24.0, 0.0) == inf
    assert filter_peak_ohm(5e-6, 0.0, 0.1) == inf
    assert filter_peak_ohm(1e-9, 1e-3, 0.1) == 0.1


def test_inrush():
    assert inrush_energy_ws(24.0, 2200e-6) == pytest.approx(0.6336)
    assert pulse_share(1) == 0.48
    assert pulse_share(1e9) == 0.22
