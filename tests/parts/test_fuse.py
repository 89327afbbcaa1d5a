"""Fuses from a builder's words, and what every family must hold."""

import pytest

from ohmstead.parts.faults import PartError
from ohmstead.parts.fuse import (
    families,
    fuse_family,
    next_rating,
    rating_at_least,
    rating_at_most,
    read_fuse,
    with_rating,
    with_window,
)
from ohmstead.parts.yaml_data import part_file
from ohmstead.tables.sources import source

FAMILIES = families()


@pytest.mark.parametrize("text, rating, family", [
    ("10 A blade", 10, "blade-regular"),
    ("10A blade fuse", 10, "blade-regular"),
    ("3 A mini blade", 3, "blade-mini"),
    ("40 A maxi blade", 40, "blade-maxi"),
    ("10 A blade 58 V", 10, "blade-regular-58v"),
    ("40 A 58 V maxi blade", 40, "blade-maxi-58v"),
    ("125 A class T", 125, "class-t"),
    ("80 A terminal", 80, "stud"),
    ("80 A stud", 80, "stud"),
    ("100 A strip", 100, "strip"),
    ("100 A ANL-type", 100, "strip"),
    ("60 A small bolt-down", 60, "bolt-down-small"),
    ("60 A bolt-down small 58 V", 60, "bolt-down-small-58v"),
    ("150 A large bolt-down", 150, "bolt-down-large"),
    ("150 A large bolt-down 70 V", 150, "bolt-down-large-70v"),
    ("15 A 10x38 gPV", 15, "cylinder-10x38"),
    ("15 A 10 x 38", 15, "cylinder-10x38"),
    ("63 A NH gPV", 63, "nh-gpv"),
    ("2 A glass F", 2, "glass-fast-iec"),
    ("500 mA glass T", 0.5, "glass-slow-iec"),
    ("2 A glass T UL", 2, "glass-slow-ul"),
    ("20 A breaker", 20, "breaker-dc"),
])  # fmt: skip
def test_names(text, rating, family):
    fuse = read_fuse(text)
    assert (fuse.rating_a, fuse.family.name) == (rating, family)
    assert fuse.text == text


@pytest.mark.parametrize("text, problem, mend", [
    ("12 A blade", "a blade fuse is not made for 12 A", "use 10 A or 15 A"),
    ("60 A blade", "a blade fuse is not made for 60 A", "use 40 A"),
    ("0.5 A blade", "a blade fuse is not made for 0.5 A", "use 1 A"),
    ("blade", "'blade' names no rating", "start with the rating, such as 10 A"),
    ("10 A", "the kind of fuse is missing", "add the kind, such as blade"),
    ("10 A blad", "no fuse is called 'blad'", "did you mean blade?"),
    ("10 A wool", "no fuse is called 'wool'", "name its shape"),
    ("7,5 A blade", "'7,5 A blade' has a comma inside a number", "write a decimal point: 7.5 A blade"),
    ("10 A blade 48 V", "no blade fuse is made for 48 V", "leave out the voltage"),
])  # fmt: skip
def test_wrong_text(text, problem, mend):
    with pytest.raises(PartError) as fault:
        read_fuse(text)
    assert fault.value.problem == problem
    assert fault.value.mend == mend


def test_next_rating_reads_back():
    for family in FAMILIES:
        fuse = read_fuse(with_rating_text(family))
        while (larger := next_rating(fuse)) is not None:
            assert read_fuse(larger.text) == larger
            assert larger.rating_a > fuse.rating_a
            fuse = larger
        assert fuse.rating_a == max(family.ratings_a)


def with_rating_text(family) -> str:
    volts = f" {family.variant_v:g} V" if family.variant_v else ""
    return f"{family.ratings_a[0]:g} A {family.words[0]}{volts}"


def test_ratings_near_a_current():
    blade = fuse_family("blade-regular")
    assert rating_at_most(blade, 12) == 10
    assert rating_at_least(blade, 12) == 15
    assert rating_at_most(blade, 0.5) is None
    assert rating_at_least(blade, 50) is None
    assert with_rating(read_fuse("10 A blade"), 15).text == "15 A blade"


def test_unknown_family():
    with pytest.raises(KeyError, match="no fuse family wool"):
        fuse_family("wool")


def test_stated_window_keeps_the_holding_gate():
    fuse = with_window(read_fuse("10 A blade"), {2.0: (0.2, 5.0), 6.0: (0.02, 0.05)})
    assert [gate.percent for gate in fuse.window.gates] == [110, 135, 160, 200, 600]
    assert fuse.read == "stated"
    assert read_fuse("10 A blade").read == "from memory"


@pytest.mark.parametrize("family", FAMILIES, ids=lambda family: family.name)
def test_family_is_whole(family):
    for key in (family.source, family.breaking_source, family.continuous_source):
        assert source(key).title
    assert source(part_file("fuses", family.name)["ambient"]["source"]).title
    assert {family.read, family.breaking_read, family.rerating_read, family.resistance_read} <= {
        "original", "second-hand", "from memory"}  # fmt: skip
    assert list(family.ratings_a) == sorted(set(family.ratings_a))
    assert 0.5 < family.continuous_fraction < 1
    assert family.kind in ("fuse", "breaker")
    shares = [share for _, share in family.rerating]
    assert shares[0] == 1 and shares == sorted(shares, reverse=True)
    for fuse_a in family.ratings_a:
        assert family.breaking_capacity_a(12.0, fuse_a) >= 35
        assert family.breaking_capacity_a(family.rated_v + 0.1, fuse_a) == 0


@pytest.mark.parametrize("family", FAMILIES, ids=lambda family: family.name)
def test_windows_are_windows(family):
    for rating in family.ratings_a:
        gates = family.window(rating).gates
        assert [gate.percent for gate in gates] == sorted({gate.percent for gate in gates})
        assert gates[0].most_s is None and gates[0].least_s >= 3600  # it first of all holds
        least = [gate.least_s for gate in gates if gate.least_s is not None]
        most = [gate.most_s for gate in gates if gate.most_s is not None]
        assert least == sorted(least, reverse=True)
        assert most == sorted(most, reverse=True)
        assert all(gate.least_s < gate.most_s for gate in gates if None not in (gate.least_s, gate.most_s))


def test_breaking_capacity_falls_with_voltage():
    stud = read_fuse("80 A stud")
    assert [stud.breaking_capacity_a(v) for v in (13.0, 14.6, 29.2, 58.0, 58.4)] == [10_000, 5000, 5000, 2000, 0]
