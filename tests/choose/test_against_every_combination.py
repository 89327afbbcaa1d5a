"""Small sites: the choice is feasible and as light as the best of all combinations, each tried by a full check."""

import pytest

from choose.made_sites import random_site, search, tried_one_by_one, trimmed
from ohmstead.choose.decide import decide
from ohmstead.choose.finish import near_misses
from ohmstead.choose.options import decisions
from ohmstead.choose.trial import full_check
from ohmstead.site.read import read_text

METRIC = ("1 mm2", "1.5 mm2", "2.5 mm2", "4 mm2", "6 mm2", "10 mm2")
GAUGES = ("16 AWG", "14 AWG", "12 AWG", "10 AWG", "8 AWG", "6 AWG")
FUSES = ("5 A blade", "15 A blade", "30 A blade", "40 A class T")


@pytest.mark.parametrize("seed", [4, 9, 15, 22, 31, 43, 55])
def test_random_sites(seed):
    site = read_text(random_site(seed))
    wires = METRIC if site.about.rules == "IEC" else GAUGES
    decided = trimmed(decisions(site), wires, FUSES)
    least, n_passing = tried_one_by_one(site, decided)
    found = search(site, wires, FUSES).proposal()
    assert (found.verdict == "fits") == (n_passing > 0)
    if n_passing:
        assert full_check(found.site).failing == found.left
        assert found.mass_kg == pytest.approx(least, abs=1e-9)
        assert found.gap_fraction == 0.0


def test_the_trial_tells_good_from_bad():
    """The exhaustive search would prove nothing if everything or nothing passed."""
    site = read_text(random_site(8))
    decided = trimmed(decisions(site), METRIC if site.about.rules == "IEC" else GAUGES, FUSES)
    n_all = 1
    for decision in decided:
        n_all *= len(decision.options)
    _, n_passing = tried_one_by_one(site, decided)
    assert 0 < n_passing < n_all


def test_a_thicker_common_feed_saves_branches():
    """Three long branches on one feed: less metal than any choice that sizes each run for the same share of drop."""
    site = read_text("""ohmstead: 1
site: {drop limit: 4 %}
battery:
  bank: {chemistry: LFP, cells: 4, capacity: 100 Ah, resistance: 4 mΩ}
parts:
  bar: {kind: busbar}
  lamp a: {kind: device, draws: 25 W}
  lamp b: {kind: device, draws: 25 W}
  lamp c: {kind: device, draws: 25 W}
runs:
  - {from: bank, to: bar, length: 4 m, wire: choose, fuse: 15 A blade, fuse at: 0.1 m}
  - {from: bar, to: lamp a, length: 8 m, wire: choose, fuse: 5 A blade, fuse at: 0.1 m}
  - {from: bar, to: lamp b, length: 8 m, wire: choose, fuse: 5 A blade, fuse at: 0.1 m}
  - {from: bar, to: lamp c, length: 8 m, wire: choose, fuse: 5 A blade, fuse at: 0.1 m}
""")
    wires = ("1.5 mm2", "2.5 mm2", "4 mm2", "6 mm2", "10 mm2", "16 mm2")
    found = search(site, wires, ()).proposal()
    decided = trimmed(decisions(site), wires, ())
    equal_branches = [(feed, *[branch] * 3) for feed in range(6) for branch in range(6)]
    least, n_clean = tried_one_by_one(site, decided, equal_branches)
    assert 0 < n_clean < 36
    assert found.mass_kg <= least + 1e-9
    sizes = {choice.subject: choice.text for choice in found.choices}
    feed, branch = sizes["bank -> bar"], sizes["bar -> lamp a"]
    assert wires.index(feed) > wires.index(branch)


@pytest.mark.parametrize("seed", [1, 10, 23])
def test_of_picks_that_cost_the_same_those_with_fewer_near_misses(seed, monkeypatch):
    """The same choice without that step costs as much and leaves more that is tight."""
    site = read_text(random_site(seed))
    found = decide(site)
    monkeypatch.setattr("ohmstead.choose.decide.eased", lambda programme, site, picks, trial: (picks, trial, 0))
    plain = decide(site)
    assert found.mass_kg == pytest.approx(plain.mass_kg, abs=1e-9) and found.verdict == "fits"
    assert len(found.near) < len(plain.near)
    assert {(f.rule, f.subject) for f in found.left} <= {(f.rule, f.subject) for f in plain.left}
    assert found.near == near_misses(full_check(found.site))
