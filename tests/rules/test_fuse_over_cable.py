"""The largest fuse before a wire, by each set of rules."""

import pytest

from ohmstead.evidence.finding import Severity
from rules.small_site import said, site

RUN = "from: bank, to: lamp, length: 2 m, wire: {}, laid: {}, fuse: {}, fuse at: 0.1 m"


def test_small_craft_allows_half_as_much_again_below_50_v(outside):
    """Table 5 gives 14 AWG of 105 °C 35 A; 150 % of it is 52.5 A."""
    run = RUN.format("14 AWG 105 °C", "clipped", "60 A stud")
    (finding,) = said(site([run], about="rules: small craft"), "fuse-over-cable")
    outside(
        source="33-cfr-183",
        place="183.455(c) with table 5",
        read="original",
        what="largest fuse before 14 AWG",
        deviation=abs(finding.limit / 52.5 - 1),
    )
    assert finding.limit == pytest.approx(52.5)
    assert not said(site([run.replace("60 A", "50 A")], about="rules: small craft"), "fuse-over-cable")


def test_small_craft_allows_no_more_than_the_table_from_50_v():
    bank = "chemistry: LFP, cells: 16, capacity: 20 Ah, resistance: 100 mΩ, charging: 56.8 V"
    run = RUN.format("14 AWG 105 °C", "clipped", "40 A class T")
    (finding,) = said(site([run], bank=bank, about="rules: small craft"), "fuse-over-cable")
    assert finding.limit == pytest.approx(35)


@pytest.mark.parametrize(
    ("size", "cap_a", "over"), [("14 AWG", 15, "20 A"), ("12 AWG", 20, "30 A"), ("10 AWG", 30, "40 A")]
)
def test_the_us_caps_hold_whatever_the_table_says(outside, size, cap_a, over):
    run = RUN.format(f"{size} XLPE", "free air", f"{over} maxi blade")
    (finding,) = said(site([run], about="rules: US"), "fuse-over-cable")
    outside(
        source="nec-240-4",
        place="240.4(D)",
        read="second-hand",
        what=f"largest device before {size}",
        deviation=abs(finding.limit / cap_a - 1),
    )
    assert finding.limit == cap_a and finding.severity is Severity.DANGER


def test_the_next_us_size_is_only_tight():
    run = RUN.format("2 AWG", "in conduit", "100 A class T")  # 95 A at 60 °C; 100 A is the next standard size
    (finding,) = said(site([run], about="rules: US"), "fuse-over-cable")
    assert finding.severity is Severity.TIGHT
    run = RUN.format("2 AWG", "in conduit", "110 A class T")
    (finding,) = said(site([run], about="rules: US"), "fuse-over-cable")
    assert finding.severity is Severity.DANGER


def test_the_thinnest_piece_is_named_with_the_sizes_that_work():
    runs = [
        "from: bank, to: bar, length: 1 m, wire: 4 mm2, laid: clipped, fuse: 30 A maxi blade, fuse at: 0.1 m",
        "from: bar, to: lamp, length: 2 m, wire: 1.5 mm2, laid: clipped",
    ]
    (finding,) = said(site(runs, "bar: {kind: busbar}"), "fuse-over-cable", "weak-short", "cable-burns-in-fault")
    assert finding.subject == "bar -> lamp" and "1.5 mm²" in finding.message
    assert "15 A" in finding.mend and "4 mm²" in finding.mend


def test_a_low_converter_limit_makes_a_large_fuse_harmless():
    supply = "supply: {kind: converter, input: 8..16 V, output: 12 V, rating: 100 W, current limit: 10 A}"
    runs = [
        "from: bank, to: supply, length: 1 m, wire: 4 mm2, fuse: 20 A blade",
        "from: supply, to: lamp, length: 2 m, wire: 1 mm2, laid: clipped, fuse: 25 A blade",
    ]
    assert not said(site(runs, supply), "fuse-over-cable", "fault-not-cleared", "weak-short", "unfused-run")


def test_the_fuses_of_two_batteries_add_up_behind_their_bar():
    banks = "\n".join(
        f"  {name}: {{chemistry: LFP, cells: 4, capacity: 50 Ah, resistance: 20 mΩ}}" for name in ("east", "west")
    )
    lead = "from: {}, to: bar, length: 1 m, wire: 16 mm2, laid: clipped, fuse: 60 A class T, fuse at: 0.1 m"
    runs = [lead.format("east"), lead.format("west"), "from: bar, to: lamp, length: 1 m, wire: 16 mm2, laid: clipped"]
    (finding,) = said(site(runs, "bar: {kind: busbar}", batteries=banks), "fuse-over-cable")
    assert finding.subject == "bar -> lamp" and finding.value == 120
