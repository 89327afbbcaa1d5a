"""A small site for sweeps."""

from ohmstead.season.designs import Offer
from ohmstead.season.scene import Scene, scene_of
from ohmstead.site.read import read_text

HUT = """ohmstead: 1
site: {name: hut, latitude: 46, longitude: 8, timezone: Europe/Zurich}
zones: {hut: {air: 4..30 °C}}
battery: {bank: {chemistry: LFP, cells: 4, capacity: 100 Ah, cut-off: 10 V, zone: hut}}
parts:
  charger: {kind: charger, from: sun, voltage: 14.2 V, current: 20 A, night draw: 0.5 W}
  low cut: {kind: low-voltage disconnect, off: 12 V, on: 13.1 V, senses: bank}
  bar: {kind: busbar}
  lamp: {kind: device, input: 9..16 V, draws: 15 W, duty: {on: dusk..dawn}}
  radio: {kind: device, input: 9..16 V, draws: 6 W, duty: always}
runs:
  - {from: charger, to: bank, length: 1 m, wire: 6 mm2, fuse: 30 A blade}
  - {from: bank, to: low cut, length: 1 m, wire: 10 mm2, fuse: 30 A blade}
  - {from: low cut, to: bar, length: 1 m, wire: 10 mm2}
  - {from: bar, to: lamp, length: 5 m, wire: 1.5 mm2}
  - {from: bar, to: radio, length: 5 m, wire: 1.5 mm2}
weather:
  monthly sun: 1.2 2.0 3.2 4.2 5.0 5.6 5.9 5.1 3.8 2.4 1.4 1.0 kWh/m²
  monthly air: 0 1 5 9 14 17 20 19 15 10 5 1 °C
  years: 4
arrays: {roof: {module power: 100 W, in series: 2, tilt: 45°, azimuth: 180°, width: 2 m, height: 1 m}}
shade: {horizon: {line: {90°: 4°, 180°: 8°, 270°: 12°}}}
season: {unserved: 2 %, start: 80 %}
"""
OFFER = Offer((0.5, 1.0, 2.0), tuple((tilt, 180.0) for tilt in range(30, 90, 5)), (0.6, 1.0, 2.0),
              ((0.0, 0.0), (12.6, 13.3)))  # fmt: skip


def hut(text: str = HUT) -> Scene:
    """The scene of the hut."""
    return scene_of(read_text(text))
