"""When nothing fits, the demands named cannot be met together, and without any one of them they can."""

import pytest

from ohmstead.choose.collide import met
from ohmstead.choose.decide import Search, decide
from ohmstead.choose.options import decisions
from ohmstead.choose.worth import Worth
from ohmstead.site.read import read_text

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
    "terminals too small for the drop": dict(limit="2 %", watts=60, length=12, fuse="10 A blade",
                                             ends="[ferrule 1.5 mm2, ferrule 1.5 mm2]"),
    "fuse too large for what the terminals take": dict(limit="5 %", watts=100, length=2, fuse="40 A class T",
                                                       ends="[ferrule 2.5 mm2, ferrule 2.5 mm2]"),
    "too far for any wire": dict(limit="0.1 %", watts=100, length=20, fuse="15 A blade",
                                 ends="[ring M8, ring M8]"),
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
