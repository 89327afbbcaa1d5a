"""Files of hours: read, laid on whole years, refused with reason."""

import shutil
from pathlib import Path

import numpy as np
import pandas as pd
import pvlib
import pytest

from ohmstead.sun.hours import HOURS_A_YEAR
from ohmstead.sun.trouble import WeatherError
from ohmstead.sun.weather import read_hours
from sun.skies import CSV, SKERRY, site, sky, write_csv, write_epw

DATA = Path(pvlib.__file__).parent / "data"


def refusal(error: pytest.ExceptionInfo[WeatherError]) -> str:
    return " ".join(str(error.value).split())


def test_a_csv_year_comes_back(tmp_path):
    rows = sky(SKERRY, "2021-01-01", "2021-12-31")
    write_csv(tmp_path, rows)
    hours = read_hours(site(CSV % ("UTC", "start")), tmp_path)
    assert hours.n_year == 1 and hours.timezone == "UTC" and set(hours.year) == {2021}
    assert hours.ghi_w_per_m2 == pytest.approx(rows["ghi"].to_numpy(), abs=0.06)
    assert hours.air_c == pytest.approx(rows["air"].to_numpy(), abs=0.06)
    assert hours.start_utc_s[0] == pd.Timestamp("2021-01-01", tz="UTC").timestamp()
    assert hours.dhi_w_per_m2 == pytest.approx(rows["dhi"].to_numpy(), abs=3)  # by the same published split
    assert any("Erbs" in note for note in hours.notes)


@pytest.mark.parametrize("stamps, minutes", [("middle", 30), ("end", 60)])
def test_stamps_are_taken_as_stated(tmp_path, stamps, minutes):
    rows = sky(SKERRY, "2021-01-01", "2021-12-31")
    write_csv(tmp_path, rows.shift(freq=f"{minutes}min"))
    hours = read_hours(site(CSV % ("UTC", stamps)), tmp_path)
    assert hours.start_utc_s[0] == pd.Timestamp("2021-01-01", tz="UTC").timestamp()
    assert hours.ghi_w_per_m2 == pytest.approx(rows["ghi"].to_numpy(), abs=0.06)


def test_a_clock_with_summer_time_is_followed(tmp_path):
    rows = sky(SKERRY, "2021-01-01", "2021-12-31")
    write_csv(tmp_path, rows, "Europe/London")
    hours = read_hours(site(CSV % ("Europe/London", "start")), tmp_path)
    assert hours.ghi_w_per_m2 == pytest.approx(rows["ghi"].to_numpy(), abs=0.06)


def test_a_clock_with_summer_time_in_a_fixed_zone_is_found(tmp_path):
    rows = sky(SKERRY, "2021-01-01", "2021-12-31")
    local = rows.tz_convert("Europe/London").tz_localize(None)
    kept = local[~local.index.duplicated()].tz_localize("UTC")
    write_csv(tmp_path, kept)
    with pytest.raises(WeatherError) as error:
        read_hours(site(CSV % ("UTC", "start")), tmp_path)
    assert "put forward in summer" in refusal(error)


@pytest.mark.parametrize("wrong", [-9, -5, -2, -1, 1, 2, 5, 8])
def test_a_wrong_zone_is_found_with_its_size(tmp_path, wrong):
    write_csv(tmp_path, sky(SKERRY, "2021-01-01", "2021-12-31").shift(freq=f"{wrong}h"))
    rows = pd.read_csv(tmp_path / "a.csv")
    rows[rows["stamp"].str.startswith("2021")].to_csv(tmp_path / "a.csv", index=False)
    with pytest.raises(WeatherError) as error:
        read_hours(site(CSV % ("UTC", "start")), tmp_path)
    late = "late" if wrong > 0 else "early"
    assert f"stands {abs(wrong)} h too {late}" in refusal(error)
    assert f"zone is about UTC{wrong:+d}" in refusal(error)


def test_half_an_hour_is_told(tmp_path):
    write_csv(tmp_path, sky(SKERRY, "2021-01-01", "2021-12-31").shift(freq="30min"))
    hours = read_hours(site(CSV % ("UTC", "start")), tmp_path)
    assert any("hours begin 30 minutes past" in note for note in hours.notes)
    assert any("stands 30 min too late" in note for note in hours.notes)


def test_half_hour_zones_are_right(tmp_path):
    spot = (28.6, 77.2)
    rows = sky(spot, "2020-12-31", "2021-12-31", 30)
    rows = rows[["ghi", "air"]].shift(freq="330min").tz_localize(None)  # by the clock of Delhi, rows every half hour
    rows = rows["2021-01-01":"2021-12-31"].resample("h").mean().tz_localize("UTC")
    write_csv(tmp_path, rows)
    hours = read_hours(site(CSV % ("UTC+5:30", "start"), spot), tmp_path)
    assert hours.timezone == "UTC+5:30" and hours.start_utc_s[0] % 3600 == 1800
    assert not any("stands" in note for note in hours.notes)


def test_rows_finer_than_an_hour_are_averaged(tmp_path):
    rows = sky(SKERRY, "2021-01-01", "2021-12-31", 30)
    write_csv(tmp_path, rows)
    hours = read_hours(site(CSV % ("UTC", "start")), tmp_path)
    assert hours.ghi_w_per_m2 == pytest.approx(rows["ghi"].resample("h").mean().to_numpy(), abs=0.06)


def test_leap_days_are_dropped_and_told(tmp_path):
    rows = sky(SKERRY, "2019-01-01", "2021-12-31")
    write_csv(tmp_path, rows)
    hours = read_hours(site(CSV % ("UTC", "start")), tmp_path)
    assert hours.n_hour == 3 * HOURS_A_YEAR and any("leap day" in note for note in hours.notes)
    kept = rows[~((rows.index.month == 2) & (rows.index.day == 29))]
    assert hours.ghi_w_per_m2 == pytest.approx(kept["ghi"].to_numpy(), abs=0.06)
    assert list(np.unique(hours.year, return_counts=True)[1]) == [HOURS_A_YEAR] * 3


def test_thirteen_months_keep_the_first_twelve(tmp_path):
    write_csv(tmp_path, sky(SKERRY, "2021-01-01", "2022-01-31"))
    hours = read_hours(site(CSV % ("UTC", "start")), tmp_path)
    assert hours.n_year == 1 and any("last 31 days are left out" in note for note in hours.notes)


def test_years_may_begin_in_july(tmp_path):
    rows = sky(SKERRY, "2020-07-01", "2022-06-30")
    write_csv(tmp_path, rows)
    hours = read_hours(site(CSV % ("UTC", "start")), tmp_path)
    assert hours.n_year == 2 and list(np.unique(hours.year)) == [2020, 2021]
    assert hours.ghi_w_per_m2 == pytest.approx(rows["ghi"].to_numpy(), abs=0.06)


def test_missing_hours_are_filled_and_told(tmp_path):
    rows = sky(SKERRY, "2021-01-01", "2021-12-31")
    holes = rows.drop(rows.index[[4000, 4001]]).drop(rows.index[5000:5048])
    write_csv(tmp_path, holes)
    hours = read_hours(site(CSV % ("UTC", "start")), tmp_path)
    assert any("air: 50 missing hours filled" in note for note in hours.notes)
    assert np.isfinite(hours.ghi_w_per_m2).all()
    assert hours.ghi_w_per_m2[4000:4002] == pytest.approx(rows["ghi"].to_numpy()[4000:4002], rel=0.1, abs=5)
    neighbours = rows["ghi"].to_numpy()[[4988, 5060]]  # noon of the days before and after
    assert neighbours.min() * 0.9 <= hours.ghi_w_per_m2[5012] <= neighbours.max() * 1.1


def test_a_long_hole_is_refused_with_its_line(tmp_path):
    rows = sky(SKERRY, "2021-01-01", "2021-12-31")
    write_csv(tmp_path, rows.drop(rows.index[5000:5100]))
    with pytest.raises(WeatherError) as error:
        read_hours(site(CSV % ("UTC", "start")), tmp_path)
    assert "a.csv, line 5001" in refusal(error) and "missing for 100 hours from 2021-07-28 08:00" in refusal(error)


def test_an_hour_twice_is_refused_when_values_differ_and_dropped_when_not(tmp_path):
    rows = sky(SKERRY, "2021-01-01", "2021-12-31")
    write_csv(tmp_path, pd.concat([rows, rows.iloc[[4000]]]))
    hours = read_hours(site(CSV % ("UTC", "start")), tmp_path)
    assert any("1 rows stood twice" in note for note in hours.notes)
    write_csv(tmp_path, pd.concat([rows, rows.iloc[[4000]] + 1]))
    with pytest.raises(WeatherError) as error:
        read_hours(site(CSV % ("UTC", "start")), tmp_path)
    assert "line 8762" in refusal(error) and "stands twice" in refusal(error) and "line 4002" in refusal(error)


@pytest.mark.parametrize("column, value, told", [
    ("ghi", 1900.0, "sun on the level is 1900 W/m²"), ("ghi", -50.0, "sun on the level is -50"),
    ("air", 300.0, "air is 300 °C"), ("air", -273.0, "air is -273 °C"),
])  # fmt: skip
def test_impossible_values_are_refused_with_their_line(tmp_path, column, value, told):
    rows = sky(SKERRY, "2021-01-01", "2021-12-31").copy()
    rows.iloc[4000, rows.columns.get_loc(column)] = value
    write_csv(tmp_path, rows)
    with pytest.raises(WeatherError) as error:
        read_hours(site(CSV % ("UTC", "start")), tmp_path)
    assert told in refusal(error) and "line 4002" in refusal(error) and "2021-06-16 16:00" in refusal(error)


@pytest.mark.parametrize("factor", [0.001, 3.6])
def test_a_wrong_unit_is_refused(tmp_path, factor):
    rows = sky(SKERRY, "2021-01-01", "2021-12-31") * [factor, 1, 1, 1]
    write_csv(tmp_path, rows * 1.0)
    lines = [
        f"{s:%Y-%m-%d %H:%M},{g:.4f},{a:.1f}" for s, g, a in zip(rows.index, rows["ghi"], rows["air"], strict=True)
    ]
    (tmp_path / "a.csv").write_text("\n".join(["stamp,GHI,T", *lines]))
    with pytest.raises(WeatherError) as error:
        read_hours(site(CSV % ("UTC", "start")), tmp_path)
    assert "check" in refusal(error) and "unit" in refusal(error)


@pytest.mark.parametrize("unit, scale", [("kJ/m2", 3.6), ("Wh/m²", 1.0), ("kW/m2", 0.001)])
def test_units_are_turned(tmp_path, unit, scale):
    rows = sky(SKERRY, "2021-01-01", "2021-12-31")
    lines = [
        f"{s:%Y-%m-%d %H:%M},{g * scale:.5f},{a + 273.15:.2f}"
        for s, g, a in zip(rows.index, rows["ghi"], rows["air"], strict=True)
    ]
    (tmp_path / "a.csv").write_text("\n".join([f"stamp,G [{unit}],T [K]", *lines]))
    weather = (CSV % ("UTC", "start")).replace("GHI [W/m2]", f"G [{unit}]").replace("T [°C]", "T [K]")
    hours = read_hours(site(weather), tmp_path)
    assert hours.ghi_w_per_m2 == pytest.approx(rows["ghi"].to_numpy(), abs=0.05)
    assert hours.air_c == pytest.approx(rows["air"].to_numpy(), abs=0.01)


def test_parquet_comes_back(tmp_path):
    rows = sky(SKERRY, "2021-01-01", "2021-12-31")
    pd.DataFrame({"stamp": rows.index, "GHI": rows["ghi"].to_numpy(), "T": rows["air"].to_numpy()}).to_parquet(
        tmp_path / "a.pq"
    )
    weather = (CSV % ("UTC", "start")).replace("a.csv", "a.pq").replace("format: csv", "format: parquet")
    assert read_hours(site(weather), tmp_path).ghi_w_per_m2 == pytest.approx(rows["ghi"].to_numpy())


def test_the_wrong_half_of_the_world_is_found(tmp_path):
    write_csv(tmp_path, sky((-34.0, 18.5), "2021-01-01", "2021-12-31"))
    with pytest.raises(WeatherError) as error:
        read_hours(site(CSV % ("UTC", "start"), (34.0, 18.5)), tmp_path)
    assert "sign of the latitude" in refusal(error)
    hours = read_hours(site(CSV % ("UTC", "start"), (-34.0, 18.5)), tmp_path)
    assert hours.latitude == -34.0


def test_polar_night_is_no_hole(tmp_path):
    spot = (78.2, 15.6)
    write_csv(tmp_path, sky(spot, "2021-01-01", "2021-12-31"))
    hours = read_hours(site(CSV % ("UTC", "start"), spot), tmp_path)
    assert hours.ghi_w_per_m2[:744].sum() == 0 and hours.ghi_w_per_m2.sum() > 300_000


def test_an_epw_in_latin_1_is_read_on_the_hour(tmp_path):
    spot, zone = (-34.0, 151.2), 10.0
    rows = sky(spot, "2020-12-31", "2021-12-31")
    local = rows.index + pd.Timedelta(hours=zone)
    rows = rows[local.year == 2021]
    write_epw(tmp_path, rows, spot, zone)
    hours = read_hours(site("{file: a.epw, format: epw}", None), tmp_path)
    assert hours.timezone == "UTC+10" and hours.wind_m_per_s is not None and hours.wind_m_per_s[0] == 4.0
    n = len(rows)
    assert hours.ghi_w_per_m2[:n] == pytest.approx(rows["ghi"].to_numpy(), abs=0.6)
    assert hours.start_utc_s[0] == rows.index[0].timestamp()
    assert any("Tórshavn" in note for note in hours.notes)
    assert not any("stands" in note for note in hours.notes)


def test_an_epw_with_the_wrong_zone_or_thirteen_months_is_refused(tmp_path):
    rows = sky(SKERRY, "2021-01-01", "2021-12-31")
    path = write_epw(tmp_path, rows, SKERRY, 0.0)
    text = path.read_text(encoding="latin-1")
    path.write_text(text.replace("-7.5,0.0,12.0", "-7.5,-5.0,12.0"), encoding="latin-1")
    with pytest.raises(WeatherError) as error:
        read_hours(site("{file: a.epw, format: epw}", None), tmp_path)
    assert "a.epw, line 1" in refusal(error) and "stands 5 h too late" in refusal(error)
    january = text.splitlines()[8 : 8 + 744]
    path.write_text(text + "\n".join(january), encoding="latin-1")
    hours = read_hours(site("{file: a.epw, format: epw}", None), tmp_path)
    assert hours.n_hour == HOURS_A_YEAR and any("744 rows stood twice" in note for note in hours.notes)
    path.write_text(text + "\n".join(january).replace(",4.0,", ",5.0,"), encoding="latin-1")
    with pytest.raises(WeatherError) as error:
        read_hours(site("{file: a.epw, format: epw}", None), tmp_path)
    assert "line 8769" in refusal(error) and "stands twice with different values" in refusal(error)


def test_a_file_of_the_other_half_of_the_world_is_refused(tmp_path):
    write_epw(tmp_path, sky(SKERRY, "2021-01-01", "2021-12-31"), SKERRY, 0.0)
    with pytest.raises(WeatherError) as error:
        read_hours(site("{file: a.epw, format: epw}", (-57.6, -7.5)), tmp_path)
    assert "summer is winter" in refusal(error)
    hours = read_hours(site("{file: a.epw, format: epw}", (50.0, 8.0)), tmp_path)
    assert any("lies at 50.0° N 8.0° E" in note for note in hours.notes)


def test_a_height_that_cannot_be_is_told(tmp_path):
    spot = (31.1, 77.17)
    rows = sky(spot, "2020-12-31", "2021-12-31")
    write_epw(tmp_path, rows[(rows.index + pd.Timedelta(hours=5)).year == 2021], spot, 5.0)
    hours = read_hours(site("{file: a.epw, format: epw}", None), tmp_path)
    assert any("12 m high, the map says" in note for note in hours.notes)


def test_files_of_typical_years_lie_on_one_clock(tmp_path):
    shutil.copy(DATA / "723170TYA.CSV", tmp_path / "a.csv")
    hours = read_hours(site("{file: a.csv, format: tmy3}", None), tmp_path)
    assert hours.n_hour == HOURS_A_YEAR and (np.diff(hours.start_utc_s) == 3600).all()
    assert not any("February" in note for note in hours.notes)  # its February is of a leap year and ends at 24:00
    assert hours.timezone == "UTC-5" and (hours.latitude, hours.longitude) == (36.1, -79.95)
