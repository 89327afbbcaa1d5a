"""The sky on the page: obstacles go around at their distance, cost what the command says, and are written alone."""

import math
from difflib import ndiff

import pytest

pytest.importorskip("numpy")

import ohmstead
from ohmstead.cli.main import main
from ohmstead.season.day_picture import costs
from ohmstead.season.shading import shading_of
from ohmstead.sun.weather import read_hours
from web.served import client, filled, mark

FILE = "saltpan.yaml"


@pytest.fixture
def saltpan(tmp_path):
    path = filled(tmp_path, FILE) / FILE
    path.write_text(path.read_text().replace("weather:   ", "weather:\n  years: 1\n ", 1).replace("\n  #", "   #"))
    return client(tmp_path), path


def look(page, **query):
    return page.get(f"/s/{FILE}/sky", params={"array": "west rack", **query})


def test_a_drag_aside_goes_around_at_the_same_distance(saltpan):
    page, path = saltpan
    before = path.read_text()
    mast = ohmstead.open(path).site.obstacles["mast"]
    shown = look(page).json()
    one, degree = shown["obstacles"][0], shown["degree"]
    away = look(page, drag="mast", x=str(one["x"] + 20 * degree[0]), y=str(one["y"])).json()["obstacles"][0]
    east, north, top = (float(away[key]) for key in ("east", "north", "top"))
    distance = math.hypot(mast.east_m, mast.north_m)
    assert math.hypot(east, north) == pytest.approx(distance, abs=0.01) and top == pytest.approx(mast.top_m, abs=0.05)
    turned = math.degrees(math.atan2(east, north) - math.atan2(mast.east_m, mast.north_m)) % 360
    assert turned == pytest.approx(20, abs=0.2) and path.read_text() == before


def test_a_drag_upwards_raises_its_top_alone(saltpan):
    page, path = saltpan
    mast = ohmstead.open(path).site.obstacles["mast"]
    shown = look(page, **{"top:mast": "2"}).json()
    one, degree = shown["obstacles"][0], shown["degree"]
    query = {"top:mast": "2", "drag": "mast", "x": str(one["x"]), "y": str(one["y"] - 10 * degree[1])}
    away = look(page, **query).json()["obstacles"][0]
    distance = math.hypot(mast.east_m, mast.north_m)
    angle = math.degrees(math.atan2(2, distance)) + 10
    assert float(away["top"]) == pytest.approx(distance * math.tan(math.radians(angle)), abs=0.01)
    assert float(away["east"]) == pytest.approx(mast.east_m, abs=0.01)


def test_what_it_costs_is_what_the_command_says(saltpan, capsys):
    """The picture of costs is made of the figures of `ohmstead shade` on a file written with the same places."""
    page, path = saltpan
    shown = look(page, costs="yes", **{"east:mast": "-2", "top:mast": "9"}).json()["costs"]
    values = {"mark": mark(page, FILE), "array": "west rack", "east:mast": "-2", "top:mast": "9"}
    assert page.post(f"/s/{FILE}/sky", data=values).status_code == 303
    site = ohmstead.open(path).site
    found = shading_of(site, read_hours(site))
    assert costs(found, site.about.name) == shown
    assert main(["shade", str(path)]) == 0 and "mast" in capsys.readouterr().out
    assert f">{found.costs_wh['mast'].sum() / 365:.0f}<" in shown


def test_only_what_was_moved_is_written_and_undone(saltpan):
    page, path = saltpan
    before = path.read_text()
    values = {"mark": mark(page, FILE), "array": "west rack", "east:mast": "-4", "north:mast": "-2", "top:mast": "6.5"}
    assert page.post(f"/s/{FILE}/sky", data=values).headers["location"].endswith("/season")
    lines = [line for line in ndiff(before.splitlines(), path.read_text().splitlines()) if line[0] in "+-"]
    assert len(lines) == 2 and "east: -4 m, north: -2 m, top: 6.5 m" in lines[1]
    page.post(f"/s/{FILE}/step", data={"mark": mark(page, FILE), "direction": "undo"})
    assert path.read_text() == before


def test_an_obstacle_that_somebody_else_moved_is_shown_with_what_was_typed(saltpan):
    page, path = saltpan
    seen = mark(page, FILE)
    path.write_text(path.read_text().replace("top: 8 m", "top: 7 m"))
    values = {"mark": seen, "array": "west rack", "top:mast": "6.5"}
    answer = page.post(f"/s/{FILE}/sky", data=values)
    assert answer.status_code == 409 and 'name="top:mast" value="6.5"' in answer.text and "top: 7 m" in path.read_text()


@pytest.mark.parametrize("figure", ["", "nan", "inf", "high"])
def test_figures_that_are_none_are_refused(saltpan, figure):
    page, path = saltpan
    before = path.read_text()
    assert look(page, **{"top:mast": figure}).status_code == 422
    assert look(page, drag="nobody", x="1", y="1").status_code == 422
    assert page.get(f"/s/{FILE}/sky", params={"array": "none"}).status_code == 404
    values = {"mark": mark(page, FILE), "top:mast": figure}
    assert page.post(f"/s/{FILE}/sky", data=values).status_code == 422 and path.read_text() == before


def test_weather_outside_the_folder_is_not_read(saltpan, tmp_path):
    page, path = saltpan
    outside = tmp_path.parent / "outside.csv"
    outside.write_text("secret\n")
    text = path.read_text()
    at = text.index("weather:")
    end = text.index("\narrays:")
    columns = "columns: {time: a, sun: b}, timezone: UTC, stamps: start"
    weather = f"weather: {{file: ../{outside.name}, format: csv, {columns}}}\n"
    path.write_text(text[:at] + weather + text[end:])
    assert look(page).status_code == 404
    values = {"mark": mark(page, FILE), "work": "years", "do": "start"}
    assert page.post(f"/s/{FILE}/season", data=values).status_code == 404
    answer = page.get(f"/s/{FILE}/season")
    assert answer.status_code == 200 and "secret" not in answer.text


def test_a_weather_file_is_found_beside_the_site_file(saltpan, tmp_path):
    """Wherever the page was started: the tests run in another folder than the one of the file."""
    from datetime import datetime, timedelta

    page, path = saltpan
    begin = datetime(2021, 1, 1)

    def sun_at(day, hour):
        return round((300 - 20 * (day % 5)) * math.sin(math.pi * (hour - 6) / 10)) if 6 <= hour < 16 else 0

    rows = [f"{begin + timedelta(hours=hour)},{sun_at(hour // 24, hour % 24)},{15 + hour % 11}" for hour in range(8760)]
    (tmp_path / "mast.csv").write_text("\n".join(["t,GHI [W/m2],T [°C]", *rows]) + "\n")
    text = path.read_text()
    columns = "columns: {time: t, sun: 'GHI [W/m2]', air: 'T [°C]'}, timezone: UTC, stamps: start"
    weather = f"weather: {{file: mast.csv, format: csv, {columns}}}\n"
    path.write_text(text[: text.index("weather:")] + weather + text[text.index("\narrays:") :])
    answer = look(page)
    assert answer.status_code == 200, answer.text
    assert "<svg" in answer.json()["svg"]
