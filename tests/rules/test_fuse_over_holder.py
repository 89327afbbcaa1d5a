"""Holders, ways and plugs against the fuse."""

import pytest

from ohmstead.evidence.finding import Severity
from rules.small_site import said, site

RUN = "from: bank, to: lamp, length: 2 m, wire: 10 mm2, laid: clipped, fuse: {}, fuse at: 0.1 m"


@pytest.mark.parametrize(("fuse", "limit_a"), [("40 A blade", 30), ("60 A maxi blade", 45), ("30 A blade", None)])
def test_usual_holders_end_below_the_largest_fuse(outside, fuse, limit_a):
    found = said(site([RUN.format(fuse)]), "fuse-over-holder")
    outside(
        source="fuse-sheet-blade",
        place="in-line holders: 30 A regular, 45 A maxi",
        read="second-hand",
        what="continuous current of a holder",
        deviation=abs(found[0].limit / limit_a - 1) if found else None,
    )
    assert [finding.limit for finding in found] == ([limit_a] if limit_a else [])


def test_the_way_of_a_block_is_named():
    block = "block: {kind: distribution, ways: 2, total: 60 A, per way: 15 A}"
    runs = [
        RUN.format("30 A maxi blade").replace("to: lamp", "to: block"),
        "from: block / 1, to: lamp, length: 1 m, wire: 4 mm2, fuse: 20 A blade",
    ]
    (finding,) = said(site(runs, block), "fuse-over-holder")
    assert "a way of block" in finding.message and finding.limit == 15


def test_a_plug_smaller_than_the_fuse_fails():
    run = "from: bank, to: lamp, length: 2 m, wire: 2.5 mm2, fuse: {}, ends: [ferrule, barrel 5.5x2.1]"
    (finding,) = said(site([run.format("10 A blade")]), "fuse-over-holder")
    assert finding.severity is Severity.FAILS and finding.limit == 5 and "barrel plug" in finding.message
    assert not said(site([run.format("5 A blade")]), "fuse-over-holder")


def test_a_converter_that_cannot_overload_the_plug_is_not_blamed():
    supply = "supply: {kind: converter, input: 8..16 V, output: 12 V, rating: 40 W, current limit: 4 A}"
    runs = [
        "from: bank, to: supply, length: 1 m, wire: 4 mm2, fuse: 10 A blade",
        "from: supply, to: lamp, length: 1 m, wire: 1.5 mm2, fuse: 10 A blade, ends: [ferrule, barrel 5.5x2.1]",
    ]
    assert not said(site(runs, supply), "fuse-over-holder")
