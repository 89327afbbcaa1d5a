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
