"""Choices are written into the text and nothing else changes; a chosen site stays as it is."""

import json
from pathlib import Path

import pytest

from ohmstead.choose.apply import difference, written
from ohmstead.choose.decide import decide
from ohmstead.choose.trial import full_check
from ohmstead.cli.main import main
from ohmstead.site.edit import EditRefused
from ohmstead.site.read import read_text

SITE = """ohmstead: 1
# everything here was measured twice
battery:
  bank: {chemistry: LFP, cells: 8, capacity: 200 Ah, resistance: 6 mΩ}   # eight cells
parts:
  low cut: {kind: low-voltage disconnect, off: 24 V, on: 26 V, rating: 60 A}
  block: {kind: distribution, ways: 4, per way: 30 A, voltage: 32 V}
  hut supply: {kind: converter, type: buck, input: 18..32 V, output: 12 V ± 1 %, rating: choose}
  lamp:   {kind: device, input: 20..30 V, draws: 20 W}
  radio:  {kind: device, input: 11..14 V, draws: 30 W}
runs:                       # one way
  - {from: bank, to: low cut, length: 0.8 m, wire: choose, fuse: choose, fuse at: 0.1 m}   # main
  - {from: low cut, to: block, length: 0.3 m, wire: 16 mm2}
  - {from: block / 1, to: lamp, length: 7 m, wire: choose, fuse: choose}
  - {from: block / 2, to: hut supply, length: 1 m, wire: 'choose', fuse: 10 A blade}  # quoted
  - {from: hut supply, to: radio, length: 3 m, wire: choose}
"""


@pytest.fixture(scope="module")
def proposal():
    return decide(read_text(SITE))


def test_all_is_decided_and_the_check_is_clean(proposal):
    assert proposal.verdict == "fits"
    named = {(c.subject, c.attribute) for c in proposal.choices}
    assert named >= {("hut supply", "rating"), ("bank -> low cut", "fuse")}
    assert len(proposal.choices) == SITE.count("choose")
    after = written(SITE, proposal.choices)
    assert full_check(read_text(after)).failing == proposal.left == ()


def test_the_text_says_the_same_as_the_proposed_site(proposal):
    again = read_text(written(SITE, proposal.choices))
    for ours, theirs in zip(proposal.site.runs, again.runs, strict=True):
        assert ours.wire.size == theirs.wire.size
        assert (ours.fuse and ours.fuse.rating_a) == (theirs.fuse and theirs.fuse.rating_a)
    assert proposal.site.parts["hut supply"].rating_w == again.parts["hut supply"].rating_w


def test_only_choose_changes(proposal):
    after = written(SITE, proposal.choices)
    for before_line, after_line in zip(SITE.splitlines(), after.splitlines(), strict=True):
        assert ("choose" in before_line) == (before_line != after_line)
        if "#" in before_line:
            assert after_line.endswith(before_line[before_line.index("#") :])
    assert "choose" not in after


def test_choosing_again_changes_nothing(proposal):
    after = written(SITE, proposal.choices)
    again = decide(read_text(after))
    assert again.choices == () and written(after, again.choices) == after
    assert difference(after, after, "x") == ""


def test_every_choice_names_what_decided_it(proposal):
    for choice in proposal.choices:
        assert choice.reason.how in ("tried", "reckoned", "smallest", "preferred")
        if choice.reason.how == "tried":
            assert choice.reason.rule and choice.reason.message and choice.reason.next_text != choice.text


def test_a_text_that_moved_on_is_refused(proposal):
    with pytest.raises(EditRefused):
        written(SITE.replace("choose", "4 mm2", 1), proposal.choices)


def run(capsys, *words):
    status = main(words)
    out, err = capsys.readouterr()
    assert "Traceback" not in out + err
    return status, out, err


def test_nothing_is_written_without_being_asked(tmp_path, capsys):
    path = tmp_path / "hut.yaml"
    path.write_text(SITE)
    status, out, _ = run(capsys, "choose", str(path))
    assert status == 0 and path.read_text() == SITE
    assert "\n+" in out and "\n-" in out and "--write" in out
    status, _, err = run(capsys, "choose", str(path), "--write")
    assert status == 0 and "choose" not in path.read_text() and "# main" in path.read_text()
    assert run(capsys, "check", str(path))[0] == 0
    assert "nothing" in run(capsys, "choose", str(path))[1]


def test_json_holds_the_same_choices(tmp_path, capsys, proposal):
    path = tmp_path / "hut.yaml"
    path.write_text(SITE)
    status, out, _ = run(capsys, "choose", str(path), "--json")
    told = json.loads(out)
    assert status == 0
    assert [c["text"] for c in told["choices"]] == [c.text for c in proposal.choices]
    assert told["mass_kg"] == pytest.approx(proposal.mass_kg)


def test_exit_status_tells_when_nothing_fits(tmp_path, capsys):
    path = tmp_path / "far.yaml"
    ends = "ends: [ferrule 1.5 mm2, ferrule 1.5 mm2]"
    path.write_text(SITE.replace("length: 7 m, wire: choose", f"length: 400 m, {ends}, wire: choose"))
    status, out, _ = run(capsys, "choose", str(path), "--write")
    assert status == 1 and "cannot be met together" in out and "choose" in path.read_text()
    assert run(capsys, "choose", str(tmp_path / "none.yaml"))[0] == 2


def test_what_if(tmp_path, capsys):
    path, other = tmp_path / "a.yaml", tmp_path / "b.yaml"
    text = written(SITE, decide(read_text(SITE)).choices)
    path.write_text(text)
    other.write_text(text.replace("length: 7 m", "length: 60 m"))
    assert run(capsys, "what-if", str(path), str(path))[:2] == (0, "nothing changes: same findings, same numbers\n")
    _, out, _ = run(capsys, "what-if", str(path), str(other))
    assert "lowest voltage" in out and "lamp" in out
    status, by_set, _ = run(capsys, "what-if", str(path), "--set", "lamp.length=60 m")
    assert by_set == out
    assert run(capsys, "what-if", str(path))[0] == 2
    assert run(capsys, "what-if", str(path), str(other), "--set", "lamp.length=60 m")[0] == 2
    for change in ("lamp", "lamb.length=3 m", "lamp.colour=red"):
        status, _, err = run(capsys, "what-if", str(path), "--set", change)
        assert status == 2 and "mend" in err
    assert path.read_text() == text


def keys_of(value):
    """Every key of a document, lists and inner documents included; names of findings' own numbers left out."""
    if isinstance(value, dict):
        yield from value
        for key, entry in value.items():
            yield from keys_of(entry) if key != "numbers" or isinstance(entry, list) else ()
    elif isinstance(value, list):
        for entry in value:
            yield from keys_of(entry)


def test_every_key_of_the_json_is_described(tmp_path, capsys):
    page = (Path(__file__).parents[2] / "docs" / "json.md").read_text(encoding="utf-8")
    chosen, compared = page.split("## `ohmstead choose")[1].split("## `ohmstead what-if")
    general = page.split("## `ohmstead choose")[0]
    path, other, far = tmp_path / "a.yaml", tmp_path / "b.yaml", tmp_path / "far.yaml"
    text = written(SITE, decide(read_text(SITE)).choices)
    path.write_text(SITE)
    other.write_text(text.replace("length: 7 m", "length: 160 m"))
    ends = "ends: [ferrule 1 mm2, choose]"
    far.write_text(SITE.replace("length: 7 m, wire: choose", f"length: 400 m, {ends}, wire: choose"))
    for words, told in ((("choose", path), chosen), (("choose", far), chosen), (("what-if", path, other), compared)):
        keys = set(keys_of(json.loads(run(capsys, *map(str, words), "--json")[1])))
        assert len(keys) > 8
        assert not {key for key in keys if f"`{key}`" not in told + general}


def test_the_sheets_take_the_price_list(tmp_path, capsys):
    site, prices = tmp_path / "hut.yaml", tmp_path / "prices.csv"
    site.write_text(written(SITE, decide(read_text(SITE)).choices))
    prices.write_text("item,price,unit,currency\n10 A blade,0.40,piece,EUR\n")
    words = ("sheets", str(site), "--only", "parts-list", "--as", "csv", "--out", str(tmp_path / "out"), "--prices")
    assert run(capsys, *words, str(prices))[0] == 0
    assert "EUR" in (tmp_path / "out" / "tables" / "parts-cost.csv").read_text(encoding="utf-8")
    prices.write_text("item,price,unit\n10 A blade,0,40,piece\n")
    status, _, err = run(capsys, *words, str(prices))
    assert status == 2 and "line 2" in err and "comma" in err
