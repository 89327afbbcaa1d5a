"""Power over Ethernet: the classes, and the cable behind them."""

import pytest

from ohmstead.parts.cable import read_ethernet_cable
from ohmstead.parts.gauges import COPPER_OHM_MM2_PER_KM, awg_area_mm2
from ohmstead.tables.reader import rows
from ohmstead.wiring.ethernet import cable_loop_ohm, delivered_power_w, device_voltage_v, power_class

# Class: power at the source, power at the device, least voltage at the source, as published.
CLASSES = {0: (15.4, 12.95, 44), 1: (4, 3.84, 44), 2: (7, 6.49, 44), 3: (15.4, 12.95, 44), 4: (30, 25.5, 50),
           5: (45, 40, 50), 6: (60, 51, 50), 7: (75, 62, 52), 8: (90, 71.3, 52)}  # fmt: skip


@pytest.mark.parametrize("number", CLASSES)
def test_class_table(number, outside):
    """Source power less the loss in the longest channel gives the published device power."""
    given = power_class(number)
    source_w, device_w, volts = CLASSES[number]
    ours = delivered_power_w(given.source_w, given.source_least_v, given.loop_ohm)
    outside(source="ieee-802.3", place="power classes", read="second-hand", what="device power from source power",
            deviation=ours / device_w - 1)  # fmt: skip
    assert (given.source_w, given.device_w, given.source_least_v) == (source_w, device_w, volts)
    # Class 5 is published as a round 40 W, the cable gives 39.94 W.
    assert ours == pytest.approx(device_w, abs=0.065 if number == 5 else 0.025)


def test_device_voltage_at_the_limit(outside):
    """At full power over the longest channel the device sees at least its least voltage."""
    worst = 0.0
    for number in CLASSES:
        given = power_class(number)
        ours = device_voltage_v(given.source_least_v, given.device_w, given.loop_ohm)
        worst = max(worst, given.device_least_v / ours - 1)
        assert ours >= given.device_least_v - 0.06, number
    outside(source="ieee-802.3", place="device voltage windows", read="second-hand", what="voltage at full power",
            deviation=max(worst, 0.0))  # fmt: skip


def test_old_example(outside):
    """Four wires of 7 Ω, 350 mA in all: 2.45 V lost, 0.858 W in the cable."""
    loop = 7.0 / 2 * 2
    source_v = 48.0
    device_v = source_v - 0.350 * loop
    ours = device_voltage_v(source_v, 0.350 * device_v, loop)
    outside(source="worked-examples", place="Ethernet power page", read="second-hand", what="four wires of 7 Ω",
            deviation=(source_v - ours) / 2.45 - 1)  # fmt: skip
    assert source_v - ours == pytest.approx(2.45, abs=1e-9)
    assert (source_v - ours) * 0.350 == pytest.approx(0.858, abs=0.0005)


def test_cable_limits(outside):
    """A category's limit lies 8 to 12 % above solid copper of its gauge, and the channel's 12.5 Ω a pair set
    holds 100 m of Cat5e with its connectors."""
    worst = 0.0
    for row in rows("ethernet_cable"):
        solid = COPPER_OHM_MM2_PER_KM / awg_area_mm2(row["gauge"].split()[0])
        worst = max(worst, row["conductor_ohm_per_km"] / solid - 1)
        assert 1.03 < row["conductor_ohm_per_km"] / solid < 1.13, row
    loop = cable_loop_ohm(read_ethernet_cable("Cat5e 24 AWG"), 100.0, 2, 20.0)
    outside(source="iec-11801", place="conductor resistance", read="second-hand", what="limit over solid copper",
            deviation=worst)  # fmt: skip
    assert loop == pytest.approx(9.38)
    assert loop < 12.5


def test_four_pairs_halve_the_loop(outside):
    cable = read_ethernet_cable("Cat5e 24 AWG")
    two, four = (cable_loop_ohm(cable, 100.0, pairs, 20.0) for pairs in (2, 4))
    outside(source="ieee-802.3", place="clause 145", read="computed", what="loop of four pairs over two", deviation=0.0)
    assert four == two / 2
