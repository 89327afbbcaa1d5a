"""What hangs together as a bank, what cuts it off, and what draws on past the disconnect."""

from ohmstead import study
from ohmstead.evidence.banks import banks, daily_wh, empty_v, idle_wh

PARALLEL = """ohmstead: 1
site: {name: reed hut}
battery:
  left: {chemistry: LFP, cells: 8, capacity: 100 Ah}
  right: {chemistry: LFP, cells: 8, capacity: 200 Ah, cut-off: 22 V}
  car: {chemistry: lead flooded, cells: 6, capacity: 60 Ah}
parts:
  bar: {kind: busbar}
  low cut: {kind: low-voltage disconnect, off: 24 V, on: 26.4 V, senses: left}
  radio supply: {kind: converter, type: buck, input: 20..32 V, output: 13.8 V, rating: 60 W, idle: 0.5 W}
  radio: {kind: device, input: 11..15 V, draws: {listening: 5 W, sending: 30 W},
          duty: {sending: 2 h a day, listening: rest}}
  clock: {kind: device, input: 20..32 V, draws: 1 W, cut-off: 23 V}
  horn: {kind: device, input: 9..16 V, draws: 1 W}
runs:
  - {from: left, to: bar, length: 0.4 m, wire: 10 mm2}
  - {from: right, to: bar, length: 0.4 m, wire: 10 mm2}
  - {from: bar, to: low cut, length: 0.4 m, wire: 10 mm2}
  - {from: low cut, to: radio supply, length: 9 m, wire: 2.5 mm2}
  - {from: radio supply, to: radio, length: 0.5 m, wire: 4 mm2}
  - {from: bar, to: clock, length: 0.5 m, wire: 4 mm2}
  - {from: car, to: horn, length: 0.5 m, wire: 4 mm2}
"""
IN_THE_NEGATIVE = """ohmstead: 1
site: {name: low side}
battery:
  bank: {chemistry: LFP, cells: 8, capacity: 100 Ah}
parts:
  low cut: {kind: low-voltage disconnect, off: 24 V, on: 26.4 V}
  radio: {kind: device, input: 11..35 V, draws: 20 W}
  clock: {kind: device, input: 11..35 V, draws: 1 W}
runs:
  - {from: bank, to: radio, length: 0.4 m, wire: 10 mm2, wires: positive}
  - {from: low cut, to: bank, length: 0.4 m, wire: 10 mm2, wires: negative}
  - {from: radio, to: low cut, length: 0.4 m, wire: 10 mm2, wires: negative}
  - {from: bank, to: clock, length: 0.4 m, wire: 10 mm2}
"""


def of(text):
    evidence = study.from_text(text, "hut.yaml").evidence
    return evidence, list(banks(evidence))


def test_batteries_joined_by_wire_are_one_bank():
    _, (pair, car) = of(PARALLEL)
    assert pair.name == "left and right"
    assert car.name == "car"
    assert [view.name for view in pair.disconnects] == ["low cut"]
    assert car.disconnects == ()
    assert pair.draws == ("clock", "radio supply")
    assert pair.passing == ("clock",)
    assert car.passing == ("horn",)


def test_protection_must_be_in_every_battery():
    _, (pair, _) = of(PARALLEL)
    assert not pair.has_board  # only one of the two states a cut-off


def test_energy_is_that_of_all_batteries_and_what_they_feed():
    evidence, (pair, car) = of(PARALLEL)
    # 8 cells at about 3.3 V, 300 Ah
    assert 7600 < pair.energy_wh < 8000
    # the radio's day is 2 h · 30 W + 22 h · 5 W, its converter idles on 0.5 W; converter losses come on top
    used = daily_wh(evidence, pair, ("radio supply",))
    assert 170 + 12 <= used < 1.25 * (170 + 12)
    assert idle_wh(evidence, car, car.draws) == 24.0


def test_lowest_voltage_is_the_stated_one_else_that_of_the_cells():
    _, (pair, car) = of(PARALLEL)
    left, right = pair.batteries
    assert (empty_v(left), empty_v(right), empty_v(car.batteries[0])) == (20.0, 22.0, 10.5)


def test_a_disconnect_in_the_negative_wire_cuts_as_well():
    _, (bank,) = of(IN_THE_NEGATIVE)
    assert [view.name for view in bank.disconnects] == ["low cut"]
    assert set(bank.draws) == {"radio", "clock"}
    assert bank.passing == ("clock",)
