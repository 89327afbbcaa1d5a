"""Charging voltages of the trade against what the rule says of them (battery guides, from memory)."""

import pytest

from ohmstead import study
from ohmstead.rules.charging_voltage_wrong_for_battery import check

SITE = """ohmstead: 1
site: {{name: hut}}
battery:
  bank: {{chemistry: {chemistry}, cells: {cells}, capacity: 100 Ah{more}}}
parts:
  charger: {{kind: charger, voltage: {volts} V, current: 10 A{equalising}}}
  lamp: {{kind: device, input: 1..80 V, draws: 8 W}}
runs:
  - {{from: bank, to: lamp, length: 1 m, wire: 2.5 mm2, fuse: 10 A 10x38, fuse at: 0.1 m}}
  - {{from: bank, to: charger, length: 1 m, wire: 10 mm2, fuse: 40 A class T, fuse at: 0.1 m}}
"""


def found(chemistry, cells, volts, more="", equalising=""):
    text = SITE.format(chemistry=chemistry, cells=cells, volts=volts, more=more, equalising=equalising)
    return list(check(study.from_text(text, "hut.yaml").evidence))


# common practice, no source: settings that chargers are sold with
@pytest.mark.parametrize(
    ("chemistry", "cells", "volts"),
    [
        ("LFP", 4, 14.2),
        ("LFP", 4, 14.6),
        ("LFP", 8, 28.4),
        ("LFP", 16, 56.8),
        ("LFP", 4, 13.6),
        ("NMC", 7, 29.4),
        ("NMC", 7, 28.7),
        ("lead AGM", 6, 14.4),
        ("lead AGM", 6, 13.6),
        ("lead flooded", 12, 28.8),
        ("lead flooded", 6, 14.7),
    ],
)
def test_usual_settings_are_in_order(chemistry, cells, volts):
    assert found(chemistry, cells, volts) == []


@pytest.mark.parametrize(
    ("chemistry", "cells", "volts", "severity"),
    [
        ("LFP", 4, 14.7, "tight"),
        ("LFP", 4, 15.5, "danger"),
        ("NMC", 7, 30.0, "danger"),
        ("lead AGM", 6, 14.7, "tight"),
        ("lead AGM", 6, 15.2, "fails"),
        ("NMC", 8, 29.2, "fails"),
        ("LFP", 8, 14.4, "fails"),
        ("LFP", 4, 13.1, "fails"),
        ("lead flooded", 6, 12.9, "fails"),
    ],
)
def test_wrong_settings_are_found(chemistry, cells, volts, severity):
    (finding,) = found(chemistry, cells, volts)
    assert finding.severity == severity


def test_a_stated_voltage_replaces_the_cells():
    assert found("LFP", 4, 14.4, ", charging: 14.4 V") == []
    (finding,) = found("LFP", 4, 14.6, ", charging: 14.2 V")
    assert finding.severity == "fails"
    assert "as stated" in finding.message


def test_equalising_belongs_to_flooded_lead():
    assert found("lead flooded", 6, 14.4, equalising=", equalising: 15.5 V") == []
    (finding,) = found("lead AGM", 6, 14.4, equalising=", equalising: 15.5 V")
    assert "must not be equalised" in finding.message
    (finding,) = found("LFP", 4, 14.4, equalising=", equalising: 15.5 V")
    assert finding.severity == "danger"


def test_what_a_low_setting_fills():
    # resting curve of the cells: 3.2772 V at 29.72 %, 3.3511 V at 98.33 % (ten-point table of an LFP cell)
    (finding,) = found("LFP", 4, 4 * 3.3)
    assert finding.numbers["share"].value == pytest.approx(0.2972 + 0.6861 * 0.0228 / 0.0739, abs=0.01)
