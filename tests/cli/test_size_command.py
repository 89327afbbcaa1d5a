"""`ohmstead size`."""

import json
from pathlib import Path

import pandas
import pytest

from ohmstead.cli.main import main
from ohmstead.cli.progress import bar
from ohmstead.season.sweep import Progress

from ..season.hut import HUT

FEW = ["--array", "200..1600 W in 5", "--battery", "100..400 Ah in 3"]


@pytest.fixture
def hut(tmp_path: Path) -> str:
    file = tmp_path / "hut.yaml"
    file.write_text(HUT, encoding="utf-8")
    return str(file)


def test_it_tells_the_line_of_least_sizes_and_writes_what_is_asked(hut, tmp_path, capsys) -> None:  # type: ignore[no-untyped-def]
    out = tmp_path / "out"
    files = ["--csv", str(out / "d.csv"), "--parquet", str(out / "d.parquet"), "--pictures", str(out), "--png"]
    assert main(["size", hut, *FEW, "--tilt", "45°, 65°", *files]) == 0
    said = capsys.readouterr().out
    for words in ("30 designs through 4 years", "Least array for each battery", "Put forward", "One more of it",
                  "Best tilt for the worst month", "usual arithmetic"):  # fmt: skip
        assert words in said
    one, other = pandas.read_csv(out / "d.csv"), pandas.read_parquet(out / "d.parquet")
    assert len(one) == len(other) == 30
    assert list(one.columns) == list(other.columns)
    assert one["unserved_fraction"].to_numpy() == pytest.approx(other["unserved_fraction"].to_numpy(), rel=1e-5)
    assert (out / "sizes.svg").read_text().startswith("<svg")
    assert (out / "sizes.png").read_bytes().startswith(b"\x89PNG")
    assert (out / "chosen-months.svg").exists()
    assert "best for the worst month" in (out / "tilts.svg").read_text()


def test_json_says_the_same_and_a_kept_sweep_goes_on(hut, tmp_path, capsys) -> None:  # type: ignore[no-untyped-def]
    keep = str(tmp_path / "k.sweep")
    assert main(["size", hut, *FEW, "--resume", keep, "--json"]) == 0
    first = json.loads(capsys.readouterr().out)
    assert main(["size", hut, *FEW, "--resume", keep, "--json"]) == 0
    assert json.loads(capsys.readouterr().out) == first
    assert first["n_design"] == 15 and first["chosen"]["verdict"] == "met"
    assert main(["size", hut, "--array", "300 W", "--resume", keep]) == 2
    assert "another sweep" in capsys.readouterr().err


def test_what_cannot_be_done_is_told(hut, tmp_path, capsys) -> None:  # type: ignore[no-untyped-def]
    assert main(["size", hut, "--array", "60 W", "--battery", "20 Ah"]) == 1
    assert "None of these designs keeps the goal" in capsys.readouterr().out
    assert main(["size", hut, "--array", "400"]) == 2
    assert "needs a unit" in capsys.readouterr().err
    assert main(["size", hut, "--turn", "barn"]) == 2
    assert "no array 'barn'" in capsys.readouterr().err
    assert main(["size", hut, *FEW, "--csv", str(tmp_path)]) == 2
    assert "cannot be written" in capsys.readouterr().err


def test_a_place_without_sun_for_weeks_is_reckoned(tmp_path, capsys) -> None:  # type: ignore[no-untyped-def]
    """Where the sun stays down the mean of a month may be nothing; where it rises, it may not."""
    dark = HUT.replace("1.2 2.0 3.2 4.2 5.0 5.6 5.9 5.1 3.8 2.4 1.4 1.0", "0 0.02 0.6 2.5 4.8 5.6 4.6 2.6 1.1 0.15 0 0")
    file = tmp_path / "north.yaml"
    file.write_text(dark.replace("latitude: 46, longitude: 8, timezone: Europe/Zurich", "latitude: 78, longitude: 15"))
    assert main(["size", str(file), *FEW]) == 1
    said = capsys.readouterr().out
    assert "no tilt brings anything" in said and "no sun to speak of" in said
    file.write_text(dark)
    assert main(["size", str(file), *FEW]) == 2
    assert "0 kWh/m² a day in January" in capsys.readouterr().err


def test_the_bar_tells_how_far_it_is() -> None:
    assert "25 %" in bar(Progress(3, 12, 95.0)) and "95 s left" in bar(Progress(3, 12, 95.0))
    assert bar(Progress(12, 12, 0.0)).strip().endswith("100 %")
