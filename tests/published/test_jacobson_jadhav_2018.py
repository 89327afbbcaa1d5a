"""Best fixed tilt of a year by latitude: the polynomial of Jacobson and Jadhav, Solar Energy 169, 2018.

Their optimum is that of a country's typical years; what matters is the harvest that is lost by standing so.
"""

import numpy as np
import pytest

from .facings import TILTS, YEARS, harvests


def optimum_deg(latitude: float) -> float:
    """North of the equator; as quoted in several public programs."""
    return 1.3793 + latitude * (1.2011 + latitude * (-0.014404 + latitude * 0.000080509))


@pytest.mark.parametrize("place", YEARS)
def test_the_published_tilt_is_nearly_ours(place: str, outside) -> None:  # type: ignore[no-untyped-def]
    latitude, days = harvests(place)
    year = days.sum(axis=1)
    theirs = float(np.interp(optimum_deg(latitude), TILTS, year))
    outside(source="jacobson-jadhav-2018", place=f"polynomial, {place}", read="second-hand",
            what="harvest of a year at the published tilt against that at our best",
            deviation=theirs / year.max() - 1)  # fmt: skip
    assert theirs > 0.995 * year.max()
    if place != "Sand Point":  # an island under cloud, far from any of their places
        assert abs(float(TILTS[year.argmax()]) - optimum_deg(latitude)) < 2.5
