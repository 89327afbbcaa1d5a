"""Start-ups against fuses and batteries; capacitors; fuses in series."""

import pytest

from ohmstead.evidence.finding import Severity
from ohmstead.evidence.rush import rush_at_battery, rush_into_run
from rules.small_site import said, site

PUMP = "pump: {{kind: device, input: 6..64 V, draws: {{running: 20 W, start-up: 190 W for {}}}}}"
RUN = "from: bank, to: pump, length: 1 m, wire: 4 mm2, laid: clipped, fuse: {}, fuse at: 0.1 m"
LAMP = "from: bank, to: lamp, length: 1 m, wire: 4 mm2, fuse: 5 A blade"


@pytest.mark.parametrize(
    ("seconds", "severity", "word"),
    [
        ("8 s", Severity.FAILS, "at latest"),
        ("2 s", Severity.TIGHT, "it may open"),
        ("0.1 s", Severity.TIGHT, "wears"),
        ("0.02 s", None, ""),
    ],
)
def test_will_may_and_wears(seconds, severity, word):
    """About 20 A through 10 A: 0.15 to 5 s at twice the rating; 29 % of the soonest for ten thousand starts."""
    found = said(site([RUN.format("10 A blade"), LAMP], PUMP.format(seconds)), "start-up-melts-fuse")
    assert [finding.severity for finding in found] == ([severity] if severity else [])
    assert all(word in finding.message for finding in found)


def test_the_fuse_named_outlasts_the_start_up():
    (finding,) = said(site([RUN.format("10 A blade"), LAMP], PUMP.format("8 s")), "start-up-melts-fuse")
    fuse = finding.mend.split("fit ")[1].split(",")[0]
    assert not said(site([RUN.format(fuse), LAMP], PUMP.format("8 s")), "start-up-melts-fuse")


def test_share_of_the_melting_heat_for_ten_thousand_starts(outside):
    (finding,) = said(site([RUN.format("10 A blade"), LAMP], PUMP.format("0.1 s")), "start-up-melts-fuse")
    outside(
        source="fuse-pulse-chart",
        place="10 000 pulses: 29 %",
        read="second-hand",
        what="share of the melting I²t",
        deviation=abs(finding.limit / 0.29 - 1),
    )
    assert finding.limit == pytest.approx(0.29)


def test_starting_one_after_another_is_the_mend_when_each_alone_passes():
    limits = "chemistry: LFP, cells: 4, capacity: 50 Ah, resistance: 20 mΩ, limits: {discharge: 30 A, charge: 20 A}"
    two = PUMP.format("1 s") + "\n" + PUMP.format("1 s").replace("pump:", "winch:")
    runs = [RUN.format("30 A blade"), RUN.format("30 A blade").replace("to: pump", "to: winch"), LAMP]
    (finding,) = said(site(runs, two, bank=limits), "start-up-trips-battery")
    assert "one after another" in finding.mend and finding.limit == 30


CAPS = (
    "block: {kind: distribution, ways: 4, per way: 30 A}\n"
    "one: {kind: device, input: 7..64 V, draws: 5 W, capacitance: 4700 µF}\n"
    "two: {kind: device, input: 7..64 V, draws: 5 W, capacitance: 2200 µF}"
)
TREE = [
    "from: bank, to: block, length: 1 m, wire: 10 mm2, fuse: 50 A stud, fuse at: 0.1 m",
    "from: block / 1, to: one, length: 2 m, wire: 2.5 mm2, fuse: {}",
    "from: block / 2, to: two, length: 4 m, wire: 2.5 mm2, fuse: 10 A blade",
]


def test_peak_and_heat_of_a_tree_of_capacitors():
    """At the first moment capacitors are shorts: U over the battery, the feed, and both branches side by side."""
    trial = site([run.format("10 A blade") for run in TREE], CAPS)
    feed, one, two = (view.loop_cold_ohm for view in trial.evidence.runs)
    battery = trial.evidence.batteries[0]
    rush = rush_at_battery(trial.evidence, battery)
    loop = battery.resistance_ohm + feed + 1 / (1 / one + 1 / two)
    assert rush.peak_a == pytest.approx(battery.full_v / loop)
    assert rush.energy_ws == pytest.approx(0.5 * 6900e-6 * battery.full_v**2)
    alone = rush_into_run(trial.evidence, trial.evidence.runs[1])
    assert alone.peak_a == pytest.approx(battery.full_v / (battery.resistance_ohm + feed + one))


def test_a_small_fuse_melts_on_the_pulse_and_a_larger_one_does_not():
    small = said(site([run.format("1 A blade") for run in TREE], CAPS), "capacitor-inrush")
    assert [finding.subject for finding in small] == ["block / 1 -> one"]
    assert not said(site([run.format("10 A blade") for run in TREE], CAPS), "capacitor-inrush")


@pytest.mark.parametrize(
    ("farad", "severity"), [("470 µF", None), ("6800 µF", Severity.TIGHT), ("47000 µF", Severity.FAILS)]
)
def test_a_battery_trips_when_the_pulse_outlasts_its_electronics(farad, severity):
    bank = "chemistry: LFP, cells: 4, capacity: 50 Ah, resistance: 20 mΩ, limits: {discharge: 60 A, short-trip: 150 A}"
    load = f"amp: {{kind: device, input: 7..64 V, draws: 20 W, capacitance: {farad}}}"
    runs = ["from: bank, to: amp, length: 1 m, wire: 16 mm2, fuse: 60 A class T", LAMP]
    found = said(site(runs, load, bank=bank), "capacitor-inrush")
    assert [finding.severity for finding in found] == ([severity] if severity else [])
    assert all("Ω" in finding.mend for finding in found)


@pytest.mark.parametrize(
    ("main", "severity"), [("10 A blade", Severity.FAILS), ("15 A blade", Severity.TIGHT), ("60 A maxi blade", None)]
)
def test_order_of_two_fuses(main, severity):
    block = "block: {kind: distribution, ways: 4, per way: 30 A}"
    runs = [
        f"from: bank, to: block, length: 1 m, wire: 16 mm2, laid: clipped, fuse: {main}, fuse at: 0.1 m",
        "from: block / 1, to: lamp, length: 3 m, wire: 2.5 mm2, laid: clipped, fuse: 10 A blade",
    ]
    found = said(site(runs, block), "fuses-not-selective")
    assert [finding.severity for finding in found] == ([severity] if severity else [])


def test_fuses_on_both_sides_of_a_converter_are_not_compared():
    supply = "supply: {kind: converter, input: 8..16 V, output: 12 V, rating: 100 W}"
    runs = [
        "from: bank, to: supply, length: 1 m, wire: 4 mm2, fuse: 10 A blade",
        "from: supply, to: lamp, length: 2 m, wire: 2.5 mm2, fuse: 10 A blade",
    ]
    assert not said(site(runs, supply), "fuses-not-selective")
