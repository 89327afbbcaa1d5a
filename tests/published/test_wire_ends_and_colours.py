"""End sleeves and colours of wires against what could be read of their standards."""

import pytest

from ohmstead.sheets.cutting.colours import conventions
from ohmstead.sheets.cutting.ends import ferrule_for
from ohmstead.tables.reader import rows

# Colour list "DIN 46228" on a wire merchant's public page.
MERCHANT = {0.5: "white", 0.75: "grey", 1: "red", 1.5: "black", 2.5: "blue", 4: "grey", 6: "yellow", 10: "red",
            16: "blue", 25: "yellow"}  # fmt: skip


def test_end_sleeve_colours(outside) -> None:
    got = {float(row["size_mm2"]): row["colour"] for row in rows("ferrules")}
    outside(source="din-46228", place="part 4, colours", read="second-hand", what="colour of an end sleeve by its size")
    assert {size: got[size] for size in MERCHANT} == MERCHANT


def test_strip_length_is_the_tube_and_two_millimetres(outside) -> None:
    """A drive maker's manual: 10 mm tubes with collar, strip 12 mm."""
    over = [float(row["strip_mm"]) - float(row["tube_mm"]) for row in rows("ferrules")]
    outside(
        source="din-46228",
        place="strip length, as in a maker's manual",
        read="second-hand",
        what="strip length over the tube of an end sleeve with collar",
        deviation=max(abs(length / (12 - 10) - 1) for length in over),
    )
    assert over == [12 - 10] * len(over)


@pytest.mark.parametrize(("area_mm2", "size"), [(0.518, 0.5), (0.823, 1.0), (1.31, 1.5), (2.08, 2.5), (5.26, 6.0)])
def test_gauges_take_the_next_end_sleeve(area_mm2: float, size: float, outside) -> None:
    """20, 18, 16, 14 and 10 AWG as merchants' charts pair them, 18 AWG with the next larger (0.75 mm² is thinner)."""
    outside(
        source="common-practice", place="charts of end sleeves", read="common practice", what="end sleeve for a gauge"
    )
    row = ferrule_for(area_mm2)
    assert row is not None and row["size_mm2"] == size


def test_colours_of_small_craft(outside) -> None:
    """A boat builders' page: DC negative yellow or black, positive red."""
    row = next(known for known in conventions() if known.convention == "small craft")
    outside(
        source="iso-10133",
        place="colours of direct-current wires",
        read="second-hand",
        what="positive red, negative black or yellow",
    )
    assert (row.positive, row.negative) == ("red", "black (or yellow)")


def test_colours_of_direct_current(outside) -> None:
    row = next(known for known in conventions() if known.convention == "IEC")
    outside(
        source="iec-60445",
        place="colours of direct-current conductors",
        read="from memory",
        what="positive red, negative white",
    )
    assert (row.positive, row.negative, row.read) == ("red", "white", "from memory")


def test_every_table_set_has_its_colours() -> None:
    assert [known.convention for known in conventions()] == ["IEC", "US", "small craft", "vehicle"]
    assert all("green" not in colour for known in conventions() for colour in (known.positive, known.negative))
