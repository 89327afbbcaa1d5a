"""Years drawn from means, and the clear year."""

import numpy as np
import pytest

from ohmstead.sun.air import smooth_year
from ohmstead.sun.clearness import day_months
from ohmstead.sun.daylight import cos_zenith, extra_w_per_m2
from ohmstead.sun.months import months_of, years_of
from ohmstead.sun.trouble import WeatherError
from ohmstead.sun.weather import read_hours
from ohmstead.sun.years import Spot, clear_year, drawn_weather, outside_by_month
from sun.skies import SKERRY, site

MEANS = (
    "monthly sun: 0.36 0.98 2.15 3.75 5.05 5.15 4.65 3.7 2.45 1.2 0.5 0.26 kWh/m², "
    "monthly air: 5.5 5.3 6.2 7.8 10.2 12.4 14.0 14.1 12.6 10.2 7.7 6.2 °C"
)
SKERRY_SPOT = Spot(*SKERRY, 12.0, 0)


def skerry(n_year: int, seed: int = 1):
    return read_hours(site(f"{{{MEANS}, years: {n_year}, seed: {seed}}}"))


def test_the_same_seed_draws_the_same_years():
    one, two, other = skerry(3), skerry(3), skerry(3, 2)
    assert (one.ghi_w_per_m2 == two.ghi_w_per_m2).all() and (one.air_c == two.air_c).all()
    assert (one.ghi_w_per_m2 != other.ghi_w_per_m2).any()


def test_no_hour_is_impossible():
    hours = skerry(20)
    high = cos_zenith(hours.middle_utc_s, *SKERRY)
    outside = np.maximum(high, 0) * extra_w_per_m2(hours.middle_utc_s)
    assert (hours.ghi_w_per_m2 >= 0).all() and (hours.ghi_w_per_m2 <= 0.9 * outside + 1e-9).all()
    assert (hours.dni_w_per_m2 >= 0).all() and hours.dni_w_per_m2.max() < 1150
    assert hours.dni_w_per_m2 * np.maximum(high, 0) + hours.dhi_w_per_m2 == pytest.approx(hours.ghi_w_per_m2)


def test_air_keeps_its_means_and_swings_more_on_clear_days():
    hours = skerry(20)
    air = hours.air_c.reshape(20, 365, 24)
    stated = [5.5, 5.3, 6.2, 7.8, 10.2, 12.4, 14.0, 14.1, 12.6, 10.2, 7.7, 6.2]
    met = [air[:, day_months() == month].mean() for month in range(12)]
    assert met == pytest.approx(stated, abs=0.02)
    july = day_months() == 6
    swing = np.ptp(air[:, july], axis=2).ravel()
    sun = hours.ghi_w_per_m2.reshape(20, 365, 24)[:, july].sum(axis=2).ravel()
    assert np.corrcoef(swing, sun)[0, 1] > 0.9
    assert smooth_year(np.array(stated)).min() > 4.5


def test_single_years_differ_and_all_together_do_not():
    hours = skerry(40)
    totals = [sun @ np.array([31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31]) for _, sun in years_of(hours)]
    assert 0.01 < np.std(totals) / np.mean(totals) < 0.08
    assert months_of(hours)[11].sun_wh_per_m2 == pytest.approx(260, rel=0.001)
    assert months_of(hours)[11].dimmest_wh_per_m2 < 240


def test_polar_night_is_dark_and_refuses_sun():
    spot = Spot(78.2, 15.6, 0.0, 3600)
    sun = np.nan_to_num(0.4 * outside_by_month(spot))
    sun[[0, 10, 11]] = 0.0
    hours = drawn_weather(spot, sun, np.full(12, -5.0), 2, 1)
    assert hours.ghi_w_per_m2.reshape(2, -1)[:, :744].sum() == 0
    assert any("no sun to speak of" in note for note in hours.notes)
    with pytest.raises(WeatherError, match="hardly rises"):
        text = "{monthly sun: 2 2 2 3 4 5 5 3 2 1 0.5 0.3 kWh/m², monthly air: 0 0 0 0 0 0 0 0 0 0 0 0 °C}"
        read_hours(site(text, (78.2, 15.6)))


def test_days_are_cut_at_night_wherever_the_site_lies():
    """The day of a drawn year is one of the place, whatever clock the site file names."""
    spot = (-34.0, 151.2)
    text = (
        "{monthly sun: 6.4 5.6 4.6 3.5 2.6 2.2 2.5 3.4 4.5 5.5 6.1 6.5 kWh/m², "
        "monthly air: 23 23 21 18 15 13 12 13 16 18 20 22 °C}"
    )
    hours = read_hours(site(text, spot))
    assert hours.timezone == "UTC+10"
    by_hour = hours.ghi_w_per_m2.reshape(-1, 24).mean(axis=0)
    assert by_hour[:4].sum() == 0 and by_hour[20:].sum() == 0 and 11 <= by_hour.argmax() <= 12


def test_a_clear_year_is_called_optimistic():
    hours = read_hours(site("{clear sky: yes, monthly air: 5 5 6 8 10 12 14 14 12 10 7 6 °C}"))
    assert hours.n_year == 1 and "optimistic" in hours.notes[0]
    assert hours.ghi_w_per_m2.sum() > 1.4 * skerry(1).ghi_w_per_m2.sum()
    assert (clear_year(SKERRY_SPOT, np.full(12, 9.0)).dni_w_per_m2 < 1100).all()
