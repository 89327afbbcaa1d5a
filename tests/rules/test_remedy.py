"""The next size that works is the next size, in the builder's own system, and it works."""

import pytest

from ohmstead.evidence import remedy
from ohmstead.evidence.coverage import others
from ohmstead.parts.fuse import read_fuse, with_rating
from ohmstead.parts.wire import read_wire
from rules.small_site import site


def view(wire, fuse="10 A blade"):
    return site([f"from: bank, to: lamp, length: 4 m, wire: {wire}, laid: clipped, fuse: {fuse}"]).evidence.runs[0]


@pytest.mark.parametrize(
    ("wire", "system"), [("1.5 mm2", "mm2"), ("16 AWG", "AWG"), ("16 gauge SAE", "SAE"), ("1.5 mm2 vehicle", "vehicle")]
)
def test_wires_stay_in_their_system_and_one_size_thinner_would_not_do(wire, system):
    run = view(wire)
    found = remedy.smallest_wire_for_current(run, 40.0, "IEC")
    sizes = list(remedy.thicker_wires(run.wire))
    assert found.system == system and remedy.carries_a(run, found, "IEC") >= 40.0
    thinner = sizes[: sizes.index(found)]
    assert all(remedy.carries_a(run, size, "IEC") < 40.0 for size in thinner)


def test_a_mended_wire_loses_what_the_whole_program_then_finds():
    run = view("1.5 mm2")
    found = remedy.smallest_wire_for_drop(run, 5.0, 0.25)
    assert remedy.drop_ohm(run, found) * 5.0 <= 0.25
    assert remedy.drop_ohm(run, found) == pytest.approx(view(found.size).loop_hot_ohm, rel=0.01)


def test_what_decides_is_told():
    run = view("1.5 mm2")
    assert remedy.smallest_wire(run, 40.0, 4.0, "IEC").decided_by == "current"
    assert remedy.smallest_wire(run, 10.0, 0.2, "IEC").decided_by == "voltage drop"


@pytest.mark.parametrize(("limit_a", "text"), [(19.5, "15 A blade"), (15.0, "15 A blade"), (0.5, None)])
def test_the_largest_fuse_is_a_made_size_not_above_the_limit(limit_a, text):
    fuse = remedy.largest_fuse_under(view("1.5 mm2", "30 A blade"), limit_a)
    assert (fuse and str(fuse)) == text


def test_fuses_that_are_not_made_are_not_named():
    assert remedy.next_fuse_over(read_fuse("10 A blade"), 12.0).rating_a == 15
    assert remedy.next_fuse_over(read_fuse("10 A blade"), 41.0) is None


def test_a_fuse_that_breaks_the_fault_is_of_about_the_same_rating():
    bank = "chemistry: LFP, cells: 16, capacity: 100 Ah, resistance: 9 mΩ"
    run = site(["from: bank, to: lamp, length: 4 m, wire: 4 mm2, fuse: 10 A blade"], bank=bank).evidence.runs[0]
    better = remedy.breaking_fuse(run, run.own_fuse, 56.8, 6000.0)
    assert better.family.breaking_capacity_a(56.8, better.rating_a) >= 6000 and better.rating_a == 10


def test_of_fuses_that_break_the_fault_the_one_that_carries_the_load_is_named():
    """40 A x 0.75 carry 29 A; 32 A of the commoner kind, x 0.7, would not."""
    lamp = "  heater: {kind: device, input: 7..64 V, draws: 280 W}"
    runs = ["from: bank, to: heater, length: 1 m, wire: 16 mm2, laid: clipped, fuse: 40 A blade"]
    bank = "chemistry: LFP, cells: 4, capacity: 200 Ah, resistance: 2 mΩ"
    run = site(runs, lamp, bank=bank).evidence.runs[0]
    assert str(remedy.breaking_fuse(run, run.own_fuse, 14.4, 7000.0)) == "40 A class T"
    assert str(remedy.fitting_fuse(run, 45.0)) == "40 A class T"
    assert str(remedy.fitting_fuse(run, 97.0)) == "90 A class T"


def test_a_named_fuse_keeps_the_words_of_the_builder():
    assert str(with_rating(read_fuse("40 A terminal"), 50)) == "50 A terminal"
    assert str(with_rating(read_fuse("blade 58 V 10 A"), 7.5)) == "7.5 A blade 58 V"


def test_a_wire_is_named_in_both_systems():
    assert remedy.wire_words(read_wire("4 mm2")) == "4 mm² (11 AWG)"
    assert remedy.wire_words(read_wire("10 AWG")) == "10 AWG (5.26 mm²)"


def test_long_lists_are_cut():
    assert others([]) == ""
    assert others(["a"]) == " (also a)"
    assert others(["a", "b", "c", "d"]) == " (also a, b, c and d)"
    assert others(["a", "b", "c", "d", "e"]) == " (also a, b, c and 2 more)"
