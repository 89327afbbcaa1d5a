"""Our light-weight reckoning of the sky against pvlib, which reckons it by the long way."""

from pathlib import Path

import numpy as np
import pandas as pd
import pvlib
import pytest

from ohmstead.sun.daylight import clear_w_per_m2, cos_zenith, extra_w_per_m2, solar_hour
from ohmstead.sun.readers.tmy import read_tmy2
from ohmstead.sun.split import split

PLACES = [(57.6, -7.5), (-34.0, 151.2), (0.0, 0.0), (78.2, 15.6), (36.1, -79.95)]
DATA = Path(pvlib.__file__).parent / "data"


def moments(year: int) -> pd.DatetimeIndex:
    return pd.date_range(f"{year}-01-01 00:30", f"{year}-12-31 23:30", freq="h", tz="UTC")


@pytest.mark.parametrize("spot", PLACES)
@pytest.mark.parametrize("year", [2001, 2024, 2049])
def test_height_of_the_sun(spot, year, outside):
    times = moments(year)
    ours = np.degrees(np.arccos(cos_zenith(times.as_unit("s").asi8, *spot)))
    theirs = pvlib.solarposition.spa_python(times, *spot)["zenith"].to_numpy()
    worst = float(np.abs(ours - theirs).max())
    outside(source="nrel-560-34302", place="full planetary series, by pvlib", read="program",
            what="zenith of every hour of a year, over 180°", deviation=worst / 180)  # fmt: skip
    assert worst < 0.02


def test_sun_above_the_air(outside):
    times = moments(2024)
    ours = extra_w_per_m2(times.as_unit("s").asi8)
    theirs = pvlib.irradiance.get_extra_radiation(times, method="nrel", solar_constant=1366.1).to_numpy()
    worst = float(np.abs(ours / theirs - 1).max())
    outside(source="nrel-560-34302", place="distance of the sun, by pvlib", read="program", what="sun above the air",
            deviation=worst)  # fmt: skip
    assert worst < 3e-4


def test_solar_time(outside):
    times = moments(2010)
    minutes = pvlib.solarposition.equation_of_time_spencer71(times.day_of_year)
    theirs = (times.hour + 0.5 + -7.5 / 15 + np.asarray(minutes) / 60) % 24
    away = np.abs((solar_hour(times.as_unit("s").asi8, -7.5) - theirs + 12) % 24 - 12)
    outside(source="spencer-1971", place="equation of time, by pvlib", read="program", what="solar time of every hour",
            deviation=float(away.max() / 24))  # fmt: skip
    assert away.max() < 0.02  # a day of drift of the calendar moves it by half a minute


def test_split_by_erbs(outside):
    dice = np.random.default_rng(1)
    ghi, zenith = dice.uniform(0, 1100, 5000), dice.uniform(0, 100, 5000)
    day = dice.integers(1, 366, 5000)
    theirs = pvlib.irradiance.erbs(ghi, zenith, day)
    extra = pvlib.irradiance.get_extra_radiation(day)
    beam, sky = split(ghi, np.cos(np.radians(zenith)), extra)
    worst = float(max(np.abs(beam - theirs["dni"]).max(), np.abs(sky - theirs["dhi"]).max()) / 1100)
    outside(source="erbs-1982", place="by pvlib", read="program", what="beam and sky of an hour", deviation=worst)
    assert worst < 1e-9


def test_clear_sky_for_comparison(outside):
    zenith = np.linspace(0, 100, 400)
    theirs = pvlib.clearsky.haurwitz(pd.Series(zenith))["ghi"].to_numpy()
    ours = clear_w_per_m2(np.cos(np.radians(zenith)))
    worst = float(np.abs(ours - theirs).max() / 1000)
    outside(source="haurwitz-1945", place="by pvlib", read="program", what="clear sky on the level", deviation=worst)
    assert worst < 1e-6


def test_tmy2_is_cut_as_pvlib_cuts_it(outside):
    path = DATA / "12839.tm2"
    ours = read_tmy2(path)
    theirs, _ = pvlib.iotools.read_tmy2(str(path))
    for name, column in (("ghi", "GHI"), ("dni", "DNI"), ("dhi", "DHI"), ("air", "DryBulb"), ("wind", "Wspd")):
        scale = 10 if name in ("air", "wind") else 1  # tenths
        assert ours.columns[name] == pytest.approx(theirs[column].to_numpy() / scale)
    assert ours.latitude == pytest.approx(25.8) and ours.longitude == pytest.approx(-80.26667, abs=1e-4)
    outside(source="tmy-manuals", place="12839.tm2, by pvlib", read="program", what="five columns", deviation=0.0)
