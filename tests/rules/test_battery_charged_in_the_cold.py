"""How the air at a battery is known: from runs in its zone, or between it and a warmer one."""

import pytest

from ohmstead import study
from ohmstead.rules.battery_charged_in_the_cold import check

SITE = """ohmstead: 1
site: {{name: ridge box}}
zones: {{box: {{air: -9..30 °C}}, hut: {{air: 8..25 °C}}, yard: {{air: -20..35 °C}}}}
battery:
  bank: {{chemistry: {chemistry}, cells: {cells}, capacity: 100 Ah, zone: {bank}}}
parts:
  sun charger: {{kind: charger, from: sun, voltage: 14.2 V, current: 20 A, zone: {charger}}}
  lamp: {{kind: device, input: 10..16 V, draws: 8 W, zone: {lamp}}}
runs:
  - {{from: bank, to: lamp, length: 1 m, wire: 2.5 mm2, fuse: 10 A 10x38, fuse at: 0.1 m}}
  - {{from: bank, to: sun charger, length: 1 m, wire: 10 mm2, fuse: 40 A class T, fuse at: 0.1 m}}
"""


def found(bank="box", charger="hut", lamp="hut", chemistry="LFP", cells=4):
    text = SITE.format(bank=bank, charger=charger, lamp=lamp, chemistry=chemistry, cells=cells)
    return list(check(study.from_text(text, "ridge.yaml").evidence))


@pytest.mark.parametrize(
    ("bank", "charger", "lamp", "air_c"),
    [
        ("box", "box", "hut", -9.0),  # a run within the zone tells it
        ("yard", "yard", "yard", -20.0),
    ],
)
def test_told_by_a_run_in_its_zone(bank, charger, lamp, air_c):
    (finding,) = found(bank, charger, lamp)
    assert finding.value == air_c


def test_a_cold_far_end_is_not_held_against_a_warm_battery():
    assert found(bank="hut", charger="yard", lamp="hut") == []


def test_nothing_is_said_when_no_run_tells():
    # both runs go from box to yard: their -20 °C may be either's
    assert found(bank="box", charger="yard", lamp="yard") == []


def test_lead_takes_charge_in_the_cold():
    assert found(bank="yard", charger="yard", lamp="yard", chemistry="lead AGM", cells=6) == []
