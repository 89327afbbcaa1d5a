"""Small craft: the federal ampacity table and the boat-cable reductions."""

import pytest

from ohmstead.parts.wire import read_wire
from ohmstead.tables.reader import columns, rows
from ohmstead.wiring.ampacity import Laid, ampacity_a

# Factors for engine spaces (50 °C). 105 °C read second-hand, the others from memory.
ENGINE_SPACE = {60: 0.58, 75: 0.75, 80: 0.78, 90: 0.82, 105: 0.85, 125: 0.89}


def test_engine_space(outside):
    worst = 0.0
    for limit, printed in ENGINE_SPACE.items():
        ours = ampacity_a(read_wire(f"10 AWG {limit} °C"), Laid("free air"), 50, "small craft").ambient_factor
        assert abs(ours - printed) < 0.0075, limit
        worst = max(worst, abs(ours / printed - 1))
    outside(source="ul-1426", place="engine spaces, 50 °C", read="from memory", what="factors by insulation",
            deviation=worst)  # fmt: skip


def test_boat_bundle_example(outside):
    """10 AWG 105 °C, 4 to 6 conductors, engine space: 60 · 0.60 · 0.85 = 30.6 A."""
    wire = read_wire("10 AWG 105 °C")
    alone = ampacity_a(wire, Laid("free air"), 30, "small craft").value_a
    bundled = ampacity_a(wire, Laid("bundled", 3), 30, "small craft").value_a
    hot = ampacity_a(wire, Laid("bundled", 3), 50, "small craft").value_a
    outside(source="ul-1426", place="allowable amperage", read="second-hand", what="10 AWG in a bundle, engine space",
            deviation=hot / 30.6 - 1)  # fmt: skip
    assert (alone, bundled) == (60.0, 36.0)
    assert hot == pytest.approx(30.6, rel=0.01)  # the printed 0.85 stands for √(55/75) = 0.856


@pytest.mark.parametrize("circuits, printed", [(1, 60.0), (2, 36.0), (3, 36.0), (4, 30.0), (12, 30.0)])
def test_bundling_by_conductors(circuits, printed, outside):
    """The cable maker's row of 10 AWG: 60 A for two conductors, 36 A for 4 to 6, 30 A for 7 to 24."""
    ours = ampacity_a(read_wire("10 AWG 105 °C"), Laid("bundled", circuits), 30, "small craft").value_a
    outside(source="ul-1426", place="allowable amperage", read="second-hand", what="10 AWG by conductors together",
            deviation=ours / printed - 1)  # fmt: skip
    assert ours == printed


def test_fuse_cap_example(outside):
    """14 AWG 105 °C under 50 V: at most 150 % of 35 A."""
    ours = 1.5 * ampacity_a(read_wire("14 AWG 105 °C"), Laid("free air"), 30, "small craft").value_a
    outside(source="33-cfr-183", place="183.455", read="original", what="largest fuse before 14 AWG", deviation=0.0)
    assert ours == 52.5


def test_table_rises_with_size_and_insulation(outside):
    table = columns("small_craft_ampacity")
    for name in [column for column in table if column != "size"]:
        assert table[name] == sorted(table[name])
    for row in rows("small_craft_ampacity"):
        across = [value for key, value in row.items() if key != "size"]
        assert across == sorted(across)
    outside(source="33-cfr-183", place="183.425 table 5", read="original", what="order of all 105 values")
