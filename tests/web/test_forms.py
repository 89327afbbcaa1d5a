"""Forms for every section of the file: written, changed, taken out; what is wrong stands at its field."""

import re
from difflib import ndiff

import pytest

import ohmstead
from ohmstead.web.chapters import CHAPTERS
from web.served import client, filled, mark

REASON = re.compile(r'<strong class="reason" id="told-([\w-]+)">.*?</b> (.*?)</strong>', re.S)


@pytest.fixture
def saltpan(tmp_path):
    return client(filled(tmp_path, "saltpan.yaml")), tmp_path / "saltpan.yaml"


def change(page, route, file="saltpan.yaml", **values):
    return page.post(f"/s/{file}/{route}", data={"mark": mark(page, file), **values})


def difference(before, after):
    return [line for line in ndiff(before.splitlines(), after.splitlines()) if line[0] in "+-"]


def test_every_written_entry_has_a_form_that_changes_nothing_when_sent_back(saltpan):
    """What a form shows is what the file says: sending it back as it came leaves every byte."""
    page, path = saltpan
    before, seen = path.read_text(), set()
    for tab in ("season", "cabinet"):
        for link in re.findall(r'href="(/s/saltpan.yaml/entry\?[^"]+)"', page.get(f"/s/saltpan.yaml/{tab}").text):
            answer = page.get(link.replace("&amp;", "&")).text
            sent = dict(re.findall(r'<input (?:type="hidden" )?name="([^"]+)" value="([^"]*)"', answer))
            sent |= dict(re.findall(r'<textarea class="value" name="([^"]+)"[^>]*>\n(.*?)</textarea>', answer, re.S))
            for name, body in re.findall(r'<select name="([^"]+)">(.*?)</select>', answer, re.S):
                picked = re.search(r"<option selected>([^<]*)", body)
                sent[name] = picked[1] if picked else ""
            sent = {key: value.replace("&#39;", "'").replace("&amp;", "&") for key, value in sent.items()}
            assert page.post("/s/saltpan.yaml/set", data=sent).status_code == 303, link
            assert path.read_text() == before, link
            seen.add(sent["of"])
    assert seen == set(CHAPTERS) - {"battery"}


@pytest.mark.parametrize(
    ("values", "line"),
    [
        ({"of": "site", "key:elevation": "655 m"}, "elevation: 655 m"),
        ({"of": "zones", "name": "desert", "key:air": "-4..48 °C"}, "air: -4..48 °C"),
        ({"of": "weather", "key:years": "12"}, "years: 12"),
        ({"of": "arrays", "name": "east rack", "key:soiling": "7 %"}, "soiling: 7 %"),
        ({"of": "horizon", "key:line": "{0°: 3°, 180°: 1°}"}, "{0°: 3°, 180°: 1°}"),
        ({"of": "obstacles", "name": "mast", "key:top": "9 m"}, "top: 9 m"),
        ({"of": "season", "key:shed": ""}, "start: 90 %}"),
        ({"of": "cabinet", "name": "cabinet", "key:gear": ""}, "- gear"),
        ({"of": "fan", "name": "cabinet", "key:pressure": "90 Pa"}, "pressure: 90 Pa"),
        ({"of": "filter", "name": "cabinet", "key:class": "G4"}, "class: G4"),
        ({"of": "plate", "key:depth": "240 mm"}, "depth: 240 mm"),
        ({"of": "entries", "name": "fan", "key:at": "[270 mm, 0 mm]"}, "at: [270 mm, 0 mm]"),
        ({"of": "mounts", "name": "net switch", "key:hands": "45 mm"}, "hands: 45 mm"),
    ],
)
def test_one_key_of_a_section_changes_alone(saltpan, values, line):
    page, path = saltpan
    before = path.read_text()
    assert change(page, "set", **values).status_code == 303
    lines = difference(before, path.read_text())
    assert len(lines) <= 2 and line in re.sub(r" +", " ", lines[-1]), lines
    ohmstead.open(path)


def test_sun_and_a_goal_are_added_to_a_file_that_has_none(tmp_path):
    """From a cabin with no sun at all: place, weather, array, obstacle, goal; then the obstacle is taken out."""
    folder = filled(tmp_path, "cabin.yaml")
    path = folder / "cabin.yaml"
    text = path.read_text()
    for section in ("weather", "arrays", "shade", "season"):
        text = re.sub(rf"(?m)^{section}:.*\n(?:[ #].*\n|\n)*", "", text)
    path.write_text(re.sub(r"from: sun, array: [^,]+,", "", text))
    page = client(folder)
    one = {"of": "site", "key:latitude": "52.1", "key:longitude": "-3.4"}
    assert change(page, "set", "cabin.yaml", **one).status_code == 303
    means = "0.6 1.2 2.3 3.7 4.7 5 4.7 4 2.9 1.6 0.8 0.5 kWh/m²"
    one = {"of": "weather", "key:monthly sun": means, "key:monthly air": "4 4 6 8 11 14 16 16 13 10 7 5 °C"}
    assert change(page, "set", "cabin.yaml", **one).status_code == 303
    one = {"of": "arrays", "name": "porch roof", "key:module power": "200 W", "key:tilt": "30°", "key:azimuth": "180°"}
    assert change(page, "add", "cabin.yaml", **one).status_code == 303
    before = path.read_text()
    one = {"of": "obstacles", "name": "ash", "key:shape": "tree", "key:north": "-9 m", "key:top": "7 m"}
    assert change(page, "add", "cabin.yaml", **one, **{"key:width": "5 m", "there": "season"}).status_code == 303
    assert change(page, "set", "cabin.yaml", of="season", **{"key:unserved": "2 %"}).status_code == 303
    site = ohmstead.open(path).site
    assert site.obstacles["ash"].north_m == -9 and site.goal.unserved_fraction == pytest.approx(0.02)
    assert change(page, "remove", "cabin.yaml", of="season").status_code == 303
    assert change(page, "remove", "cabin.yaml", of="obstacles", name="ash").status_code == 303
    assert ohmstead.open(path).site.obstacles == {} and before.rstrip() in path.read_text()


def test_a_box_is_added_with_its_zone_and_taken_out_again(tmp_path):
    page, path = client(filled(tmp_path, "cabin.yaml")), tmp_path / "cabin.yaml"
    around = next(iter(ohmstead.open(path).site.zones))
    one = {"of": "cabinet", "name": "cupboard", "around": around, "key:size": "400 x 500 x 200 mm"}
    assert change(page, "add", "cabin.yaml", **one).status_code == 303
    one = {"of": "fan", "name": "cupboard", "key:free flow": "50 m3/h", "key:pressure": "30 Pa", "key:power": "2 W"}
    assert change(page, "add", "cabin.yaml", **one).status_code == 303
    box = ohmstead.open(path).site.cabinets["cupboard"]
    assert box.size_mm == (400, 500, 200) and box.fan.shut_pa == 30
    assert change(page, "remove", "cabin.yaml", of="fan", name="cupboard").status_code == 303
    assert change(page, "remove", "cabin.yaml", of="cabinet", name="cupboard", air="5..30 °C").status_code == 303
    assert ohmstead.open(path).site.cabinets == {}


def test_what_is_wrong_stands_at_its_field_with_what_was_typed(saltpan):
    page, path = saltpan
    before = path.read_text()
    wrong = {"key:tilt": "25", "key:azimuth": "500°", "key:soiling": "7 %"}
    answer = change(page, "set", of="arrays", name="east rack", **wrong)
    assert answer.status_code == 422 and path.read_text() == before
    told = dict(REASON.findall(answer.text))
    assert set(told) == {"tilt", "azimuth"} and "unit" in told["tilt"]
    for key, value in wrong.items():
        assert f'name="{key}" value="{value}"' in answer.text
    assert 'aria-describedby="told-tilt"' in answer.text.replace("&#34;", '"')


def test_a_new_run_that_cannot_be_comes_back_filled(saltpan):
    page, path = saltpan
    before = path.read_text()
    one = {"kind": "run", "key:from": "field block / 9", "key:to": "nobody", "key:length": "4", "key:wire": "1.5 mm2"}
    answer = change(page, "add", **one)
    assert answer.status_code == 422 and path.read_text() == before
    assert {"length"} <= set(dict(REASON.findall(answer.text))) and 'value="field block / 9"' in answer.text
    answer = change(page, "add", kind="device", name="dust sampler", **{"key:input": "42..60 V", "key:draws": "5 W"})
    assert answer.status_code == 422 and "taken" in answer.text and 'value="42..60 V"' in answer.text


def test_an_answer_of_the_first_questions_is_told_at_its_field(tmp_path):
    asked = {"file": "hut", "name": "hut", "chemistry": "LFP", "volts": "12.8 V", "capacity": "100", "distance": "1 m"}
    answer = client(tmp_path).post("/new", data=asked)
    assert answer.status_code == 422 and 'id="told-capacity"' in answer.text and 'value="hut"' in answer.text


def test_a_value_with_a_comma_stays_one_value(saltpan):
    page, path = saltpan
    assert change(page, "set", of="site", **{"key:name": "Salt pan: relay, two"}).status_code == 303
    assert ohmstead.open(path).site.about.name == "Salt pan: relay, two"


def test_a_panel_gets_only_the_form_and_then_the_way_on(saltpan):
    page, _ = saltpan
    head = {"hx-request": "true"}
    values = {"mark": mark(page, "saltpan.yaml"), "of": "arrays", "name": "east rack", "there": "season"}
    answer = page.post("/s/saltpan.yaml/set", data={**values, "key:tilt": "25"}, headers=head)
    assert answer.status_code == 422 and "<html" not in answer.text and 'class="opened"' in answer.text
    answer = page.post("/s/saltpan.yaml/set", data={**values, "key:tilt": "26°"}, headers=head)
    assert answer.status_code == 204 and answer.headers["hx-redirect"] == "/s/saltpan.yaml/season"


def test_a_long_skyline_is_kept_whole_and_a_line_without_end_is_refused(saltpan):
    page, path = saltpan
    line = "{" + ", ".join(f"{azimuth}°: {azimuth % 7}°" for azimuth in range(360)) + "}"
    assert change(page, "set", of="horizon", **{"key:line": line}).status_code == 303
    assert len(ohmstead.open(path).site.horizon.line) == 360
    assert change(page, "set", of="horizon", **{"key:line": line, "key:file": ""}).status_code == 303
    assert len(ohmstead.open(path).site.horizon.line) == 360
    answer = change(page, "set", of="site", **{"key:name": "x" * 30_000})
    assert answer.status_code == 422 and "told-name" in answer.text
