"""Runs are called differently, and network cables use the pairs that their device needs."""

from ohmstead import study
from ohmstead.site.read import read_text

SITE = """ohmstead: 1
battery: {bank: {cells: 4, chemistry: LFP, capacity: 100 Ah}}
parts:
  bar: {kind: busbar}
  hub: {kind: ethernet power source, standard: bt4, input: 10..15 V, output: 54 V, ports: 2}
  mast: {kind: device, over: ethernet, class: 6, draws: 40 W}
  lamp: {kind: device, input: 10..15 V, draws: 5 W}
runs:
  - {from: bank, to: bar, length: 1 m, wire: 4 mm2, wires: positive}
  - {from: bank, to: bar, length: 1 m, wire: 4 mm2, wires: negative}
  - {from: bank, to: bar, length: 2 m, wire: 4 mm2, wires: negative}
  - {from: bar, to: lamp, length: 3 m, wire: 1.5 mm2}
  - {from: bar, to: lamp, length: 3 m, wire: 1.5 mm2}
  - {from: bar, to: hub, length: 3 m, wire: 4 mm2}
  - {from: hub / 1, to: mast, length: 30 m, cable: Cat6 23 AWG}
accepted:
  - {finding: unfused-run, on: 'bank -> bar (negative) #2', because: a trial}
  - {finding: unfused-run, on: 'bar -> lamp #2', because: a trial}
"""


def test_no_two_runs_share_a_name() -> None:
    assert [run.name for run in read_text(SITE).runs] == [
        "bank -> bar (positive)", "bank -> bar (negative)", "bank -> bar (negative) #2",
        "bar -> lamp", "bar -> lamp #2", "bar -> hub", "hub / 1 -> mast",
    ]  # fmt: skip


def test_a_twin_can_be_accepted_alone() -> None:
    found = [
        f for f in study.from_text(SITE).findings if f.rule == "unfused-run" and f.subject.startswith("bar -> lamp")
    ]
    assert all((f.accepted == "a trial") == (f.subject == "bar -> lamp #2") for f in found)


def test_a_device_of_class_six_takes_four_pairs() -> None:
    run = read_text(SITE).runs[-1]
    assert (run.pairs, run.origin_of("pairs")) == (4, "assumed")
    assert "class 5 to 8" in run.origin["pairs"].note
    turned = read_text(SITE.replace("from: hub / 1, to: mast", "from: mast, to: hub / 1")).runs[-1]
    assert turned.pairs == 4
    stated = read_text(SITE.replace("cable: Cat6 23 AWG", "cable: Cat6 23 AWG, pairs: 2")).runs[-1]
    assert (stated.pairs, stated.origin_of("pairs")) == (2, "stated")
    assert read_text(SITE.replace("class: 6", "class: 4")).runs[-1].pairs == 2


def test_positive_and_negative_may_leave_from_one_way() -> None:
    site = read_text(
        SITE.replace("bar: {kind: busbar}", "bar: {kind: distribution, ways: 4}")
        .replace(
            "from: bar, to: lamp, length: 3 m, wire: 1.5 mm2",
            "from: bar / 1, to: lamp, length: 3 m, wire: 1 mm2, wires: positive",
            1,
        )
        .replace(
            "from: bar, to: lamp, length: 3 m, wire: 1.5 mm2",
            "from: bar / 1, to: lamp, length: 3 m, wire: 1 mm2, wires: negative",
            1,
        )
        .replace("'bar -> lamp #2'", "lamp")
    )
    assert [run.name for run in site.runs[3:5]] == ["bar / 1 -> lamp (positive)", "bar / 1 -> lamp (negative)"]
