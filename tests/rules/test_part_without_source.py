"""What is dead, what is dead on purpose, and what lacks its second wire."""

from ohmstead import study
from ohmstead.rules.part_without_source import check

SITE = """ohmstead: 1
site: {{name: cabin}}
battery:
  bank: {{chemistry: LFP, cells: 4, capacity: 100 Ah}}
parts:
  bar: {{kind: busbar}}
  main switch: {{kind: switch, set: {stands}}}
  supply: {{kind: converter, type: boost, input: 10..15 V, output: 19 V, rating: 60 W}}
  lamp: {{kind: device, input: 10..15 V, draws: 8 W}}
  screen: {{kind: device, input: 18..20 V, draws: 8 W}}
runs:
  - {{from: bank, to: main switch, length: 1 m, wire: 6 mm2}}
{runs}
"""
WHOLE = """  - {from: main switch, to: bar, length: 1 m, wire: 6 mm2}
  - {from: bar, to: supply, length: 1 m, wire: 6 mm2}
  - {from: supply, to: screen, length: 1 m, wire: 6 mm2}
"""
LAMP = "  - {from: bar, to: lamp, length: 1 m, wire: 6 mm2}\n"


def found(runs, stands="closed"):
    return list(check(study.from_text(SITE.format(runs=runs, stands=stands), "cabin.yaml").evidence))


def test_all_in_order():
    assert found(WHOLE + LAMP) == []


def test_a_gap_is_told_once_at_the_first_part_behind_it():
    (finding,) = found(WHOLE.replace("from: main switch, to: bar", "from: main switch, to: lamp"))
    assert finding.subject == "bar"
    assert "supply" in finding.message


def test_behind_an_open_switch_all_is_dead_on_purpose():
    assert found(WHOLE + LAMP, stands="open") == []


def test_a_device_on_one_wire_is_dead_too():
    (finding,) = found(WHOLE + LAMP.replace("6 mm2}", "6 mm2, wires: positive}"))
    assert finding.subject == "lamp"
    assert "negative" in finding.mend
    both = LAMP.replace("6 mm2}", "6 mm2, wires: positive}") + LAMP.replace("6 mm2}", "6 mm2, wires: negative}")
    assert found(WHOLE + both) == []
