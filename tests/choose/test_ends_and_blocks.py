"""Ends of runs and fuse blocks left open: what fits by hand, what a full check then says, what cannot be told."""

import re

import pytest

from ohmstead.choose.apply import written
from ohmstead.choose.decide import decide
from ohmstead.choose.trial import full_check
from ohmstead.cli.main import main
from ohmstead.parts.plug import mates, read_end, takes_wire
from ohmstead.site.problems import SiteError
from ohmstead.site.read import read_text

SITE = """ohmstead: 1
battery:
  bank: {chemistry: LFP, cells: 8, capacity: 200 Ah, resistance: 6 mΩ, stud: M8}
parts:
  low cut: {kind: low-voltage disconnect, off: 24 V, on: 26 V, rating: 60 A, stud: 1/4 in}
  block: {kind: distribution, ways: choose, total: choose, per way: choose, voltage: choose}
  net: {kind: ethernet power source, standard: passive, ports: 2, input: 20..32 V, plug: barrel 5.5x2.1 centre positive}
  hide cam: {kind: device, over: passive ethernet, input: 16..32 V, draws: 5 W}
  lamp: {kind: device, input: 20..32 V, draws: 20 W}
  radio: {kind: device, input: 20..32 V, draws: 30 W, plug: barrel 5.5x2.5 centre negative}
  fridge: {kind: device, input: 20..32 V, draws: 60 W, plug: bullet 3.5}
runs:
  - {from: bank, to: low cut, length: 0.8 m, wire: choose, fuse: 40 A class T, fuse at: 0.1 m, ends: choose}  # main
  - {from: low cut, to: block, length: 0.3 m, wire: 10 mm2, ends: [ring M6, choose]}
  - {from: block / 1, to: lamp, length: 7 m, wire: choose, fuse: choose, ends: choose}
  - {from: block / 2, to: radio, length: 7 m, wire: 1.5 mm2 solid, fuse: choose, ends: choose}
  - {from: block / 3, to: net, length: 2 m, wire: choose, fuse: choose, ends: choose}
  - {from: block / 5, to: fridge, length: 2 m, wire: choose, fuse: choose, ends: choose}
  - {from: net / 1, to: hide cam, length: 20 m, cable: Cat5e 24 AWG, ends: choose}
"""


@pytest.fixture(scope="module")
def proposal():
    found = decide(read_text(SITE))
    assert found.verdict == "fits" and found.unknown == ()
    return found


def test_ends_by_hand(proposal):
    """A ring of the stud's size, a 1/4 in stud as M6; a sleeve for strands, none for solid; plugs as the inlets."""
    ends = {choice.subject: choice.text for choice in proposal.choices if choice.attribute == "ends"}
    assert ends == {
        "bank -> low cut": "[ring M8, ring M6]",
        "low cut -> block": "ferrule",
        "block / 1 -> lamp": "[ferrule, butt red]",
        "block / 2 -> radio": "[bare, barrel 5.5x2.5 centre negative]",
        "block / 3 -> net": "[ferrule, barrel 5.5x2.1 centre positive]",
        "block / 5 -> fridge": "[ferrule, bullet 3.5]",
        "net / 1 -> hide cam": "[rj45, rj45]",
    }
    assert all(c.reason.how == "fits" and c.reason.message for c in proposal.choices if c.attribute == "ends")


def test_every_end_takes_its_wire_and_goes_where_it_should(proposal):
    for run in proposal.site.runs:
        for end, at in zip(run.ends, (run.start, run.end), strict=True):
            assert run.wire is None or takes_wire(end, run.wire.area_mm2) == ""
            inlet = getattr(proposal.site.parts.get(at.part), "inlet", None)
            assert inlet is None or at.way is not None or mates(end, inlet) == ""


def test_a_small_stud_keeps_thick_wire_away():
    """Rings for M4 end at 6 mm² (usual ranges of DIN 46235, from memory): thinner ones are then taken."""
    text = SITE.replace("1/4 in", "M4").replace("ring M6", "ring M4").replace("40 A class T", "30 A class T")
    found = decide(read_text(text.replace("wire: 10 mm2", "wire: choose")))
    wires = {c.subject: c.text for c in found.choices if c.attribute == "wire"}
    assert found.verdict == "fits"
    assert float(wires["bank -> low cut"].split()[0]) <= 6 >= float(wires["low cut -> block"].split()[0])


def test_the_written_file_is_clean(proposal):
    after = written(SITE, proposal.choices)
    assert "choose" not in after and "# main" in after
    trial = full_check(read_text(after))
    assert trial.failing == proposal.left == ()
    assert not [f for f in trial.findings if f.rule == "choice-left-open"]


def test_block_by_hand(proposal):
    """Way 5 is the highest in use, one more is kept: 6. 115 W and 5 W by cable at 24 V and less draw about 6 A.

    The disconnect opens at 24 V; eight cells charge to 29.2 V. Sizes are common practice, no source.
    """
    block = {c.attribute: c.text for c in proposal.choices if c.subject == "block"}
    rated = [run.fuse.rating_a for run in proposal.site.runs if run.start.part == "block"]
    assert block["ways"] == "6" and block["voltage"] == "32 V" and block["total"] == "30 A"
    assert max(rated) <= float(block["per way"].split()[0]) <= 2 * max(max(rated), 10)


@pytest.mark.parametrize(
    "old, new, attribute, text",
    [
        ("cells: 8", "cells: 16", "voltage", "58 V"),  # 16 x 3.4 V = 54 V when full
        ("block / 5", "block / 12", "ways", "16"),
        ("draws: 30 W", "draws: 360 W", "total", "60 A"),  # 740 W at 24 V and less: 31 A and more
    ],
)
def test_a_block_grows_with_what_it_carries(old, new, attribute, text):
    site = SITE.replace(old, new)
    if "360 W" in new:
        site = site.replace(", plug: barrel 5.5x2.5 centre negative", "").replace("draws: 20 W", "draws: 320 W")
        site = site.replace("1.5 mm2 solid", "choose").replace("40 A class T", "80 A class T")
    site = site.replace("20..32 V", "20..64 V")
    found = decide(read_text(site))
    block = {c.attribute: c for c in found.choices if c.subject == "block"}
    assert block[attribute].text == text
    assert block[attribute].reason.how == "tried" and block[attribute].reason.next_text


def test_no_block_sold_is_enough():
    loads = "\n".join(f"  load {n}: {{kind: device, input: 9..16 V, draws: 300 W}}" for n in range(1, 17))
    runs = "\n".join(
        f"  - {{from: block / {n}, to: load {n}, length: 1 m, wire: 16 mm2, fuse: 40 A blade}}" for n in range(1, 17)
    )
    found = decide(
        read_text(f"""ohmstead: 1
battery:
  bank: {{chemistry: LFP, cells: 4, capacity: 2000 Ah, resistance: 0.5 mΩ}}
parts:
  block: {{kind: distribution, ways: 16, total: choose}}
{loads}
runs:
  - {{from: bank, to: block, length: 0.5 m, wire: 240 mm2, fuse: 400 A class T, fuse at: 0.1 m}}
{runs}
""")
    )
    assert found.verdict == "nothing fits" and found.choices == ()
    assert found.clashes[0].rule == "block-overloaded" and "300 A" in found.clashes[0].words


def test_an_end_that_cannot_be_told_stays_open(tmp_path, capsys):
    path = tmp_path / "hut.yaml"
    path.write_text(SITE.replace(", stud: M8}", "}"), encoding="utf-8")
    status = main(["choose", str(path), "--write"])
    out = capsys.readouterr().out
    assert status == 1 and "stud: M8" in out and "bank" in out
    assert "ends: [choose, ring M6]" in path.read_text(encoding="utf-8")
    assert main(["choose", str(path)]) == 1  # nothing is left that could be told
    assert path.read_text(encoding="utf-8").count("choose") == 1


def test_a_check_keeps_quiet_about_what_is_open():
    findings = full_check(read_text(SITE)).findings
    told = [f.message for f in findings if f.rule == "choice-left-open"]
    assert len(told) == len(re.findall(r"choose", SITE)) and any("per way of block" in text for text in told)
    quiet = {
        "terminal-does-not-take-wire",
        "terminal-does-not-fit-stud",
        "plug-does-not-mate",
        "plug-overloaded",
        "block-overloaded",
        "way-overloaded",
        "ways-missing",
        "block-voltage-low",
        "plug-polarity-reversed",
    }
    assert not quiet & {f.rule for f in findings}


def test_a_stated_end_beside_an_open_one_is_still_judged():
    text = SITE.replace("ends: [ring M6, choose]", "ends: [ring M10, choose]")
    assert ("terminal-does-not-fit-stud", "low cut -> block") in {
        (f.rule, f.subject) for f in full_check(read_text(text)).findings
    }


def test_a_known_melting_time_needs_a_known_fuse():
    with pytest.raises(SiteError) as refused:
        read_text(SITE.replace("fuse: 40 A class T", "fuse: choose, fuse window: {200 %: 0.2..5 s}"))
    assert "fuse window" in refused.value.problems[0].what


def test_reading_an_end_back_gives_the_same(proposal):
    for choice in proposal.choices:
        if choice.attribute == "ends":
            for text in choice.text.strip("[]").split(", "):
                assert read_end(text).text == text
