"""Arcs of Stokes and Oppenlander, the lead battery of IEC 61660-1, resting voltages of LFP cells."""

import pytest

from ohmstead.parts.cell import chemistry
from ohmstead.storage.cells import open_circuit_v
from ohmstead.storage.lead_fault import lead_fault
from ohmstead.wiring.arc import arc_current_a, arc_least_v
from ohmstead.wiring.stability import filter_peak_ohm, impedance_margin_db

# Published table: state of charge, volts of one cell, mean of charge and discharge at C/32.
MEASURED = ((0, 2.0102), (0.0033, 2.4177), (0.0117, 2.7405), (0.0267, 2.9299), (0.0534, 3.0872), (0.0885, 3.1942),
            (0.2972, 3.2772), (0.9833, 3.3511), (0.995, 3.418))  # fmt: skip
# Another cell's equilibrium voltage from a public battery model.
EQUILIBRIUM = {
    0.2: 3.169,
    0.3: 3.206,
    0.4: 3.253,
    0.5: 3.266,
    0.6: 3.269,
    0.7: 3.274,
    0.8: 3.310,
    0.9: 3.314,
    0.95: 3.316,
}


def test_no_arc_at_thirty_volts(outside):
    """The published code's zero case: 30 V over 32 mm burns not."""
    outside(source="stokes-oppenlander-1991", place="least voltage", read="second-hand", what="30 V, 32 mm: no arc",
            deviation=0.0)  # fmt: skip
    assert arc_least_v(32.0) > 30.0
    assert arc_current_a(30.0, 0.01, 32.0) == 0.0


def test_arc_keeps_kirchhoff(outside):
    """53.2 V behind 6 mΩ, 5 mm: 649 A, and the voltages add up."""
    current = arc_current_a(53.2, 0.006, 5.0)
    left = 53.2 - 0.006 * current - arc_least_v(5.0) * current**0.12
    outside(
        source="stokes-oppenlander-1991", place="arc voltage", read="computed", what="arc, 6 mΩ", deviation=left / 53.2
    )
    assert current == pytest.approx(649, abs=0.5)
    assert abs(left) < 1e-6
    assert arc_current_a(13.3, 0.006, 1.0) == 0.0


def test_lead_battery_of_iec_61660(outside):
    """E 13.44 V, 1.4 + 1.0 mΩ: peak 5.95 kA, steady 5.32 kA."""
    fault = lead_fault(12.8, 1.4e-3, 1.0e-3)
    outside(source="iec-61660-1", place="battery branch", read="from memory", what="peak and steady current",
            deviation=max(abs(fault.peak_a / 5950 - 1), abs(fault.steady_a / 5320 - 1)))  # fmt: skip
    assert fault.peak_a == pytest.approx(5950, rel=0.002)
    assert fault.steady_a == pytest.approx(5320, rel=0.002)
    assert fault.steady_a < fault.peak_a


def test_resting_voltage_of_lfp(outside):
    cell = chemistry("LFP")
    worst = max(abs(open_circuit_v(cell, soc) / volts - 1) for soc, volts in MEASURED)
    outside(source="lfp-ocv-2025", place="ten-point table", read="second-hand", what="resting voltage of an LFP cell",
            deviation=worst)  # fmt: skip
    assert worst < 1e-9


def test_resting_voltage_against_another_cell(outside):
    """Two LFP cells of other makes agree on the plateau within 2.5 %."""
    cell = chemistry("LFP")
    worst = max(abs(open_circuit_v(cell, soc) / volts - 1) for soc, volts in EQUILIBRIUM.items())
    outside(source="prada-2013", place="equilibrium voltage", read="second-hand", what="LFP plateau, 20 to 95 %",
            deviation=worst)  # fmt: skip
    assert worst < 0.025


@pytest.mark.parametrize(
    "name, printed", [("lead flooded", {1.0: 12.7, 0.5: 12.2, 0.0: 11.8}), ("lead AGM", {1.0: 12.9, 0.5: 12.3})]
)
def test_resting_voltage_of_lead(name, printed, outside):
    """Six cells, as battery guides print them."""
    worst = max(abs(6 * open_circuit_v(chemistry(name), soc) / volts - 1) for soc, volts in printed.items())
    outside(
        source="lead-acid-guide", place="resting voltage", read="from memory", what=f"12 V of {name}", deviation=worst
    )
    assert worst < 0.002


def test_impedance_margin(outside):
    """A tenth of the converter's |r| is 20 dB; half of it the 6 dB that design guides ask for at least."""
    outside(source="middlebrook-1976", place="criterion", read="second-hand", what="margin of supply and converter")
    assert impedance_margin_db(0.64, 24.0, 90.0) == pytest.approx(20.0)
    assert impedance_margin_db(3.2, 24.0, 90.0) == pytest.approx(6.02, abs=0.01)
    assert impedance_margin_db(12.8, 24.0, 90.0) < 0


def test_filter_peak_with_the_damping_of_the_guide(outside):
    """Damped by R = √(L/C), wires and capacitor peak at just that resistance."""
    inductance, capacitance = 5e-6, 470e-6
    damped = (inductance / capacitance) ** 0.5
    ours = filter_peak_ohm(inductance, capacitance, damped)
    outside(source="middlebrook-1976", place="damping", read="second-hand", what="damped by the root of L over C",
            deviation=ours / damped - 1)  # fmt: skip
    assert ours == pytest.approx(damped)
