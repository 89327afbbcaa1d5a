"""Road vehicle cable: ISO 6722 resistances, VDE 0298-4 currents, SAE and trade sizes."""

from math import pi

import pytest

from ohmstead.parts.gauges import awg_area_mm2, sae_area_mm2
from ohmstead.parts.wire import read_wire
from ohmstead.quantity.gauge import KCMIL_MM2
from ohmstead.tables.reader import rows
from ohmstead.wiring.ampacity import Laid, ampacity_a


def test_currents_at_50_degrees(outside):
    """The printed second column is the first by the root law: √(20/40)."""
    worst = 0.0
    for row in rows("vehicle_cable"):
        ours = ampacity_a(read_wire(f"{row['size_mm2']:g} mm2 vehicle"), Laid("free air"), 50, "vehicle").value_a
        worst = max(worst, abs(ours / row["at_50_a"] - 1))
    outside(source="vde-0298-4", place="guide currents, 50 °C", read="second-hand", what="thirteen sizes from 30 °C",
            deviation=worst)  # fmt: skip
    assert worst < 0.006


def test_published_current_of_2_5(outside):
    wire = read_wire("2.5 mm2 vehicle")
    cool, hot = (ampacity_a(wire, Laid("free air"), t, "vehicle").value_a for t in (30, 50))
    outside(source="vde-0298-4", place="guide currents", read="second-hand", what="2.5 mm² at 30 and 50 °C",
            deviation=hot / 22.7 - 1)  # fmt: skip
    assert cool == 32
    assert hot == pytest.approx(22.7, abs=0.1)


def test_resistance_near_class_5(outside):
    """Vehicle cable may have up to 6 % less resistance than class 5 of the same size, never more."""
    class_5 = {row["size_mm2"]: row["plain_ohm_per_km"] for row in rows("copper_class_5")}
    ratios = [row["resistance_ohm_per_km"] / class_5[row["size_mm2"]] for row in rows("vehicle_cable")]
    outside(source="iec-60228", place="table 3", read="second-hand", what="ISO 6722 resistance over class 5",
            deviation=max(abs(ratio - 1) for ratio in ratios))  # fmt: skip
    assert all(0.94 < ratio <= 1.0 for ratio in ratios)


def test_geometry(outside):
    """A bundle of strands fills 50 to 75 % of its round, and insulation adds at least 0.5 mm of wall."""
    for row in rows("vehicle_cable"):
        fill = row["size_mm2"] / (pi / 4 * row["conductor_mm"] ** 2)
        assert 0.50 < fill < 0.75, row
        assert row["outer_mm"] - row["conductor_mm"] >= 1.0
    outside(source="iso-6722", place="part 3, dimensions", read="computed", what="fill of the strands")


def test_sae_is_thinner(outside):
    """8 gauge SAE has 12 % less copper than 8 AWG of the trade's rounded table, and no gauge has more."""
    for row in rows("sae_area"):
        assert 0.87 < row["sae_cmil"] / row["awg_cmil"] < 0.98, row
    printed = {row["size"]: row["awg_cmil"] for row in rows("sae_area")}
    worst = max(abs(awg_area_mm2(size) / KCMIL_MM2 * 1000 / cmil - 1) for size, cmil in printed.items())
    outside(source="astm-b258", place="formula", read="original", what="AWG circular mils beside the SAE areas",
            deviation=worst)  # fmt: skip
    assert worst < 0.02  # the appendix rounds to three figures
    assert sae_area_mm2("8") / (16800 * KCMIL_MM2 / 1000) == pytest.approx(0.88, abs=0.005)


def test_trade_millimetres_hold_less_copper(outside):
    """A cable of outer diameter d holds far less than d mm², and no more than its round without 1 mm of wall."""
    for row in rows("vehicle_trade_mm"):
        assert row["size_mm2"] < row["trade_mm"]
        assert row["size_mm2"] < pi / 4 * (row["trade_mm"] - 1.0) ** 2
    outside(source="common-practice", place="", read="common practice", what="vehicle cable sold by diameter")
