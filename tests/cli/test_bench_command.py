"""`ohmstead bench` as its users meet it."""

import csv
import json
from html import unescape
from pathlib import Path

import pytest

from ohmstead import open as open_site
from ohmstead.bench.plan import plan_of
from ohmstead.cli.block_letters import large
from ohmstead.cli.main import main

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture
def cabin(tmp_path: Path) -> str:
    path = tmp_path / "cabin.yaml"
    path.write_bytes((EXAMPLES / "cabin" / "cabin.yaml").read_bytes())
    return str(path)


def run(capsys, *words):
    status = main(words)
    out, err = capsys.readouterr()
    assert "Traceback" not in out + err
    return status, out, err


def steps(file: str) -> int:
    return len(plan_of(open_site(file).operation).steps)


def walk(capsys, monkeypatch, file: str, *typed: str, more: tuple[str, ...] = ("--who", "ada")):
    """The walk with these lines typed, and then the end of them."""
    lines = list(typed)

    def answer(prompt: str = "") -> str:
        if not lines:
            raise EOFError
        return lines.pop(0)

    monkeypatch.setattr("builtins.input", answer)
    return run(capsys, "bench", file, "--walk", *more)


def test_the_plan_tells_what_to_do_where_and_what_to_expect(capsys, cabin):
    status, out, err = run(capsys, "bench", cabin)
    assert (status, err) == (0, "")
    for word in ("probes", "if high", "IEC 60364-6", "15 Ω", "Rings and watches off", "fuse block / 4 -> desk supply"):
        assert word in out
    assert max(map(len, out.splitlines())) <= 110


def test_short_and_stages(capsys, cabin):
    _, out, _ = run(capsys, "bench", cabin, "--short", "--stage", "converters", "low")
    assert "Set-point of desk supply" in out and "18.97..19.43 V" in out
    assert "Look and tug" not in out


def test_json_has_every_step_in_si(capsys, cabin):
    _, out, _ = run(capsys, "bench", cabin, "--json")
    told = json.loads(out)
    step = next(s for s in told["steps"] if s["id"] == "fuses.into.fuse-block-4-desk-supply")
    assert step["low"] < step["value"] < step["high"] and 0.005 < step["value"] < 0.02
    assert step["point"] == "current at fuse block / 4 -> desk supply"
    assert {"mark": "P1", "kind": "point", "at": "bank"} in told["marks"]


def test_a_measured_battery_and_wrong_ones(capsys, cabin):
    _, out, _ = run(capsys, "bench", cabin, "--short", "--stage", "battery", "--battery", "bank=13.31 V")
    assert "13.31 V" in out
    for wish in ("nobody=13 V", "13 kg", "-3 V"):
        status, out, err = run(capsys, "bench", cabin, f"--battery={wish}")
        assert status == 2 and "mend" in err and out == ""
    status, _, err = run(capsys, "bench", cabin, "--stage", "nowhere")
    assert status == 2 and "converters" in err


def test_a_coarse_meter_widens_the_bands_and_a_wrong_one_is_refused(capsys, cabin):
    wide = run(capsys, "bench", cabin, "--short", "--stage", "converters", "--accuracy", "volts 1.5 % + 9")[1]
    assert "18.97..19.43 V" not in wide and "Set-point of desk supply" in wide
    for wish in ("volts much", "ohms 1 %", "zero 3 kg"):
        status, _, err = run(capsys, "bench", cabin, "--accuracy", wish)
        assert status == 2 and "mend" in err


def test_csv_to_fill_in(capsys, cabin, tmp_path):
    path = tmp_path / "plan.csv"
    run(capsys, "bench", cabin, "--csv", str(path))
    with path.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    row = next(row for row in rows if row["step"] == "fuses.into.fuse-block-4-desk-supply")
    assert (row["unit"], row["value"], row["quantity"]) == ("mA", "", "current")
    status, _, err = run(capsys, "bench", cabin, "--csv", str(tmp_path / "none" / "plan.csv"))
    assert status == 2 and "cannot be written" in err


def test_walking_stores_judges_and_goes_on_later(capsys, monkeypatch, cabin):
    status, out, _ = walk(
        capsys, monkeypatch, cabin, "y", "y", "skip nobody here", "y", "y", "0,4", "900 mOhm", "?", "next"
    )
    assert status == 1
    assert out.count("GOOD") == 5 and "skipped: nobody here" in out
    assert "STOP" in out and "0.9 Ω too high" in out and "a joint that was never made" in out
    assert "say why" in out
    status, out, _ = walk(capsys, monkeypatch, cabin, "0.4", "quit")
    assert "7 steps were answered before" in out
    assert f"8 of {steps(cabin)}" in out


def test_walking_back_undoing_and_noting(capsys, monkeypatch, cabin):
    typed = ("y", "back", "y", "undo", "note wet gloves", "y", "nonsense", "quit")
    _, out, _ = walk(capsys, monkeypatch, cabin, *typed)
    assert "in the place of no. 1" in out and "withdrawn; again" in out
    assert "not understood: answer yes or no" in out
    assert "this is the first step" not in out


def test_the_name_is_asked_where_it_is_not_given(capsys, monkeypatch, cabin):
    _, out, _ = walk(capsys, monkeypatch, cabin, "ada", "y", more=())
    assert "stored as no. 1" in out


def test_a_wide_terminal_gets_block_letters(capsys, monkeypatch, cabin):
    _, out, _ = walk(capsys, monkeypatch, cabin, "y", more=("--who", "ada", "--large", "always"))
    assert "█" in out and "GOOD" not in out


def test_block_letters_are_five_rows_or_the_text_itself():
    assert len(large("STOP", 80)) == 5
    assert large("STOP", 10) == ["STOP"] and large("Ж", 80) == ["Ж"]


def test_sheet_and_record(capsys, monkeypatch, cabin, tmp_path):
    walk(capsys, monkeypatch, cabin, *["y"] * 5, "0.4", "5 Ohm", "next joint to be made again")
    out_dir = tmp_path / "out"
    status, out, _ = run(capsys, "bench", cabin, "--sheet", str(out_dir), "--record", str(out_dir), "--as", "html,svg")
    assert status == 0 and "commissioning-record.html" in out and "switch-on.html" in out
    page = unescape((out_dir / "commissioning-record.html").read_text(encoding="utf-8")).replace("\xa0", " ")
    assert "joint to be made again" in page and "STOP: 5 Ω too high" in page and f"8-{steps(cabin)}" in page
    assert "probe-p1" in (out_dir / "drawings" / "switch-on-probes-1.svg").read_text(encoding="utf-8")


def test_a_record_needs_readings(capsys, cabin, tmp_path):
    status, _, err = run(capsys, "bench", cabin, "--record", str(tmp_path / "out"), "--as", "html")
    assert status == 2 and err and "mend" in err
    assert not (tmp_path / "out").exists()


def test_readings_written_on_paper_come_back_into_the_record(capsys, cabin, tmp_path):
    filled = {
        "ready.sheet": "yes",
        "dead.short": "OL",
        "battery.rest.bank": "13,31",
        "converters.desk-supply": "21.5 V",
    }
    path = tmp_path / "plan.csv"
    run(capsys, "bench", cabin, "--csv", str(path))
    with path.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, rows[0].keys())
        writer.writeheader()
        writer.writerows(row | {"value": filled.get(row["step"], ""), "who": "bea"} for row in rows)
    assert run(capsys, "readings", cabin, "--import", str(path))[0] == 0
    run(capsys, "bench", cabin, "--record", str(tmp_path / "out"), "--as", "csv")
    opened = (tmp_path / "out" / "tables" / "commissioning-open.csv").read_text(encoding="utf-8-sig")
    assert "STOP: 21.5 V too high" in opened and "Set-point of desk supply" in opened
    summary = (tmp_path / "out" / "tables" / "commissioning-summary.csv").read_text(encoding="utf-8-sig")
    assert "readings inside their band,3" in summary and "13.31 V" in summary


def test_nobody_measures_nothing(capsys, monkeypatch, cabin):
    status, _, err = walk(capsys, monkeypatch, cabin, more=())
    assert status == 2 and "--who NAME" in err
    status, _, err = walk(capsys, monkeypatch, cabin, "  ", more=())
    assert status == 2 and "--who NAME" in err
