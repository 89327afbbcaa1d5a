"""What stops for want of voltage has carried its current until then; runs that share a way add up."""

import pytest

from ohmstead import study

SITE = """ohmstead: 1
battery:
  bank: {{chemistry: LFP, cells: 4, capacity: 100 Ah, resistance: 10 mΩ, cut-off: 12 V}}
parts:
  block: {{kind: distribution, ways: 4, total: 20 A, per way: 15 A}}
  pump: {{kind: device, input: {window}, draws: 120 W}}
  lamp: {{kind: device, input: 9..15 V, draws: 24 W}}
runs:
  - {{from: bank, to: block, length: 0.5 m, wire: 16 mm2, fuse: 30 A class T, fuse at: 0.1 m, laid: clipped}}
  - {{from: block / {way}, to: pump, length: 6 m, wire: 2.5 mm2, fuse: 20 A blade, laid: clipped}}
  - {{from: lamp, to: block / 2, length: 2 m, wire: 1.5 mm2, fuse: 5 A blade, laid: clipped}}
"""


def evidence(window="11.4..15 V", way=1):
    return study.from_text(SITE.format(window=window, way=way)).evidence


def test_a_pump_that_browns_out_has_loaded_its_wire_until_then():
    # By hand: 120 W at the 11.4 V where it stops are 10.5 A; a resistance of 11.4²/120 = 1.083 Ω behind some 0.14 Ω
    # of wire, fuse and battery takes 12 V / 1.22 Ω = 9.8 A.
    found = evidence()
    pump = found.run("block / 1 -> pump")
    assert found.devices[0].browned_out is not None
    assert pump.sustained.value == pytest.approx(9.8, rel=0.03)
    assert found.blocks[0].total.value == pytest.approx(9.8 + 2.1, rel=0.03)
    assert found.batteries[0].discharge.value == pytest.approx(9.8 + 2.1, rel=0.03)


def test_voltages_are_still_those_without_it():
    found = evidence()
    lamp = next(view for view in found.devices if view.name == "lamp")
    # 12 V less what 2 A of its own lose
    assert lamp.lowest.value == pytest.approx(11.8, abs=0.1)


def test_a_pump_that_keeps_its_window_is_as_before():
    pump = evidence("9..15 V").run("block / 1 -> pump")
    # 120 W behind 0.13 Ω from 12 V: x = (12 + sqrt(144 - 4·0.13·120)) / 2 = 10.5 V, 11.4 A
    assert pump.sustained.value == pytest.approx(11.4, rel=0.03)


def test_runs_that_share_a_way_add_up():
    apart, shared = evidence("9..15 V", 1).blocks[0].by_way, evidence("9..15 V", 2).blocks[0].by_way
    assert set(apart) == {1, 2} and set(shared) == {2}
    assert shared[2].value == pytest.approx(apart[1].value + apart[2].value, rel=0.01)
