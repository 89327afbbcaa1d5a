"""Fetching from NASA POWER against an answer of our own making in its documented form, served on this machine."""

import json
import threading
from collections.abc import Iterator
from http.server import BaseHTTPRequestHandler, HTTPServer
from pathlib import Path
from urllib.parse import parse_qs, urlparse

import numpy as np
import pytest

from ohmstead.cli.main import main
from ohmstead.sun import fetch
from ohmstead.sun.trouble import WeatherError
from ohmstead.sun.weather import read_hours
from sun.skies import SKERRY, site, sky


def answer(year: int, holes: int = 0) -> dict:
    """One year as the hourly service answers: GeoJSON, stamps as YYYYMMDDHH, -999 for what is missing."""
    rows = sky(SKERRY, "2019-01-01", "2021-12-31").loc[str(year)]
    stamps = [f"{t:%Y%m%d%H}" for t in rows.index]
    names = {"ALLSKY_SFC_SW_DWN": "ghi", "ALLSKY_SFC_SW_DNI": "dni", "ALLSKY_SFC_SW_DIFF": "dhi", "T2M": "air"}
    series = {name: dict(zip(stamps, rows[column].round(2).tolist(), strict=True)) for name, column in names.items()}
    series["WS10M"] = dict.fromkeys(stamps, 6.5)
    for stamp in stamps[4000 : 4000 + holes]:
        series["ALLSKY_SFC_SW_DWN"][stamp] = -999.0
    return {
        "type": "Feature",
        "geometry": {"type": "Point", "coordinates": [SKERRY[1], SKERRY[0], 12.0]},
        "properties": {"parameter": series},
        "header": {"title": "made for a test", "api": {"name": "made"}, "sources": ["made"], "fill_value": -999.0,
                   "time_standard": "UTC", "start": f"{year}0101", "end": f"{year}1231"},
        "messages": [], "parameters": {name: {"units": "?", "longname": name} for name in series},
        "times": {"data": 0.1, "process": 0.1},
    }  # fmt: skip


class Service(BaseHTTPRequestHandler):
    asked: list[dict] = []
    broken = ""

    def do_GET(self) -> None:
        query = {key: values[0] for key, values in parse_qs(urlparse(self.path).query).items()}
        Service.asked.append(query)
        fine = not Service.broken
        body = json.dumps(answer(int(query["start"][:4]), holes=2) if fine else {"messages": [Service.broken]}).encode()
        self.send_response(200 if fine else 422)
        self.send_header("Content-Type", "application/json")
        self.end_headers()
        self.wfile.write(body)

    def log_message(self, *_: object) -> None:
        pass


@pytest.fixture
def service() -> Iterator[str]:
    server = HTTPServer(("127.0.0.1", 0), Service)
    Service.asked, Service.broken = [], ""
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}/hourly"
    server.shutdown()
    server.server_close()


def test_years_are_fetched_once_and_read(service: str, tmp_path: Path) -> None:
    path = fetch.fetch_weather(*SKERRY, (2019, 2021), tmp_path, service)
    assert [query["start"] for query in Service.asked] == ["20190101", "20200101", "20210101"]
    assert all(query["time-standard"] == "utc" and query["community"] == "re" for query in Service.asked)
    fetch.fetch_weather(*SKERRY, (2019, 2021), tmp_path, service)
    assert len(Service.asked) == 3
    hours = read_hours(site(f"{{file: {path.name}, format: nasa power}}"), tmp_path)
    rows = sky(SKERRY, "2019-01-01", "2021-12-31")
    rows = rows[~((rows.index.month == 2) & (rows.index.day == 29))]
    known = np.ones(len(rows), dtype=bool)
    assert hours.n_year == 3 and hours.wind_m_per_s is not None and set(hours.wind_m_per_s) == {6.5}
    for start in (4000, 8760 + 4000 - 24, 17520 + 4000):
        known[start : start + 2] = False
    assert hours.ghi_w_per_m2[known] == pytest.approx(rows["ghi"].to_numpy()[known], abs=0.01)
    assert any("sun: 6 missing hours" in note for note in hours.notes)
    assert any("leap day" in note for note in hours.notes)


def test_an_answer_kept_as_json_is_read(tmp_path: Path) -> None:
    (tmp_path / "a.json").write_text(json.dumps(answer(2021)))
    hours = read_hours(site("{file: a.json, format: nasa power}", None), tmp_path)
    assert hours.n_year == 1 and hours.elevation_m == 12.0 and hours.timezone == "UTC"
    rows = sky(SKERRY, "2019-01-01", "2021-12-31").loc["2021"]
    assert hours.ghi_w_per_m2 == pytest.approx(rows["ghi"].to_numpy(), abs=0.01)


def test_a_refusal_of_the_service_is_told_and_leaves_nothing(service: str, tmp_path: Path) -> None:
    Service.broken = "point is out of range"
    with pytest.raises(WeatherError) as error:
        fetch.fetch_weather(*SKERRY, (2019, 2019), tmp_path, service)
    assert "year 2019 did not come" in str(error.value) and "out of range" in str(error.value)
    assert list(tmp_path.iterdir()) == []


def test_no_service_is_told(tmp_path: Path) -> None:
    with pytest.raises(WeatherError, match="did not come"):
        fetch.fetch_weather(*SKERRY, (2019, 2019), tmp_path, "http://127.0.0.1:9/hourly")
    with pytest.raises(WeatherError, match="cannot be fetched"):
        fetch.fetch_weather(*SKERRY, (2021, 2019), tmp_path, "http://127.0.0.1:9/hourly")


def test_the_command_fetches_and_says_what_to_write(service, tmp_path, monkeypatch, capsys) -> None:
    monkeypatch.setattr(fetch, "SERVICE", service)
    file = tmp_path / "skerry.yaml"
    battery = "battery: {bank: {chemistry: LFP, cells: 8, capacity: 280 Ah}}\n"
    text = "ohmstead: 1\nsite: {name: Skerry, latitude: 57.6, longitude: -7.5}\n" + battery
    file.write_text(text)
    assert main(["weather", str(file), "--fetch", "--from", "2020", "--to", "2021"]) == 0
    said = capsys.readouterr().out
    line = next(line for line in said.splitlines() if line.startswith("weather: "))
    file.write_text(text + line + "\n")
    assert main(["weather", str(file)]) == 0
    assert "2 years of hours from 2020" in capsys.readouterr().out
