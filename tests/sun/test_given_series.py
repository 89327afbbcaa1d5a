"""A series of the panels' own: sun in their plane, or harvest, by the hour or by the day."""

import numpy as np
import pandas as pd
import pytest

from ohmstead.sun.trouble import WeatherError
from ohmstead.sun.weather import holds_series, read_given, read_hours
from sun.skies import CSV, SKERRY, site, sky, write_csv

ARRAYS = "arrays: {south field: {module power: 200 W, tilt: 50°, azimuth: 180°}}\n"
HEAD = "{file: a.csv, format: csv, columns: {time: stamp, %s}, timezone: UTC, stamps: start}"


def test_harvest_by_the_hour(tmp_path):
    rows = sky(SKERRY, "2021-01-01", "2021-12-31")
    write_csv(tmp_path, rows)
    given = site(HEAD % "harvest of south field: 'GHI [Wh]', air: 'T [°C]'", SKERRY, ARRAYS)
    found = read_given(given, tmp_path)
    assert holds_series(given) == "harvest" and found is not None and found.kind == "harvest"
    assert found.by_array["south field"] == pytest.approx(rows["ghi"].to_numpy(), abs=0.06)
    assert found.hours.air_c == pytest.approx(rows["air"].to_numpy(), abs=0.06)
    assert np.isnan(found.hours.ghi_w_per_m2).all()
    with pytest.raises(WeatherError, match="not the sun"):
        read_hours(given, tmp_path)


def test_harvest_by_the_day_keeps_the_sum_of_each_day(tmp_path):
    days = sky(SKERRY, "2021-01-01", "2021-12-31")["ghi"].resample("D").sum() / 1000
    text = "\n".join(["stamp,P", *(f"{day:%Y-%m-%d},{value:.4f}" for day, value in days.items())])
    (tmp_path / "a.csv").write_text(text + "\n")
    found = read_given(site(HEAD % "harvest: 'P [kWh]'"), tmp_path)
    assert found is not None
    by_day = found.by_array[""].reshape(365, 24)
    assert by_day.sum(axis=1) / 1000 == pytest.approx(days.to_numpy(), abs=1e-3)
    assert by_day[172, 0] < 5 < 50 < by_day[172, 12]
    assert any("spread over its hours" in note for note in found.notes)


def test_plane_in_the_night_is_refused(tmp_path):
    rows = sky(SKERRY, "2021-01-01", "2021-12-31")
    write_csv(tmp_path, pd.DataFrame(np.roll(rows.to_numpy(), 9, axis=0), rows.index, rows.columns))
    with pytest.raises(WeatherError, match="falls into the night"):
        read_given(site(HEAD % "plane: 'GHI [W/m2]', air: 'T [°C]'"), tmp_path)


def test_weather_is_no_series(tmp_path):
    write_csv(tmp_path, sky(SKERRY, "2021-01-01", "2021-12-31"))
    weather = site(CSV % ("UTC", "start"))
    assert holds_series(weather) == "" and read_given(weather, tmp_path) is None
