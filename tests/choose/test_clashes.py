"""When nothing fits, the demands named cannot be met together, and without any one of them they can."""

import re
from pathlib import Path

import pytest

from ohmstead.choose.collide import met
from ohmstead.choose.decide import Search, decide
from ohmstead.choose.options import decisions
from ohmstead.choose.worth import Worth
from ohmstead.site.problems import SiteError
from ohmstead.site.read import read_text

FULL = Path(__file__).parents[1] / "site" / "full.yaml"

SITE = """ohmstead: 1
site: {{drop limit: {limit}}}
battery:
  bank: {{chemistry: LFP, cells: 4, capacity: 100 Ah, resistance: 6 mΩ}}
parts:
  pump: {{kind: device, draws: {watts} W}}
runs:
  - {{from: bank, to: pump, length: {length} m, wire: choose, fuse: {fuse}, fuse at: 0.1 m, ends: {ends}}}
"""
CASES = {
    "terminals too small for the drop": dict(
        limit="2 %", watts=60, length=12, fuse="10 A blade", ends="[ferrule 1.5 mm2, ferrule 1.5 mm2]"
    ),
    "fuse too large for what the terminals take": dict(
        limit="5 %", watts=100, length=2, fuse="40 A class T", ends="[ferrule 2.5 mm2, ferrule 2.5 mm2]"
    ),
    "too far for any wire": dict(limit="0.1 %", watts=100, length=20, fuse="15 A blade", ends="[ring M8, ring M8]"),
}


def search(case):
    site = read_text(SITE.format(**CASES[case]))
    return site, Search(site, decisions(site), Worth())


@pytest.mark.parametrize("case", CASES)
def test_no_demand_can_be_left_out_of_the_set(case):
    site, found = search(case)
    proposal = found.proposal()
    if case == "too far for any wire":
        # The window is passed even by the thickest wire: no choice mends it, so it is told and not demanded.
        assert proposal.verdict == "fits" and "drop-on-path" in {f.rule for f in proposal.left}
        return
    assert proposal.verdict == "nothing fits"
    keys = [(clash.rule, clash.subject) for clash in proposal.clashes]
    assert len(keys) >= 2 and len(set(keys)) == len(keys)
    assert met(found.programme, keys) == "no"
    for left_out in keys:
        assert met(found.programme, [key for key in keys if key != left_out]) == "yes"


def test_the_set_is_told_in_words():
    site = read_text(SITE.format(**CASES["terminals too small for the drop"]))
    words = [clash.words for clash in decide(site).clashes]
    assert any("lost on the way to pump" in text for text in words)
    assert any("ferrule" in text for text in words)
    assert not any("infeasible" in text.lower() for text in words)


def test_the_site_with_every_key_fits_when_all_is_opened():
    """No size is in the way: what a full check leaves has other causes than sizes. Melting times that belong to one
    fuse would stand in the way of every fuse, and are refused beside an open one."""
    text = FULL.read_text(encoding="utf-8")
    before, runs = text.split("runs:\n", 1)
    runs, after = runs.split("\naccepted:", 1)
    runs = re.sub(r"(wire|fuse): [^,}\n]+", r"\1: choose", runs).replace("ends: [ring M8, ring M8]", "ends: choose")
    before = before.replace(
        "ways: 8, total: 100 A, per way: 30 A, voltage: 32 V",
        "ways: choose, total: choose, per way: choose, voltage: choose",
    )
    text = f"{before}runs:\n{runs}\naccepted:{after}"
    with pytest.raises(SiteError, match="fuse window"):
        read_text(text)
    found = decide(read_text(re.sub(r"fuse window: [^}]+}, ", "", text)))
    assert found.verdict == "fits" and found.gap_fraction == 0.0
    assert {f.rule for f in found.left} == {
        "device-too-warm",
        "part-loose",
        "terminal-does-not-fit-stud",
        "unlike-batteries-in-parallel",
    }
