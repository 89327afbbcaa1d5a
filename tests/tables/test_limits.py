"""Tables that rules read directly: each against another source or a law."""

import pytest

from ohmstead.tables.reader import rows
from ohmstead.wiring.adiabatic import k_factor


def test_insulation_limits_match_the_adiabatic_table(outside):
    """PVC 70/160, XLPE and EPR 90/250: the temperatures behind k = 115 and 143."""
    pairs = {row["word"]: (row["limit_c"], row["fault_c"]) for row in rows("insulation")}
    table = {row["k"]: (row["start_c"], row["end_c"]) for row in rows("adiabatic_k") if "core" in row["insulation"]}
    outside(source="iec-60364-4-43", place="table 43A", read="second-hand", what="temperatures of PVC, XLPE, EPR",
            deviation=0.0)  # fmt: skip
    assert pairs["pvc"] == table[115]
    assert pairs["xlpe"] == pairs["epr"] == table[143]
    assert all(round(k_factor(*pair)) == k for k, pair in table.items())
    assert all(fault > limit for limit, fault in pairs.values())


def test_voltage_limits(outside):
    """120 V and 60 V direct stand where 50 V and 25 V alternating do; 16 LFP cells at 3.65 V stay below 60 V."""
    limits = {row["name"]: row["direct_v"] for row in rows("voltage_limit")}
    outside(source="iec-61140", place="extra-low voltage", read="second-hand", what="120 V and 60 V direct")
    assert limits["extra-low voltage"] == limits["ES2"] == 120
    assert limits["touchable without protection"] == limits["ES1"] == 60
    assert 16 * 3.65 < limits["ES1"] < 17 * 3.65


def test_drop_limits(outside):
    """Branch and feeder of the American note add up to no more than six hundredths, five in all; private supplies
    of the IEC note may lose 3 % more than public ones."""
    limits = {(row["rules"], row["circuit"]): row["drop_fraction"] for row in rows("drop_limit")}
    outside(source="iec-60364-5-52", place="table G.52.1", read="second-hand", what="drop limits of private supplies")
    assert limits["IEC", "lighting"] == pytest.approx(0.03 + 0.03)
    assert limits["IEC", "other"] == pytest.approx(0.05 + 0.03)
    assert limits["US", "branch"] < limits["US", "whole path"] <= 2 * limits["US", "branch"]
    assert limits["small craft", "critical"] < limits["small craft", "other"]


def test_middle_tab_lies_between_its_neighbours(outside):
    narrow = {row["size"]: (row["tab_2_8_a"], row["tab_6_3_a"]) for row in rows("ul_310")}
    outside(source="ul-310", place="test currents", read="from memory", what="4.8 mm tab between 2.8 and 6.3 mm")
    for row in rows("ul_310_4_8"):
        least, most = narrow[row["size"]]
        assert row["tab_4_8_a"] <= most
        assert least != least or least <= row["tab_4_8_a"]
