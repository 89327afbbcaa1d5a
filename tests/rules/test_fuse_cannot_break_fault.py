"""Breaking capacity against the short, and what a limiting fuse nearer the battery changes."""

import pytest

from ohmstead.evidence.finding import Severity
from rules.small_site import said, site

BLOCK = (
    "block: {kind: distribution, ways: 4, total: 100 A, per way: 30 A}\nfan: {kind: device, input: 7..64 V, draws: 5 W}"
)
BRANCHES = [
    "from: block / 1, to: lamp, length: 3 m, wire: 2.5 mm2, fuse: 10 A blade",
    "from: block / 2, to: fan, length: 3 m, wire: 2.5 mm2, fuse: 10 A blade",
]
MAIN = "from: bank, to: block, length: 1 m, wire: 25 mm2, laid: clipped, fuse: {}, fuse at: 0.1 m"
BANK = "chemistry: LFP, cells: 8, capacity: 200 Ah, resistance: 4 mΩ"


def test_a_limiting_main_backs_its_branches_and_the_credit_is_stated():
    (finding,) = said(site([MAIN.format("100 A class T"), *BRANCHES], BLOCK, bank=BANK), "fuse-cannot-break-fault")
    assert finding.severity is Severity.TIGHT
    assert "leans on the 100 A class T" in finding.message and "block / 2 -> fan" in finding.message


def test_a_slow_main_gives_no_credit_and_the_branches_are_one_finding():
    bank = "chemistry: LFP, cells: 8, capacity: 200 Ah, resistance: 8 mΩ"
    (finding,) = said(site([MAIN.format("100 A stud"), *BRANCHES], BLOCK, bank=bank), "fuse-cannot-break-fault")
    assert finding.severity is Severity.DANGER and "neither limits nor ends" in finding.message


def test_a_weak_main_is_told_alone_with_what_its_successor_backs():
    (finding,) = said(site([MAIN.format("100 A stud"), *BRANCHES], BLOCK, bank=BANK), "fuse-cannot-break-fault")
    assert finding.subject == "bank -> block" and "2 weaker ones" in finding.mend


def test_a_limiting_fuse_too_large_to_be_quick_gives_no_credit():
    main = MAIN.format("400 A class T").replace("25 mm2", "120 mm2")
    bank = "chemistry: LFP, cells: 8, capacity: 200 Ah, resistance: 12 mΩ"
    (finding,) = said(site([main, *BRANCHES], BLOCK, bank=bank), "fuse-cannot-break-fault")
    assert finding.severity is Severity.DANGER


def test_currents_of_parallel_batteries_add(outside):
    """A fuse at one of three batteries sees the two others together."""
    names = ("one", "two", "three")
    banks = "\n".join(f"  {n}: {{chemistry: LFP, cells: 4, capacity: 50 Ah, resistance: 4 mΩ}}" for n in names)
    lead = "from: {}, to: bar, length: 0.2 m, wire: 50 mm2, fuse: 100 A bolt-down large, fuse at: 0.1 m"
    runs = [lead.format(name) for name in names] + ["from: bar, to: lamp, length: 1 m, wire: 2.5 mm2, fuse: 10 A 10x38"]
    trial = site(runs, "bar: {kind: busbar}", batteries=banks)
    alone_a = trial.evidence.batteries[0].short_circuit_a
    found = said(trial, "fuse-cannot-break-fault")
    outside(
        source="battery-textbook",
        place="batteries side by side add their currents",
        read="second-hand",
        what="prospective current at a fuse between batteries",
        deviation=None,
    )
    leads = [finding for finding in found if finding.subject.endswith("-> bar")]
    assert leads and alone_a < leads[0].value < 2 * alone_a  # the two others, less the resistance of their leads
    assert leads[0].value == pytest.approx(trial.evidence.run("one -> bar").fault_near.largest_a - alone_a)
