"""Voltage and resistance of packs."""

from math import inf

import pytest

from ohmstead.parts.cell import chemistries, chemistry
from ohmstead.storage.cells import (
    cold_factor,
    fresh_resistance_ohm,
    open_circuit_v,
    pack_resistance_ohm,
    short_circuit_a,
    working_resistance_ohm,
)
from ohmstead.storage.lead_fault import lead_fault


@pytest.mark.parametrize("name", chemistries())
def test_voltage_never_falls_with_charge(name):
    cell = chemistry(name)
    volts = [open_circuit_v(cell, state / 200) for state in range(-10, 220)]
    assert volts == sorted(volts)
    assert volts[0] == cell.resting[0][1] and volts[-1] == cell.resting[-1][1]


def test_series_adds_and_parallel_divides():
    cell = chemistry("LFP")
    one = pack_resistance_ohm(cell, 1, 1, 100.0)
    assert pack_resistance_ohm(cell, 8, 1, 100.0) == pytest.approx(8 * one)
    assert pack_resistance_ohm(cell, 8, 2, 200.0) == pytest.approx(4 * one)


def test_bounds_are_in_order():
    for name in chemistries():
        cell = chemistry(name)
        least, usual, most = (pack_resistance_ohm(cell, 4, 1, 100.0, 25.0, b) for b in ("least", "usual", "most"))
        assert least < usual < most
        assert fresh_resistance_ohm(cell, 4, 100.0) == least
        assert working_resistance_ohm(cell, 4, 100.0, 25.0) == most


def test_cold_costs():
    cell = chemistry("LFP")
    assert cold_factor(cell, -40.0) == cold_factor(cell, -20.0) == 4
    assert cold_factor(cell, 60.0) == 0.8
    assert working_resistance_ohm(cell, 8, 230.0, 0.0) > 1.8 * working_resistance_ohm(cell, 8, 230.0, 25.0)


def test_without_capacity_nothing_flows():
    assert pack_resistance_ohm(chemistry("LFP"), 8, 1, 0.0) == inf
    assert short_circuit_a(12.0, 0.0) == inf


def test_a_large_lithium_bank_exceeds_small_fuses():
    """280 Ah cells: the largest fault lies above what bolt-down and stud fuses break, whatever the number of cells."""
    cell = chemistry("LFP")
    shorts = [short_circuit_a(n * cell.full_v, fresh_resistance_ohm(cell, n, 280.0)) for n in (4, 8, 16)]
    assert shorts == pytest.approx([shorts[0]] * 3)
    assert 9_500 < shorts[0] < 20_000


def test_lead_fault_without_lines():
    fault = lead_fault(12.0, 5e-3, 0.0)
    assert fault.peak_a == pytest.approx(1.05 * 12 / 4.5e-3)
    assert fault.steady_a < fault.peak_a
