"""The plate: looked at with parts moved, written with its places alone, proposed in the background."""

import time
from difflib import ndiff

import pytest

import ohmstead
from ohmstead.plan.moved import freed, moved, wire_m
from ohmstead.plan.plan import plan_of
from web.served import client, filled, mark

FILE = "saltpan.yaml"


@pytest.fixture
def saltpan(tmp_path):
    return client(filled(tmp_path, FILE)), tmp_path / FILE


def look(page, **places):
    query = {}
    for name, (right, down) in places.items():
        query |= {f"right:{name.replace('_', ' ')}": str(right), f"down:{name.replace('_', ' ')}": str(down)}
    return page.get(f"/s/{FILE}/plate/look", params=query)


def lengths(answer):
    return {wire["name"]: float(wire["length"].split()[0]) for wire in answer.json()["wires"]}


def test_wires_follow_a_part_that_is_moved_and_nothing_is_written(saltpan):
    page, path = saltpan
    before = path.read_text()
    still, away = look(page), look(page, net_switch=(350, 555))
    assert still.status_code == away.status_code == 200 and path.read_text() == before
    moved_ones = {name for name, length in lengths(still).items() if lengths(away)[name] != length}
    assert moved_ones and all("net switch" in name for name in moved_ones)
    corners = {part["name"]: (part["right"], part["down"]) for part in away.json()["parts"]}
    assert corners["net switch"] == (350, 555)
    assert corners["field block"] == plan_of(ohmstead.open(path).site).stand("field block").corner


def test_the_lengths_shown_are_those_of_the_file_once_it_is_written(saltpan):
    """The same figures as `ohmstead plan` on the written file."""
    page, path = saltpan
    before = path.read_text()
    shown = lengths(look(page, net_switch=(350, 555)))
    values = {"mark": mark(page, FILE), "do": "write", "right:net switch": "350", "down:net switch": "555"}
    assert page.post(f"/s/{FILE}/plate", data=values).status_code == 303
    lines = [line for line in ndiff(before.splitlines(), path.read_text().splitlines()) if line[0] in "+-"]
    assert len(lines) == 2 and "at: [350 mm, 555 mm]" in lines[1]
    found = plan_of(ohmstead.open(path).site)
    assert {led.name: pytest.approx(led.length_m, rel=5e-3) for led in found.wires} == shown
    step = {"mark": mark(page, FILE), "direction": "undo", "there": "cabinet"}
    assert page.post(f"/s/{FILE}/step", data=step).headers["location"].endswith("/cabinet")
    assert path.read_text() == before


def test_parts_upon_each_other_are_told(saltpan):
    page, _ = saltpan
    query = {"right:net switch": "210", "down:net switch": "565", "check": "yes"}
    found = page.get(f"/s/{FILE}/plate/look", params=query).json()
    assert found["told"] or any(one["rule"] == "part-does-not-fit" for one in found["found"])


@pytest.mark.parametrize("figure", ["", "nan", "1e99", "here"])
def test_a_place_that_is_none_is_refused(saltpan, figure):
    page, path = saltpan
    before = path.read_text()
    values = {"right:net switch": figure, "down:net switch": "560"}
    assert page.get(f"/s/{FILE}/plate/look", params=values).status_code == 422
    values |= {"mark": mark(page, FILE), "do": "write"}
    assert page.post(f"/s/{FILE}/plate", data=values).status_code == 422 and path.read_text() == before
    strange = {"right:nobody": "1", "down:nobody": "1", "mark": mark(page, FILE), "do": "write"}
    assert page.post(f"/s/{FILE}/plate", data=strange).status_code == 404


def test_places_of_two_people_do_not_overwrite_each_other(saltpan):
    page, path = saltpan
    seen = mark(page, FILE)
    one = {"mark": seen, "do": "write", "right:net switch": "350", "down:net switch": "555"}
    assert page.post(f"/s/{FILE}/plate", data=one).status_code == 303
    text = path.read_text()
    answer = page.post(f"/s/{FILE}/plate", data={**one, "right:net switch": "340"})
    assert answer.status_code == 409 and path.read_text() == text
    assert 'name="right:net switch" value="340"' in answer.text
    path.write_text(text.replace("gear: 18 kg", "gear: 19 kg"))  # elsewhere: no hindrance
    seen = answer.text.split('name="mark" value="')[1].split('"')[0]
    assert page.post(f"/s/{FILE}/plate", data={**one, "mark": seen, "right:net switch": "340"}).status_code == 303
    assert "gear: 19 kg" in path.read_text() and "at: [340 mm, 555 mm]" in path.read_text()


def test_places_without_a_way_for_a_wire_come_back_as_they_were_typed(saltpan):
    page, path = saltpan
    before = path.read_text()
    values = {"mark": mark(page, FILE), "do": "write", "right:rack supply": "300", "down:rack supply": "100"}
    answer = page.post(f"/s/{FILE}/plate", data=values)
    assert answer.status_code == 422 and path.read_text() == before
    assert "no way on the plate" in answer.text and 'name="right:rack supply" value="300"' in answer.text


def test_places_are_found_in_the_background_and_written(saltpan):
    pytest.importorskip("ortools")
    page, path = saltpan
    values = {"mark": mark(page, FILE)}
    assert page.post(f"/s/{FILE}/plate", data={**values, "do": "start"}).status_code == 303
    for _ in range(600):
        state = page.get(f"/s/{FILE}/plate/places").json()["state"]
        if state not in ("waiting", "running"):
            break
        time.sleep(0.1)
    assert state == "done"
    assert page.post(f"/s/{FILE}/plate", data={**values, "do": "take"}).status_code == 303
    site = ohmstead.open(path).site
    assert all(site.plate.mounts[stand.name].at_mm == stand.corner for stand in plan_of(site).stands)
    assert wire_m(plan_of(site)) == pytest.approx(wire_m(plan_of(freed(site))))


def test_a_plan_moved_to_where_it_stands_is_the_same_plan(saltpan):
    _, path = saltpan
    site = ohmstead.open(path).site
    plan = plan_of(site)
    again = plan_of(moved(site, plan, {}))
    assert again.lengths_m() == plan.lengths_m()
    with pytest.raises(KeyError):
        moved(site, plan, {"nobody": (0.0, 0.0)})
