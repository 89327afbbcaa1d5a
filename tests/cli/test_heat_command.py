"""`ohmstead heat`: words, JSON, pictures, and choices written into the file."""

import json
from pathlib import Path
from xml.etree import ElementTree

import pytest

from ohmstead.cli.main import main

EXAMPLES = Path(__file__).parents[2] / "examples"
MENDED = EXAMPLES / "skerry" / "skerry-mended.yaml"
SALTPAN = EXAMPLES / "saltpan" / "saltpan.yaml"

OPEN = """ohmstead: 1
site: {name: box, latitude: 24}
zones:
  shed: {air: 5..40 °C}
  box: {inside: shed, air: from heat}
battery:
  bank: {chemistry: LFP, cells: 8, capacity: 100 Ah, limits: {discharge: 100 A}, zone: shed}
parts:
  logger: {kind: device, input: 18..32 V, draws: 60 W, warm limit: 55 °C, zone: box}
cabinet:
  box:
    size: 400 x 500 x 200 mm
    fan: choose                   # which one?
    low vent: 60 cm2 left
runs:
  - {from: bank, to: logger, length: 2 m, wire: 4 mm2 XLPE, fuse: 10 A 10x38, fuse at: 0.1 m}
"""


@pytest.mark.parametrize("file", [MENDED, SALTPAN], ids=["damp", "hot"])
def test_it_tells_every_part_and_every_way(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["heat", str(file)]) == 0
    out = capsys.readouterr().out
    for words in ("heat inside", "allowed heat", "closed", "vents", "fan and mat", "maximum thermometer"):
        assert words in out
    assert "{" not in out


def test_json_holds_both_days_and_pictures_are_drawn(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["heat", str(SALTPAN), "--json", "--pictures", str(tmp_path)]) == 0
    (box,) = json.loads(capsys.readouterr().out)["cabinets"]
    assert len(box["hottest_day"]["upper_c"]) == len(box["coldest_day"]["heat_w"]) == 24
    assert max(box["hottest_day"]["around_c"]) == pytest.approx(60.0)
    assert box["hottest_c"] >= max(box["hottest_day"]["upper_c"]) > 60.0
    assert {part["name"] for part in box["parts"]} >= {"mini computer", "net switch"}
    drawn = sorted(path.name for path in tmp_path.iterdir())
    assert drawn == ["cabinet-by-the-hour.svg", "cabinet-fan.svg"]
    for path in tmp_path.iterdir():
        ElementTree.fromstring(path.read_text(encoding="utf-8"))


def test_a_part_over_its_limit_ends_with_1(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "hot.yaml"
    path.write_text(OPEN.replace("    fan: choose                   # which one?\n", ""), encoding="utf-8")
    assert main(["heat", str(path)]) == 1
    assert "logger" in capsys.readouterr().out


def test_what_is_decided_is_written_and_comments_stay(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "open.yaml"
    path.write_text(OPEN, encoding="utf-8")
    main(["heat", str(path)])
    assert "--write" in capsys.readouterr().out
    assert main(["heat", str(path), "--write"]) == 0
    text = path.read_text(encoding="utf-8")
    assert "choose" not in text and "# which one?" in text and "fan: {free flow:" in text
    capsys.readouterr()
    assert main(["heat", str(path)]) == 0


def test_choose_says_who_decides_the_cabinet(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "open.yaml"
    path.write_text(OPEN, encoding="utf-8")
    main(["choose", str(path)])
    assert f"ohmstead heat {path}" in capsys.readouterr().out


def test_a_site_without_a_cabinet_ends_with_2(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["heat", str(EXAMPLES / "cabin" / "cabin.yaml")]) == 2
    assert "no section cabinet" in capsys.readouterr().err


def test_years_are_run(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["heat", str(SALTPAN), "--years", "--json"]) == 0
    (box,) = json.loads(capsys.readouterr().out)["cabinets"]
    years = box["years"]
    assert years["hottest_c"] == pytest.approx(box["hottest_c"], abs=3.0)
    assert 0 < years["fan_h"] < 8760 and years["ageing_ratio"] > 1.0
