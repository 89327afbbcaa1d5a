"""When a disconnect closes again: the gap used up by the fast part, by the slow part, or never."""

from math import log

import pytest

from ohmstead import study
from ohmstead.rules.disconnect_hunts import check, closes_after_s

SITE = """ohmstead: 1
site: {{name: shore hut}}
battery:
  bank: {{chemistry: lead flooded, cells: 6, capacity: 100 Ah, resistance: 12 mΩ{slow}}}
parts:
  low cut: {{kind: low-voltage disconnect, off: 11.5 V, on: {on}, senses: {senses}, delay: 10 s}}
  heater: {{kind: device, input: 9..16 V, draws: 240 W, behaves: resistance}}
runs:
  - {{from: bank, to: low cut, length: {length}, wire: 16 mm2, fuse: 40 A class T, fuse at: 0.1 m}}
  - {{from: low cut, to: heater, length: 1 m, wire: 16 mm2}}
"""
SLOW = ", slow resistance: 15 mΩ, slow time: 2 min"


def found(on="12.8 V", slow="", senses="bank", length="0.3 m"):
    text = SITE.format(on=on, slow=slow, senses=senses, length=length)
    return list(check(study.from_text(text, "hut.yaml").evidence))


class View:
    def __init__(self, fast, slow):
        self.rebound_v, self.slow_rebound_v = fast, slow


def test_time_to_close_again_is_that_of_an_exponential():
    # V(t) = fast + slow·(1 - exp(-t/tau)): textbook charging of a capacitor
    assert closes_after_s(View(0.5, 0.2), 0.4, 120.0) == 0
    assert closes_after_s(View(0.2, 0.4), 0.4, 120.0) == pytest.approx(120 * log(2))
    assert closes_after_s(View(0.2, 0.2), 0.4, 120.0) == float("inf")


def test_a_gap_below_half_a_volt_at_twelve_is_tight():
    # 16.7 A over 12 mΩ spring back by 0.2 V only, yet half a volt is asked for; common practice, no source
    assert found(on="12.1 V") == []
    (finding,) = found(on="11.9 V")
    assert finding.severity == "tight"


def test_the_slow_part_makes_it_hunt():
    (finding,) = found(on="11.9 V", slow=SLOW)
    assert finding.severity == "fails"
    assert "12.1 V" in finding.mend  # 11.5 V + 16.7 A · 27 mΩ · 1.2


def test_a_long_wire_counts_where_the_disconnect_senses_its_own_input():
    assert found(on="12.1 V", senses="bank", length="12 m") == []
    (finding,) = found(on="12.1 V", senses="low cut", length="12 m")
    assert finding.severity == "fails"
