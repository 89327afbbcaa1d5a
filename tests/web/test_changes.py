"""Changes through the page: only the value asked for changes, nobody is overwritten, everything can be undone."""

from difflib import ndiff

import pytest

import ohmstead
from web.served import client, filled, mark


def difference(before, after):
    return [line for line in ndiff(before.splitlines(), after.splitlines()) if line[0] in "+-"]


@pytest.fixture
def desk(tmp_path):
    return client(filled(tmp_path)), tmp_path / "cabin.yaml"


def change(page, route, **values):
    return page.post(f"/s/cabin.yaml/{route}", data={"mark": mark(page, "cabin.yaml"), **values})


def test_one_key_changes_and_comments_stay(desk):
    page, path = desk
    before = path.read_text()
    name = next(name for name in ohmstead.open(path).site.parts if "draws" in before and name)
    run = ohmstead.open(path).site.runs[-1].name
    assert change(page, "set", name=run, **{"key:length": "3.3 m"}).status_code == 303
    lines = difference(before, path.read_text())
    assert len(lines) == 2 and "3.3 m" in lines[1] and name
    assert ohmstead.open(path).site.runs[-1].length_m == pytest.approx(3.3)


def test_undo_and_redo(desk):
    page, path = desk
    before = path.read_text()
    run = ohmstead.open(path).site.runs[-1].name
    change(page, "set", name=run, **{"key:length": "3.3 m"})
    after = path.read_text()
    assert change(page, "step", direction="undo").status_code == 303 and path.read_text() == before
    assert change(page, "step", direction="redo").status_code == 303 and path.read_text() == after
    assert change(page, "step", direction="redo").status_code == 422 and path.read_text() == after


def test_a_file_changed_meanwhile_is_not_overwritten(desk):
    page, path = desk
    old = mark(page, "cabin.yaml")
    run = ohmstead.open(path).site.runs[-1].name
    change(page, "set", name=run, **{"key:length": "2.7 m"})
    theirs = path.read_text() + "# a note from the editor\n"
    path.write_text(theirs)
    answer = page.post("/s/cabin.yaml/set", data={"mark": old, "name": run, "key:length": "3.3 m"})
    assert answer.status_code == 409 and path.read_text() == theirs
    assert "Nothing was overwritten" in answer.text


def test_two_windows_cannot_undo_each_other(desk):
    page, path = desk
    run = ohmstead.open(path).site.runs[-1].name
    stale = mark(page, "cabin.yaml")
    change(page, "set", name=run, **{"key:length": "3.3 m"})
    kept = path.read_text()
    assert page.post("/s/cabin.yaml/file", data={"mark": stale, "text": "ohmstead: 1\n"}).status_code == 409
    assert path.read_text() == kept


def test_a_value_that_cannot_be_is_refused_with_the_reason(desk):
    page, path = desk
    before = path.read_text()
    run = ohmstead.open(path).site.runs[-1].name
    answer = change(page, "set", name=run, **{"key:length": "3.3"})
    assert answer.status_code == 422 and "unit" in answer.text
    assert path.read_text() == before


def test_parts_and_runs_come_and_go(desk):
    page, path = desk
    before = path.read_text()
    values = {"kind": "device", "name": "porch lamp", "key:input": "10..15 V", "key:draws": "5 W"}
    assert change(page, "add", **values).status_code == 303
    start = next(name for name, part in ohmstead.open(path).site.parts.items() if part.kind == "distribution")
    run = {
        "kind": "run",
        "key:from": f"{start} / 6",
        "key:to": "porch lamp",
        "key:length": "4 m",
        "key:wire": "1.5 mm2",
    }
    assert change(page, "add", **run, **{"key:fuse": "3 A blade"}).status_code == 303
    site = ohmstead.open(path).site
    assert "porch lamp" in site.parts and any(run.end.part == "porch lamp" for run in site.runs)
    assert change(page, "remove", name="porch lamp").status_code == 303
    assert path.read_text() == before


def test_a_finding_is_accepted_with_a_reason(tmp_path):
    page = client(filled(tmp_path))
    path = tmp_path / "skerry.yaml"
    found = ohmstead.open(path).findings[0]
    values = {"mark": mark(page, "skerry.yaml"), "finding": f"{found.rule}|{found.subject}"}
    assert page.post("/s/skerry.yaml/accept", data={**values, "because": " "}).status_code == 422
    answer = page.post("/s/skerry.yaml/accept", data={**values, "because": "seen, and safe: a note, by us"})
    assert answer.status_code == 303
    again = next(f for f in ohmstead.open(path).findings if (f.rule, f.subject) == (found.rule, found.subject))
    assert again.accepted == "seen, and safe: a note, by us"


def test_a_half_written_file_is_kept_and_told(desk):
    page, path = desk
    text = path.read_text().replace("length:", "lenght:", 1)
    assert change(page, "file", text=text).status_code == 303
    assert path.read_text() == text
    answer = page.get("/s/cabin.yaml")
    assert answer.status_code == 422 and "lenght" in answer.text and "length" in answer.text


def test_choices_are_taken_one_by_one(tmp_path):
    folder = filled(tmp_path, "skerry-open.yaml")
    page, path = client(folder), folder / "skerry-open.yaml"
    before = path.read_text()
    answer = page.get("/s/skerry-open.yaml/choices").text
    first = answer.split('name="take:')[1].split('"')[0]
    data = {"mark": mark(page, "skerry-open.yaml"), f"take:{first}": "on"}
    assert page.post("/s/skerry-open.yaml/choices", data=data).status_code == 303
    lines = difference(before, path.read_text())
    assert (
        len([line for line in lines if line.startswith("+")]) == 1
        and "choose" not in path.read_text()[int(first) : int(first) + 6]
    )


def test_a_first_file_from_a_few_answers(tmp_path):
    page = client(tmp_path)
    asked = {
        "file": "hut",
        "name": "Tarn hut",
        "chemistry": "LFP",
        "volts": "12.8 V",
        "capacity": "100 Ah",
        "distance": "1 m",
    }
    lamp = {"device0": "lamps", "window0": "10..15 V", "power0": "12 W", "way0": "4 m"}
    assert page.post("/new", data={**asked, **lamp}).headers["location"].endswith("/s/hut.yaml")
    assert "lamps" in ohmstead.open(tmp_path / "hut.yaml").site.parts
    assert page.post("/new", data={**asked, **lamp}).status_code == 422
    wrong = page.post("/new", data={**asked, "file": "b", "capacity": "100"})
    assert wrong.status_code == 422 and not (tmp_path / "b.yaml").exists()
    assert (
        page.post("/new", data={**asked, "file": "../b"}).status_code == 422
        and not (tmp_path.parent / "b.yaml").exists()
    )
