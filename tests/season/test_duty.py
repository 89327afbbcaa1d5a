"""Duty by weekday, month, air and chance: each hour's share is what the words say."""

from datetime import UTC, datetime

import numpy as np
import pytest

from ohmstead.season.duty import habits
from ohmstead.season.zone import zone_air_c
from ohmstead.site.read import read_text
from ohmstead.sun.hours import Hours
from ohmstead.sun.years import Spot, drawn_weather, outside_by_month

SITE = """ohmstead: 1
site: {{name: hut, latitude: 50, longitude: 0, timezone: UTC}}
zones: {{loft: {{air: -5..35 °C}}}}
battery: {{bank: {{chemistry: LFP, cells: 4, capacity: 100 Ah}}}}
parts:
  one: {{kind: device, draws: {draws}, duty: {duty}, zone: loft}}
season: {{seed: {seed}}}
"""


@pytest.fixture(scope="module")
def hours() -> Hours:
    """Two drawn years."""
    spot = Spot(50.0, 0.0, 0.0, 0)
    return drawn_weather(spot, 0.5 * outside_by_month(spot), np.linspace(0.0, 20.0, 12), 2, seed=1)


def shares(hours: Hours, duty: str, draws: str = "10 W", seed: int = 1) -> dict[str, np.ndarray]:
    found, _ = habits(read_text(SITE.format(duty=duty, draws=draws, seed=seed)), hours)
    assert sum(found[0].shares.values()) == pytest.approx(np.ones(hours.n_hour), abs=1e-12)
    return dict(found[0].shares)


def days(hours: Hours) -> list[datetime]:
    return [datetime.fromtimestamp(int(second), UTC) for second in hours.start_utc_s]


def test_days_of_the_week_are_those_of_the_calendar(hours: Hours) -> None:
    on = shares(hours, "09:00-17:00 on mon-fri")["on"]
    wanted = [1.0 if 9 <= day.hour < 17 and day.weekday() < 5 else 0.0 for day in days(hours)]
    assert on.tolist() == wanted


def test_a_window_over_midnight_belongs_to_the_day_it_begins(hours: Hours) -> None:
    on = shares(hours, "22:00-06:30 on fri")["on"]
    for day, share in zip(days(hours)[24:], on[24:], strict=True):
        evening = day.weekday() == 4 and day.hour >= 22
        morning = day.weekday() == 5 and day.hour < 6
        assert share == (1.0 if evening or morning else 0.5 if day.weekday() == 5 and day.hour == 6 else 0.0), day


def test_months_and_days_limit_each_other(hours: Hours) -> None:
    on = shares(hours, "dusk..dawn on sat and sun in nov-feb")["on"]
    free = shares(hours, "dusk..dawn")["on"]
    held = np.array([day.weekday() >= 5 and day.month in (11, 12, 1, 2) for day in days(hours)])
    assert (on == free * held).all()
    assert 0.0 < on.sum() < 0.2 * free.sum()


def test_hours_a_day_spread_over_their_window(hours: Hours) -> None:
    on = shares(hours, "3 h a day between 18:00-22:00 in july")["on"].reshape(-1, 24)
    july = np.array([day.month == 7 for day in days(hours)[::24]])
    assert on[~july].sum() == 0.0
    assert on[july][:, 18:22] == pytest.approx(np.full((62, 4), 0.75))


def test_a_share_follows_the_air_of_the_zone(hours: Hours) -> None:
    text = SITE.format(duty="{0 °C: 10 %, 20 °C: 50 %, 30 °C: 90 %}", draws="10 W", seed=1)
    air = zone_air_c(read_text(text), "loft", hours)[0]
    assert air.min() == pytest.approx(-5.0)
    assert air.max() == pytest.approx(35.0)
    on = shares(hours, "{0 °C: 10 %, 20 °C: 50 %, 30 °C: 90 %}")["on"]
    for cold, share in ((-5.0, 0.1), (10.0, 0.3), (25.0, 0.7), (35.0, 0.9)):
        near = int(np.abs(air - cold).argmin())
        assert on[near] == pytest.approx(share, abs=0.01)


def test_a_fridge_cools_more_in_summer(hours: Hours) -> None:
    cooling = shares(hours, "{cooling: {5 °C: 15 %, 35 °C: 60 %}, idle: rest}", "{idle: 1 W, cooling: 50 W}")["cooling"]
    by_day = cooling.reshape(2, 365, 24).mean(axis=(0, 2))
    assert by_day[330:].mean() > by_day[:60].mean()  # the months of this drawing warm to the end of the year


def test_chance_keeps_the_mean_and_the_seed(hours: Hours) -> None:
    """Mean of independent hours: within four standard errors of a binomial share."""
    on = shares(hours, "6 h a day at random")["on"]
    assert set(on.tolist()) == {0.0, 1.0}
    error = np.sqrt(0.25 * 0.75 / on.size)
    assert abs(on.mean() - 0.25) < 4 * error
    assert (on == shares(hours, "6 h a day at random")["on"]).all()
    assert (on != shares(hours, "6 h a day at random", seed=2)["on"]).any()
    short = shares(hours, "0.5 h a day at random between 08:00-20:00")["on"].reshape(-1, 24)
    assert short[:, :8].sum() + short[:, 20:].sum() == 0.0
    assert set(short.ravel().tolist()) == {0.0, 0.5}
    assert abs(short.sum(axis=1).mean() - 0.5) < 4 * 0.5 * np.sqrt(12 * (1 / 12) * (11 / 12) / 730)
