"""Rated voltage against the voltage of the place."""

import pytest

from ohmstead.evidence.finding import Severity
from rules.small_site import said, site

BANK = "chemistry: LFP, cells: 16, capacity: 20 Ah, resistance: 100 mΩ, charging: {}"
RUN = "from: bank, to: lamp, length: 2 m, wire: 2.5 mm2, fuse: {}"


@pytest.mark.parametrize(
    ("fuse", "charging", "severity"),
    [
        ("5 A blade", "54 V", Severity.DANGER),
        ("5 A blade 58 V", "58.4 V", Severity.DANGER),
        ("5 A blade 58 V", "57.6 V", Severity.TIGHT),
        ("5 A blade 58 V", "54.4 V", None),
        ("5 A 10x38", "58.4 V", None),
    ],
)
def test_the_charging_voltage_counts(fuse, charging, severity):
    found = said(site([RUN.format(fuse)], bank=BANK.format(charging)), "fuse-voltage-low")
    assert [finding.severity for finding in found] == ([severity] if severity else [])


def test_a_car_fuse_behind_a_12_v_converter_is_not_blamed():
    supply = "supply: {kind: converter, type: buck, input: 36..60 V, output: 12 V, rating: 100 W}"
    runs = [
        "from: bank, to: supply, length: 1 m, wire: 2.5 mm2, fuse: 5 A 10x38",
        "from: supply, to: lamp, length: 2 m, wire: 2.5 mm2, fuse: 5 A blade",
    ]
    assert not said(site(runs, supply, bank=BANK.format("57.6 V")), "fuse-voltage-low")


def test_above_its_voltage_only_the_voltage_is_told():
    found = said(
        site([RUN.format("5 A blade")], bank="chemistry: LFP, cells: 16, capacity: 280 Ah"),
        "fuse-voltage-low",
        "fuse-cannot-break-fault",
    )
    assert [finding.rule for finding in found] == ["fuse-voltage-low"]


@pytest.mark.parametrize("kind", ["glass F", "glass T", "glass F UL"])
def test_what_is_printed_for_alternating_current_does_not_count(kind):
    """A 5 x 20 glass fuse says 250 V, which IEC 60127 tests with alternating current; from memory."""
    (found,) = said(site([RUN.format(f"5 A {kind}")], bank=BANK.format("54 V")), "fuse-voltage-low")
    assert found.severity is Severity.DANGER and "250 V" in found.message
    blade = said(site([RUN.format("5 A blade")], bank=BANK.format("54 V")), "fuse-voltage-low")
    assert "250 V" not in blade[0].message
    low = "chemistry: LFP, cells: 8, capacity: 20 Ah, resistance: 100 mΩ, charging: 28.4 V"
    assert not said(site([RUN.format(f"5 A {kind}")], bank=low), "fuse-voltage-low")


def test_fuses_of_one_rated_voltage_on_one_bus_are_told_together():
    runs = [RUN.format("5 A blade"), RUN.format("5 A 10x38").replace("lamp", "fan"), RUN.format("3 A blade")]
    runs[2] = runs[2].replace("lamp", "radio")
    parts = "fan: {kind: device, input: 7..64 V, draws: 12 W}\nradio: {kind: device, input: 7..64 V, draws: 12 W}"
    (found,) = said(site(runs, parts, bank=BANK.format("54 V")), "fuse-voltage-low")
    assert "bank -> lamp" in found.message and "bank -> radio" in found.message and "fan" not in found.message
