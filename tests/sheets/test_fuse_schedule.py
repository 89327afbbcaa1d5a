"""The fuse schedule: every figure is an object's, and what goes dark is what the example says by hand."""

from pathlib import Path

import pytest

from ohmstead import study
from ohmstead.quantity.show import show
from ohmstead.sheets import fuse_schedule
from ohmstead.sheets.document import Caution, Terms
from sheets.shown import SITES, drawn, plain_runs, raw, tables


@pytest.mark.parametrize("name", SITES)
def test_every_fuse_of_the_file_stands_once_with_its_rating(name: str) -> None:
    fused = [run for run in plain_runs(SITES[name]) if "fuse" in run]
    wanted = sorted((run["from"], run["to"], run["fuse"].split()[0]) for run in fused)
    _, found = drawn(fuse_schedule, SITES[name])
    rows = [row for table in found.values() for row in raw(table) if row["rating_a"] is not None]
    assert sorted((row["from"], row["to"], f"{row['rating_a']:g}") for row in rows) == wanted


@pytest.mark.parametrize("name", SITES)
def test_currents_are_those_of_the_named_cases(name: str) -> None:
    opened, found = drawn(fuse_schedule, SITES[name])
    numbers = {(str(run.start), str(run.end)): run.number for run in opened.site.runs}
    checked = 0
    for table in found.values():
        for printed, row in zip(table.rows, raw(table), strict=True):
            for column, kind in enumerate(("idle", "working", "start"), start=5):
                if row[f"{kind}_a"] is None:
                    assert printed[column] in ("–", "")
                    continue
                case = opened.operation.point(row[f"{kind}_case"])
                current = abs(opened.operation.run_a(case, numbers[row["from"], row["to"]]))
                assert row[f"{kind}_a"] == pytest.approx(current, abs=1e-6)
                assert printed[column] == show(current if current >= 1e-3 else 0.0, "current", 2)
                checked += 1
    assert checked > 10


def test_cases_are_the_right_ones() -> None:
    _, found = drawn(fuse_schedule, SITES["observatory"])
    rows = {(row["from"], row["to"]): row for table in found.values() for row in raw(table)}
    bank = rows["bank", "bank switch"]
    assert bank["idle_case"].startswith("nominal-") and bank["idle_case"].endswith("-idle")
    assert bank["working_case"].startswith("nominal-") and "-busy" in bank["working_case"]
    assert bank["start_case"] == "low-hot-all-start"
    assert bank["idle_a"] < bank["working_a"] < bank["start_a"]
    assert rows["sun charger", "bank switch"]["working_a"] == pytest.approx(40.0, rel=0.01)  # its stated current
    assert rows["hide block / 3", "hide lamps"]["start_a"] is None  # lamps do not start
    # 18 W of lamps from a bank that rests near 26.5 V
    assert rows["hide block / 3", "hide lamps"]["working_a"] == pytest.approx(18 / 26.2, rel=0.03)


DARK = {
    ("cabinet block / 1", "net supply"): "east camera, west camera, burrow camera",
    ("cabinet block / 2", "rack supply"): "recorder",
    ("cabinet block / 3", "radio supply"): "router, ship receiver, weather mast, display, bird radar",
    ("cabinet block / 5", "ridge link"): "ridge link",
    ("main bar", "hide block"): "fridge, water pump, hide lamps, loft lamp, hide socket",
    ("sun charger", "bank switch"): "",
}


def test_what_goes_dark_is_read_off_the_example_by_hand() -> None:
    opened, found = drawn(fuse_schedule, SITES["observatory"])
    rows = {(row["from"], row["to"]): row for table in found.values() for row in raw(table)}
    assert {ends: rows[ends]["goes_dark"] for ends in DARK} == DARK
    bank = rows["bank", "bank switch"]
    assert bank["goes_dark"] == ""  # the charger still feeds the switch
    assert len(bank["by_charger_only"].split(", ")) == len(opened.evidence.devices) == 20


def test_one_of_two_batteries_leaves_everything_alight() -> None:
    _, found = drawn(fuse_schedule, SITES["salt pan"])
    table = found["fuses-in-line"]
    by_place = {row["from"]: (printed[8], row) for printed, row in zip(table.rows, raw(table), strict=True)}
    assert by_place["north bank"][0] == by_place["south bank"][0] == "nothing: fed another way too"
    assert by_place["bank bar"][0] == "everything (7 devices)"


def test_spare_ways_are_counted() -> None:
    _, found = drawn(fuse_schedule, SITES["observatory"])
    rows = found["fuses-hide-block"].rows
    assert [row[0] for row in rows] == [str(way) for way in range(1, 9)]
    assert [row[1] for row in rows].count("spare") == 3
    assert found["fuses-hide-block"].caption == "5 of 8 ways used, 3 spare."


@pytest.mark.parametrize(("name", "arc"), [("cabin", ""), ("observatory", "An arc may"), ("salt pan", "AN ARC WILL")])
def test_cautions_go_with_the_voltage(name: str, arc: str) -> None:
    document = fuse_schedule.draw(study.open_site(SITES[name]), Terms())
    (lines,) = [" ".join(block.lines) for block in document.blocks if isinstance(block, Caution)]
    assert (arc in lines) if arc else ("arc" not in lines.lower())
    assert "Never a larger one" in lines


def test_a_failing_site_and_open_choices_still_get_their_schedule(tmp_path: Path) -> None:
    opened, found = drawn(fuse_schedule, SITES["six mistakes"])
    assert opened.verdict == "fails"
    assert found
    text = (
        SITES["cabin"]
        .read_text(encoding="utf-8")
        .replace("fuse: 3 A blade", "fuse: choose")
        .replace("wire: 6 mm2", "wire: choose")
    )
    path = tmp_path / "open.yaml"
    path.write_text(text, encoding="utf-8")
    rows = tables(fuse_schedule.draw(study.open_site(path), Terms()))["fuses-fuse-block"].rows
    assert rows[0][2] == "not yet chosen"
    assert rows[1][4].endswith("not yet chosen")
