"""How much of a current flows through a fuse at one of several batteries."""

import pytest

from ohmstead import study
from ohmstead.evidence.coverage import guarding_a, share_through
from ohmstead.rules.fuse_cannot_break_fault import prospective_a

SITE = """ohmstead: 1
battery:
  left: {{chemistry: LFP, cells: 4, capacity: 100 Ah, resistance: 4 mΩ}}
  right: {{chemistry: LFP, cells: 4, capacity: 100 Ah, resistance: 4 mΩ}}
parts:
  bar: {{kind: busbar}}
  heater: {{kind: device, input: 9..15 V, draws: 300 W}}
runs:
  - {{from: right, to: {meets}, length: 0.5 m, wire: 25 mm2, fuse: 90 A class T, fuse at: 0.1 m}}
  - {{from: left, to: bar, length: 0.5 m, wire: 25 mm2, fuse: 90 A class T, fuse at: 0.1 m}}
  - {{from: bar, to: heater, length: 1 m, wire: 25 mm2}}
"""


@pytest.mark.parametrize(("meets", "share", "guarding"), [("bar", 0.5, 180.0), ("left", 1.0, 90.0)])
def test_a_fuse_carries_half_or_all(meets, share, guarding):
    """Two batteries on one bar each feed through their own fuse; one behind the other, all flows through the last."""
    evidence = study.from_text(SITE.format(meets=meets)).evidence
    heater, fuse = evidence.run("bar -> heater"), evidence.run("left -> bar").own_fuse
    assert share_through(evidence, fuse, heater) == share
    assert guarding_a(evidence, heater) == guarding


def test_the_last_of_a_row_breaks_the_short_of_both():
    # One battery alone: 13.67 V / 4 mΩ = 3.42 kA. Both at the pole of the left one: the right one has 0.5 m of 25 mm²
    # (2 x 0.5 x 17.241 / 25 = 0.69 mΩ, 0.68 mΩ at 15 °C) and its fuse (0.54 mΩ cold) before it: 13.67 / 5.22 = 2.62 kA.
    alone, row = (study.from_text(SITE.format(meets=meets)).evidence for meets in ("bar", "left"))
    assert prospective_a(alone, alone.run("left -> bar")) == pytest.approx(13672 / 4, rel=0.01)
    assert prospective_a(row, row.run("left -> bar")) == pytest.approx(13672 / 4 + 13672 / 5.22, rel=0.01)
