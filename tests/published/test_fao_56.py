"""FAO Irrigation and Drainage Paper 56: examples 8, 9 and 10, from the path of the sun minute by minute.

Declinations are those of the examples: 0.120 rad, and 18.8° by the paper's formula on day 135.
"""

import numpy as np
import pytest

from published.test_duffie_beckman import over_a_day

CONSTANT = 0.0820 * 1e6 / 60 / 1366.1  # the paper's solar constant of 0.0820 MJ/m² a minute over ours


@pytest.mark.parametrize(
    ("example", "latitude", "day", "sun_mj_per_m2", "day_h"),
    [("8 and 9", -20.0, (np.degrees(0.120), (8, 9)), 32.2, 11.7), ("10", -22.9, (18.8, (4, 6)), 25.1, 10.9)],
)
def test_sun_outside_the_air_and_daylight(example, latitude, day, sun_mj_per_m2, day_h, outside):
    found_mj, found_h = over_a_day(latitude, *day)
    found_mj *= CONSTANT
    outside(source="fao-56", place=f"example {example}", read="from memory",
            what="sun of a day outside the air, daylight",
            deviation=max(abs(found_mj / sun_mj_per_m2 - 1), abs(found_h / day_h - 1)))  # fmt: skip
    assert found_mj == pytest.approx(sun_mj_per_m2, rel=0.005)
    assert found_h == pytest.approx(day_h, abs=0.06)
