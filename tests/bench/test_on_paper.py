"""Readings from paper: every bad row by its line, nothing twice; and out again as CSV and JSON."""

import csv
import io
import json
import random

import pytest

from bench.small import TEXT
from ohmstead.bench.blank import blank_csv
from ohmstead.bench.on_paper import as_csv, as_json, read_sheet
from ohmstead.bench.plan import plan_of
from ohmstead.bench.reading import TICK, Reading
from ohmstead.bench.rows import Wanted, rescued
from ohmstead.bench.store import open_store, view_store
from ohmstead.network.operate import operate
from ohmstead.site.problems import SiteError
from ohmstead.site.read import read_text


@pytest.fixture(scope="module")
def plan():
    return plan_of(operate(read_text(TEXT)))


def voltage_step(plan):
    return next(s for s in plan.steps if s.point and s.situation and s.dimension == "voltage")


def test_the_blank_sheet_comes_back_filled(plan):
    rows = list(csv.DictReader(io.StringIO(blank_csv(plan))))
    wanted = {s.id: s for s in plan.steps}
    for row in rows:
        step = wanted[row["step"]]
        row["value"], row["who"] = ("yes" if step.asks == "tick" else f"{step.value or 1.0:.9f}"), "ada"
        row["unit"] = {"voltage": "V", "current": "A", "resistance": "Ω", "temperature": "°C"}.get(step.dimension, "")
    out = io.StringIO()
    writer = csv.DictWriter(out, rows[0])
    writer.writeheader()
    writer.writerows(rows)
    sheet = read_sheet(out.getvalue(), "plan.csv", plan)
    assert sheet.problems == ()
    assert len(sheet.readings) == len(plan.steps)
    for reading in sheet.readings:
        step = wanted[reading.step]
        assert reading.revision == plan.revision
        assert reading.value == pytest.approx(1.0 if step.asks == "tick" else step.value or 1.0)
        if step.point and step.situation:
            assert (reading.point, reading.state) == (step.point.id, step.situation.name)


def test_an_empty_sheet_holds_nothing(plan):
    sheet = read_sheet(blank_csv(plan), "plan.csv", plan)
    assert (sheet.readings, sheet.problems, sheet.n_empty) == ((), (), len(plan.steps))


@pytest.mark.parametrize(
    ("row", "says"),
    [
        ("nothing.like.it,25.6,V,ada", "no step 'nothing.like.it'"),
        ("{step},many,V,ada", "'many' cannot be taken"),
        ("{step},25.6,A,ada", "cannot be taken"),
        ("{step},nan,V,ada", "cannot be taken"),
        ("{step},25.6,V,", "who measured"),
    ],
)
def test_a_bad_row_is_told_with_its_line(plan, row, says):
    step = voltage_step(plan).id
    text = f"step,value,unit,who\n{step},25.5,V,ada\n\n{row.format(step=step)}\n{step},25.6,V,ben\n"
    sheet = read_sheet(text, "paper.csv", plan)
    (problem,) = sheet.problems
    assert says in problem.what
    assert (problem.place.file, problem.place.line) == ("paper.csv", 4)
    assert [r.who for r in sheet.readings] == ["ada", "ben"]


def test_a_sheet_without_a_head_is_refused(plan):
    with pytest.raises(SiteError, match="does not name the columns"):
        read_sheet("25.6,V\n", "paper.csv", plan)


@pytest.mark.parametrize(
    "text", ["step;value;unit;who\n{step};25,6;V;ada\n", "﻿step\tvalue\tunit\twho\n{step}\t25,6\tV\tada\n"]
)
def test_decimal_commas_and_other_separators(plan, text):
    (reading,) = read_sheet(text.format(step=voltage_step(plan).id), "paper.csv", plan).readings
    assert reading.value == 25.6


def test_a_sheet_read_twice_is_stored_once(plan, tmp_path):
    step = voltage_step(plan).id
    text = f"step,value,unit,who\n{step},25.5,V,ada\n{step},25.5,V,ada\n{step},25.6,V,ada\n"
    with open_store(tmp_path / "s.readings.db") as store:
        for _ in range(2):
            store.add_all(read_sheet(text, "paper.csv", plan).readings)
        assert [e.reading.value for e in store.entries()] == [25.5, 25.5, 25.6]


def test_what_goes_out_comes_in_again(plan, tmp_path):
    dice = random.Random(1)
    names = ["voltage at block", 'drop "x", y: near +', "µ ± Ω; z"]
    with open_store(tmp_path / "a.readings.db") as store:
        for k in range(40):
            store.add(
                Reading(
                    dice.choice(["voltage", "current", "resistance", "temperature", TICK]), dice.choice(names),
                    float(dice.randint(0, 1)) if k % 3 else dice.uniform(-50, 50), "ada", plan.revision, "on",
                    note="a\nb" if k % 5 == 0 else "", at="2026-11-27T09:14:00Z",
                )
            )  # fmt: skip
        entries = [e for e in store.entries() if e.reading.quantity != TICK or e.reading.value in (0.0, 1.0)]
    sheet = read_sheet("".join(as_csv(entries)), "out.csv", plan)
    assert sheet.problems == ()
    assert [r for r in sheet.readings] == [e.reading for e in entries]
    objects = json.loads("".join(as_json(entries)))
    assert [(o["number"], o["value"]) for o in objects] == [(e.number, e.reading.value) for e in entries]


def test_what_a_damaged_store_still_holds_is_rescued(tmp_path):
    file = tmp_path / "s.readings.db"
    with open_store(file) as store:
        store.add_all(Reading("voltage", "x", float(k), "ada", "0" * 64, note="n" * 300) for k in range(600))
        sound = len(store.entries(Wanted("all")))
    data = bytearray(file.read_bytes())
    data[120_000:150_000] = bytes(30_000)
    file.write_bytes(data)
    with view_store(file) as store:
        with pytest.raises(SiteError, match="damaged"):
            store.entries(Wanted("all"))
        saved = [entry.reading.value for entry in rescued(store.connection)]
    assert 200 < len(saved) < sound
    assert saved == sorted(saved)
