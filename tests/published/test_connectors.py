"""Connectors: tabs of UL 310, EIAJ plugs, panel connectors, bullets."""

import pytest

from ohmstead.parts.plug import mates, read_end, tab_rating_a
from ohmstead.parts.wire import read_wire

# Test currents of the 6.3 mm and 2.8 mm tabs by gauge, as a terminal catalogue prints them.
TAB_6_3 = {22: 3, 20: 4, 18: 7, 16: 10, 14: 15, 12: 20, 10: 24}
TAB_2_8 = {22: 2, 20: 3, 18: 4, 16: 5}
# Outer diameter, bore and voltage band of the five sizes.
EIAJ = {"01": ("2.35x0.7", 0, 3.15), "02": ("4.0x1.7", 3.15, 6.3), "03": ("4.75x1.7", 6.3, 10.5),
        "04": ("5.5x3.3", 10.5, 13.5), "05": ("6.5x4.4", 13.5, 18)}  # fmt: skip


@pytest.mark.parametrize("size, printed", [("6.3", TAB_6_3), ("2.8", TAB_2_8)])
def test_tabs(size, printed, outside):
    for gauge, current in printed.items():
        assert tab_rating_a(read_end(f"tab {size}"), read_wire(f"{gauge} AWG").area_mm2) == current
    outside(
        source="ul-310", place="test currents", read="second-hand", what=f"tab of {size} mm by gauge", deviation=0.0
    )


def test_tab_on_metric_wire(outside):
    """A wire between two gauges counts as the thinner one; a wire thinner than all has no figure."""
    outside(source="ul-310", place="test currents", read="second-hand", what="metric wire counts as the thinner gauge")
    assert tab_rating_a(read_end("tab 6.3"), 1.5) == 10
    assert tab_rating_a(read_end("tab 6.3"), 2.5) == 15
    assert tab_rating_a(read_end("tab 6.3"), 0.1) is None
    assert tab_rating_a(read_end("ring M8"), 2.5) is None


@pytest.mark.parametrize("number", EIAJ)
def test_eiaj(number, outside):
    size, least, most = EIAJ[number]
    end = read_end(f"EIAJ {number}")
    outside(
        source="eiaj-rc-5320a",
        place="types 1 to 5",
        read="second-hand",
        what="sizes, 2 A, voltage bands",
        deviation=0.0,
    )
    assert (end.size, end.rating_a, end.least_v, end.most_v) == (size, 2.0, least, most)


def test_bullet_pair(outside):
    """30 A and 0.55 mΩ a contact: 0.5 W each at full current."""
    end = read_end("bullet 3.5")
    outside(source="bullet-maker-sheet", place="ratings", read="second-hand", what="3.5 mm pair: 30 A, 0.55 mΩ")
    assert (end.rating_a, end.contact_ohm) == (30.0, pytest.approx(0.55e-3))
    assert read_end("xt60").size == "3.5"


def test_panel_connector(outside):
    """At most 0.35 mΩ when new."""
    outside(source="iec-62852", place="contact resistance", read="second-hand", what="at most 0.35 mΩ when new")
    assert all(read_end(f"PV {size} mm2").contact_ohm <= 0.35e-3 for size in ("2.5", "4", "6"))


def test_barrel_pins(outside):
    """2.1 does not enter 2.5, 2.5 enters 2.1 and sits loose."""
    outside(source="common-practice", place="", read="common practice", what="5.5x2.1 and 5.5x2.5 barrels")
    thin, thick = read_end("barrel 5.5x2.1"), read_end("barrel 5.5x2.5")
    assert "does not go over" in mates(thin, thick)
    assert "loose" in mates(thick, thin)
    assert mates(thin, thin) == ""
