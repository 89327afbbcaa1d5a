"""`ohmstead plan`: what it says, draws and writes."""

import json

import pytest

from ohmstead.cli.main import main
from ohmstead.site.read import read_site
from plan.plates import EXAMPLES, STATED, small


def run(capsys, *words):
    status = main(["plan", *(str(word) for word in words)])
    out, err = capsys.readouterr()
    assert "Traceback" not in out + err
    return status, out, err


@pytest.fixture
def file(tmp_path):
    path = tmp_path / "small.yaml"
    path.write_text(small("420 x 520 mm", "ducts: 30 x 40 mm").text, encoding="utf-8")
    return path


def test_it_tells_places_lengths_and_fill(capsys, file):
    status, out, _ = run(capsys, file)
    assert status == 0
    assert "block   " in out and "mm right" in out and "found" in out
    assert "supply -> radio" in out and "taken as its length" in out
    assert "BS 7671 space factor" in out
    assert "No other places cost less" in out or "could save" in out
    assert (
        "Nothing is written yet" in out
        and file.read_text(encoding="utf-8") == small("420 x 520 mm", "ducts: 30 x 40 mm").text
    )


def test_it_writes_places_and_shows_the_difference(capsys, file):
    before = file.read_text(encoding="utf-8")
    status, out, err = run(capsys, file, "--write")
    assert status == 0 and "written into" in err
    assert "+    radio: {" in out
    assert file.read_text(encoding="utf-8") != before
    plate = read_site(file).plate
    assert plate is not None and all(mount.at_mm for mount in plate.mounts.values()) and len(plate.across_mm) >= 2
    status, out, _ = run(capsys, file)
    assert status == 0 and "Every place is stated" in out and "Nothing is written" not in out


def test_it_draws(capsys, tmp_path, file):
    out_folder = tmp_path / "out"
    status, _, err = run(capsys, STATED["observatory"], "--out", out_folder, "--paper", "Letter")
    assert status == 0 and "files in" in err
    names = {path.relative_to(out_folder).as_posix() for path in out_folder.rglob("*") if path.is_file()}
    assert {"plate-plan.html", "drilling.html", "plate-plan.pdf", "drilling.pdf", "drawings/plate-plan.svg"} <= names


def test_json_holds_the_same(capsys, file):
    status, out, _ = run(capsys, file, "--json")
    found = json.loads(out)
    assert status == 0
    assert {part["name"] for part in found["parts"]} == {"block", "supply", "radio"}
    assert all(len(part["at_mm"]) == 2 and part["holes_mm"] for part in found["parts"])
    assert [wire["run"] for wire in found["wires"]] == ["bank -> block", "block / 1 -> supply", "supply -> radio"]
    assert found["wires"][0]["entries"] == ["lower edge"]
    assert found["findings"] == [] and "+" in found["changes"]


def test_what_speaks_against_it_is_told(capsys, file):
    text = file.read_text(encoding="utf-8")
    file.write_text(
        text.replace("radio: {size: 60 x 80 x 40 mm", "radio: {size: 60 x 80 x 170 mm, at: [60 mm, 70 mm]"),
        encoding="utf-8",
    )
    status, out, _ = run(capsys, file)
    assert status == 1
    assert "part-does-not-fit" in out and "closed door" in out


def test_a_site_without_a_plate_is_told(capsys):
    status, _, err = run(capsys, EXAMPLES / "cabin" / "cabin.yaml")
    assert status == 2
    assert "no section plate" in err and "mend" in err


def test_parts_without_room_are_told(capsys, tmp_path):
    path = tmp_path / "tight.yaml"
    path.write_text(small("140 x 150 mm").text, encoding="utf-8")
    status, _, err = run(capsys, path)
    assert status == 2
    assert "no place" in err and "the bare outlines of the parts" in err and "mend" in err
