"""Bare wires from a battery, and where a fuse is not needed."""

from rules.small_site import said, site

BLOCK = (
    "block: {kind: distribution, ways: 4, total: 60 A, per way: 30 A}\nfan: {kind: device, input: 7..64 V, draws: 5 W}"
)
FUSED = "from: block / 1, to: lamp, length: 2 m, wire: 2.5 mm2, fuse: 5 A blade"


def test_a_chain_without_a_fuse_is_told_once_at_its_head():
    trial = site(
        [
            "from: bank, to: block, length: 2 m, wire: 6 mm2",
            "from: block / 1, to: lamp, length: 2 m, wire: 2.5 mm2",
            "from: block / 2, to: fan, length: 2 m, wire: 1.5 mm2",
        ],
        BLOCK,
    )
    (finding,) = said(trial, "unfused-run", "fuse-too-far", "fuse-over-cable", "fault-not-cleared")
    assert finding.subject == "bank -> block" and "block / 2 -> fan" in finding.message
    assert finding.limit == trial.evidence.run("block / 2 -> fan").ampacity.value_a  # the thinnest decides


def test_a_long_feed_before_fused_ways_is_told_and_a_short_one_is_not():
    feed = "from: bank, to: block, length: {}, wire: 6 mm2, laid: clipped"
    assert said(site([feed.format("1.6 m"), FUSED], BLOCK), "unfused-run")
    assert not said(site([feed.format("170 mm"), FUSED], BLOCK), "unfused-run", "fuse-too-far")


def test_the_branch_is_told_when_only_it_lacks_a_fuse():
    trial = site(
        [
            "from: bank, to: block, length: 0.1 m, wire: 6 mm2",
            FUSED,
            "from: block / 2, to: fan, length: 2 m, wire: 2.5 mm2",
        ],
        BLOCK,
    )
    assert [finding.subject for finding in said(trial, "unfused-run")] == ["block / 2 -> fan"]


def test_a_converter_whose_limit_the_wire_bears_needs_no_fuse():
    supply = "supply: {{kind: converter, input: 8..16 V, output: 12 V, rating: 100 W, current limit: {}}}"
    runs = [
        "from: bank, to: supply, length: 1 m, wire: 4 mm2, fuse: 20 A blade",
        "from: supply, to: lamp, length: 2 m, wire: 1 mm2, laid: clipped",
    ]
    assert not said(site(runs, supply.format("10 A")), "unfused-run")
    (finding,) = said(site(runs, supply.format("25 A")), "unfused-run")
    assert finding.value == 25 and "supply" in finding.message


def test_a_source_too_weak_for_the_wire_needs_no_fuse():
    weak = "chemistry: lead AGM, voltage: 12 V, capacity: 1 Ah, resistance: 1 Ω"
    assert not said(site(["from: bank, to: lamp, length: 1 m, wire: 2.5 mm2"], bank=weak), "unfused-run")


def test_a_charger_lead_is_fed_by_the_battery_at_its_other_end():
    charger = "sun: {kind: charger, from: sun, voltage: 14.2 V, current: 10 A}"
    trial = site(
        [
            "from: sun, to: bank, length: 3 m, wire: 2.5 mm2",
            "from: bank, to: lamp, length: 2 m, wire: 2.5 mm2, fuse: 5 A blade",
        ],
        charger,
    )
    (finding,) = said(trial, "unfused-run")
    assert finding.subject == "sun -> bank" and "of bank" in finding.mend


def test_a_fuse_still_to_be_chosen_is_no_missing_fuse():
    runs = [
        "from: bank, to: bar, length: 3 m, wire: 6 mm2, fuse: choose",
        "from: bar, to: lamp, length: 2 m, wire: 1.5 mm2",
    ]
    assert not said(site(runs, "bar: {kind: busbar}"), "unfused-run", "fuse-over-cable", "fuse-too-far")
    runs = [
        "from: bank, to: bar, length: 3 m, wire: 16 mm2, fuse: 60 A class T",
        "from: bar, to: lamp, length: 2 m, wire: 1.5 mm2, fuse: choose",
    ]
    assert not said(site(runs, "bar: {kind: busbar}"), "unfused-run", "fuse-over-cable", "fault-not-cleared")
