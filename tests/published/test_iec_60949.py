"""The adiabatic equation: k of IEC 60364-4-43 from the constants of IEC 60949, and worked examples."""

import pytest

from ohmstead.tables.reader import rows
from ohmstead.wiring.adiabatic import k_factor, least_area_mm2, withstand_a2s

# The tenth row of the table, for thick PVC cables, is from memory.
THICK_PVC = (70, 140, 103)


def test_k_table(outside):
    worst = 0.0
    printed = [(row["start_c"], row["end_c"], row["k"]) for row in rows("adiabatic_k")]
    for start, end, k in [*printed, THICK_PVC]:
        ours = k_factor(start, end)
        assert abs(ours - k) < 0.5, (start, end)
        worst = max(worst, abs(ours / k - 1))
    outside(source="iec-60364-4-43", place="table 43A and 54.2 to 54.6", read="second-hand", what="ten factors k",
            deviation=worst)  # fmt: skip
    assert len(printed) == 9


def test_fault_example(outside):
    """2500 A for 0.1 s in PVC: at least 6.9 mm²."""
    ours = least_area_mm2(2500, 0.1, 70, 160)
    outside(source="worked-examples", place="cable calculation, adiabatic", read="second-hand", what="2500 A for 0.1 s",
            deviation=ours / 6.87 - 1)  # fmt: skip
    assert ours == pytest.approx(6.87, abs=0.03)


def test_iec_60949_example(outside):
    """95 mm² XLPE, 90 to 250 °C, one second: 13.6 kA without heat leaving the conductor."""
    ours = withstand_a2s(95, 90, 250) ** 0.5
    outside(source="iec-60949", place="example", read="second-hand", what="95 mm² for 1 s", deviation=ours / 13600 - 1)
    assert ours == pytest.approx(13600, rel=0.005)


def test_aluminium_swallows_less(outside):
    """k of aluminium in PVC is 76 where copper has 115."""
    ours = (withstand_a2s(1, 70, 160, "aluminium") / withstand_a2s(1, 70, 160)) ** 0.5 * 115
    outside(
        source="iec-60364-4-43", place="table 43A", read="from memory", what="k of aluminium", deviation=ours / 76 - 1
    )
    assert ours == pytest.approx(76)
