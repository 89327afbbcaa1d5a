"""Which way the energy flows, and what protects what, from the drawing alone."""

from ohmstead.network.points import map_site
from ohmstead.site.read import read_text

SITE = """ohmstead: 1
battery: {bank: {chemistry: LFP, cells: 8, capacity: 100 Ah}}
parts:
  charger: {kind: charger, voltage: 28 V, current: 10 A}
  cut: {kind: switch}
  block: {kind: distribution, ways: 4}
  supply: {kind: converter, type: buck, input: 20..30 V, output: 12 V, rating: 50 W}
  radio: {kind: device, input: 10..14 V, draws: 5 W}
  lamp: {kind: device, input: 20..30 V, draws: 5 W}
  lost: {kind: device, input: 20..30 V, draws: 5 W}
  friend: {kind: busbar}
runs:
  - {from: bank, to: cut, length: 1 m, wire: 16 mm2}
  - {from: cut, to: block, length: 1 m, wire: 16 mm2}
  - {from: charger, to: block / 4, length: 1 m, wire: 4 mm2}
  - {from: block / 1, to: supply, length: 1 m, wire: 2.5 mm2}
  - {from: supply, to: radio, length: 1 m, wire: 1 mm2}
  - {from: block / 2, to: lamp, length: 1 m, wire: 1 mm2}
  - {from: friend, to: lost, length: 1 m, wire: 1 mm2}
"""


def test_energy_direction_and_feeders():
    found = map_site(read_text(SITE))
    by_run = {way.run.name: way for way in found.ways}
    assert by_run["charger -> block / 4"].turned  # the battery can feed a fault in it
    assert not by_run["bank -> cut"].turned
    assert found.feeder["charger"].kind == "battery"
    assert (found.feeder["radio"].name, found.feeder["radio"].kind) == ("supply", "converter")
    assert found.feeder["supply in"].name == "bank"
    assert found.feeder["lost"].kind == "nothing"


def test_upstream_runs_stop_at_the_converter():
    found = map_site(read_text(SITE))
    number = {way.run.name: way.run.number for way in found.ways}
    assert found.upstream[number["supply -> radio"]] == ()
    assert found.upstream[number["block / 2 -> lamp"]] == (number["cut -> block"], number["bank -> cut"])


def test_an_open_switch_feeds_nothing():
    found = map_site(read_text(SITE.replace("cut: {kind: switch}", "cut: {kind: switch, set: open}")))
    assert found.feeder["lamp"].kind == "charger"
    found = map_site(
        read_text(
            SITE.replace("cut: {kind: switch}", "cut: {kind: switch, set: open}").replace(
                "  - {from: charger, to: block / 4, length: 1 m, wire: 4 mm2}\n", ""
            )
        )
    )
    assert found.feeder["lamp"].kind == "nothing"
