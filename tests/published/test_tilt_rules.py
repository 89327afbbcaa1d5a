"""Duffie and Beckman, chapter 2, on slopes: the latitude for the year, 10 to 15° more for the winter, 10 to 15° less
for the summer; 15° aside costs about 5 per cent. From memory."""  # fmt: skip

import numpy as np
import pytest

from .facings import TILTS, YEARS, harvests

WINTER = np.r_[0:80, 266:365]  # between the equinoxes
SUMMER = np.r_[80:266]


@pytest.mark.parametrize("place", YEARS)
@pytest.mark.parametrize(("season", "away"), [("year", 0.0), ("winter", 12.5), ("summer", -12.5)])
def test_the_rule_loses_no_more_than_it_says(place: str, season: str, away: float, outside) -> None:  # type: ignore[no-untyped-def]
    latitude, days = harvests(place)
    chosen = {"year": np.arange(365), "winter": WINTER, "summer": SUMMER}[season]
    energy = days[:, chosen].sum(axis=1)
    ruled = float(np.interp(latitude + away, TILTS, energy))
    outside(source="duffie-beckman", place=f"chapter 2, slopes: {season}, {place}", read="from memory",
            what="harvest at the slope of the rule against that at our best",
            deviation=ruled / energy.max() - 1)  # fmt: skip
    assert ruled > 0.95 * energy.max()


def test_fifteen_degrees_aside_cost_about_five_per_cent(outside) -> None:  # type: ignore[no-untyped-def]
    lost = []
    for place in YEARS:
        _, days = harvests(place)
        year = days.sum(axis=1)
        best = int(year.argmax())
        lost += [1 - year[best + 15] / year[best], 1 - year[best - 15] / year[best]]
    outside(source="duffie-beckman", place="chapter 2, slopes", read="from memory",
            what="share lost by a slope 15° from the best, at most", deviation=max(lost) - 0.05)  # fmt: skip
    assert min(lost) > 0.01 and max(lost) < 0.06
