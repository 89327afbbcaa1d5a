"""`ohmstead weather`."""

import json
from pathlib import Path

import pytest

from ohmstead.cli.main import main

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.mark.parametrize("name", ["skerry", "saltpan"])
def test_months_of_the_examples(name, capsys):
    assert main(["weather", str(EXAMPLES / name / f"{name}.yaml")]) == 0
    said = capsys.readouterr().out
    assert "January" in said and "December" in said and "kWh/m²" in said and "drawn with seed 1" in said


def test_json_says_the_same(capsys):
    assert main(["weather", str(EXAMPLES / "skerry" / "skerry.yaml"), "--json"]) == 0
    document = json.loads(capsys.readouterr().out)
    assert len(document["months"]) == 12 and len(document["years"]) == document["n_year"] == 20
    assert document["months"][5]["sun_wh_per_m2"] == pytest.approx(5150, rel=0.001)
    assert document["notes"]


def test_a_site_without_weather_is_told(tmp_path, capsys):
    file = tmp_path / "a.yaml"
    file.write_text("ohmstead: 1\nsite: {name: t}\nbattery: {bank: {chemistry: LFP, cells: 8, capacity: 280 Ah}}\n")
    assert main(["weather", str(file)]) == 2
    assert "no section weather" in capsys.readouterr().err
    assert main(["weather", str(file), "--fetch"]) == 2
    assert "no latitude" in capsys.readouterr().err
