"""NFPA 70: ampacities, correction factors, conductor properties."""

import pytest

from ohmstead.parts.gauges import COPPER_OHM_MM2_PER_KM, awg_area_mm2, awg_number
from ohmstead.parts.wire import read_wire
from ohmstead.tables.reader import rows
from ohmstead.wiring.ampacity import Laid, ampacity_a
from ohmstead.wiring.conductor import temperature_factor

# Table 310.15(B)(1): factor by the band's upper temperature, conductors for 60, 75 and 90 °C.
CORRECTION = {35: (0.91, 0.94, 0.96), 40: (0.82, 0.88, 0.91), 45: (0.71, 0.82, 0.87), 50: (0.58, 0.75, 0.82),
              55: (0.41, 0.67, 0.76), 60: (None, 0.58, 0.71), 65: (None, 0.47, 0.65), 70: (None, 0.33, 0.58),
              75: (None, None, 0.50), 80: (None, None, 0.41)}  # fmt: skip
# A second transcription of the 90 °C column of table 310.17.
FREE_AIR_90 = {"14": 35, "12": 40, "10": 55, "8": 80, "6": 105, "4": 140, "2/0": 300, "4/0": 405}
# A second transcription of table 310.16, 75 °C.
RACEWAY_75 = {"14": 20, "12": 25, "10": 35, "8": 50, "6": 65, "4": 85, "3": 100, "2": 115, "1": 130, "1/0": 150,
              "2/0": 175, "3/0": 200, "4/0": 230}  # fmt: skip


@pytest.mark.parametrize("column, limit", [(0, 60), (1, 75), (2, 90)])
def test_correction_factors(column, limit, outside):
    wire = read_wire(f"10 AWG {limit} °C")
    worst = 0.0
    for air, factors in CORRECTION.items():
        if factors[column] is None:
            continue
        ours = ampacity_a(wire, Laid("in conduit"), air, "US").ambient_factor
        assert abs(ours - factors[column]) < 0.0051, air
        worst = max(worst, abs(ours / factors[column] - 1))
    outside(source="nec-310-15", place="table 310.15(B)(1)", read="second-hand", what=f"ambient factors, {limit} °C",
            deviation=worst)  # fmt: skip


def test_table_310_16(outside):
    for size, printed in RACEWAY_75.items():
        assert ampacity_a(read_wire(f"{size} AWG 75 °C"), Laid("in conduit"), 30, "US").value_a == printed
    outside(source="nec-310-16", place="table 310.16", read="second-hand", what="75 °C column, second transcription",
            deviation=0.0)  # fmt: skip


def test_table_310_17(outside):
    for size, printed in FREE_AIR_90.items():
        assert ampacity_a(read_wire(f"{size} AWG 90 °C"), Laid("free air"), 30, "US").value_a == printed
    outside(source="nec-310-17", place="table 310.17", read="second-hand", what="90 °C column, eight sizes",
            deviation=0.0)  # fmt: skip


def test_free_air_is_the_federal_boat_table(outside):
    """From 6 AWG up the 60 and 75 °C columns are those of 33 CFR 183.425, which was read in full."""
    boat = {row["size"]: row for row in rows("small_craft_ampacity")}
    for row in rows("nec_free_air"):
        if awg_number(row["size"]) <= 6:
            for column in ("at_60_c", "at_75_c"):
                assert row[column] == boat[row["size"]][column], row
    outside(source="33-cfr-183", place="183.425 table 5", read="original", what="table 310.17 from 6 AWG up",
            deviation=0.0)  # fmt: skip


def test_columns_of_310_16_rise_by_the_root_law(outside):
    """75 and 90 °C over 60 °C: √(45/30) and √(60/30), less what hot copper adds."""
    worst = 0.0
    for row in rows("nec_raceway"):
        for column, limit in (("at_75_c", 75), ("at_90_c", 90)):
            law = ((limit - 30) / 30 * temperature_factor(60) / temperature_factor(limit)) ** 0.5
            worst = max(worst, abs(row[column] / row["at_60_c"] / law - 1))
    outside(
        source="nec-310-16", place="table 310.16", read="computed", what="columns by the law of rise", deviation=worst
    )
    assert worst < 0.25  # 14 AWG is held to round figures


def test_conductor_count(outside):
    printed = {2: 1.0, 3: 1.0, 4: 0.8, 6: 0.8, 7: 0.7, 9: 0.7, 10: 0.5, 20: 0.5, 21: 0.45, 31: 0.40, 41: 0.35}
    wire = read_wire("10 AWG")
    for conductors, factor in printed.items():
        if conductors % 2 == 0:
            assert ampacity_a(wire, Laid("in conduit", conductors // 2), 30, "US").grouping_factor == factor
    starts = {row["from_conductors"]: row["factor_fraction"] for row in rows("nec_conductor_count")}
    assert starts == {1: 1.0, 4: 0.8, 7: 0.7, 10: 0.5, 21: 0.45, 31: 0.40, 41: 0.35}
    outside(source="nec-310-15", place="table 310.15(C)(1)", read="second-hand", what="more than three conductors")


def test_chapter_9_table_8(outside):
    """Stranded wire brought back to 20 °C lies 2 % above solid copper of the gauge's area."""
    worst = 0.0
    for table in ("awg_stranded", "awg_stranded_small"):
        for row in rows(table):
            at_20 = row["at_75_ohm_per_kft"] / 0.3048 / temperature_factor(75.0)
            size = row["size"] if isinstance(row["size"], str) else f"{row['size']:g}"
            ratio = at_20 * awg_area_mm2(size) / COPPER_OHM_MM2_PER_KM
            worst = max(worst, abs(ratio / 1.02 - 1))
    outside(source="nec-ch9-t8", place="table 8", read="second-hand", what="stranded over solid, 1.02", deviation=worst)
    assert worst < 0.006


def test_chapter_9_temperature_note(outside):
    """R2 = R1 (1 + 0.00323 (T - 75))."""
    worst = max(
        abs(temperature_factor(t) / temperature_factor(75.0) / (1 + 0.00323 * (t - 75)) - 1) for t in range(0, 106, 5)
    )
    outside(source="nec-ch9-t8", place="table 8, note 2", read="second-hand", what="resistance, 0 to 105 °C",
            deviation=worst)  # fmt: skip
    assert worst < 0.0005


def test_240_4_d(outside):
    """The cap never exceeds the 60 °C ampacity of table 310.16 for these gauges: it equals it."""
    raceway = {row["size"]: row["at_60_c"] for row in rows("nec_raceway")}
    caps = {str(int(row["size"])): row["fuse_a"] for row in rows("nec_small_conductor_fuse")}
    outside(source="nec-240-4", place="240.4(D)", read="second-hand", what="caps of 14, 12 and 10 AWG",
            deviation=0.0)  # fmt: skip
    assert caps == {"14": 15.0, "12": 20.0, "10": 30.0}
    assert all(cap == raceway[size] for size, cap in caps.items())
