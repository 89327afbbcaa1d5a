"""Designs of a site: every mix of array size, facing, battery and disconnect that is to be tried."""

from dataclasses import dataclass

import numpy as np

from ..sun.hours import FloatArray, IntArray
from ..sun.planes import Facing

Cut = tuple[float, float]  # voltages at which the disconnect opens and closes again; (0, 0): as the site has it


@dataclass(frozen=True, slots=True)
class Offer:
    """What may vary. Sizes are ratios over what the site has: 1.0 is the array, or the battery, as it stands.

    All arrays of a site grow together; the facings are those of the one array that turns.
    """

    arrays: tuple[float, ...]
    facings: tuple[Facing, ...]
    banks: tuple[float, ...]
    cuts: tuple[Cut, ...] = ((0.0, 0.0),)

    @property
    def n_design(self) -> int:
        """How many designs there are."""
        return len(self.arrays) * len(self.facings) * len(self.banks) * len(self.cuts)


@dataclass(frozen=True, slots=True)
class Mixes:
    """The designs of an offer, shape (n_design,) each: places in its lists. Facings change slowest, then arrays."""

    facing: IntArray
    array: IntArray
    bank: IntArray
    cut: IntArray


def mixes_of(offer: Offer) -> Mixes:
    """Every mix, in a fixed order."""
    shape = (len(offer.facings), len(offer.arrays), len(offer.banks), len(offer.cuts))
    places = np.unravel_index(np.arange(offer.n_design), shape)
    return Mixes(*(np.asarray(place, dtype=np.int64) for place in places))


def spread(low: float, high: float, n: int) -> tuple[float, ...]:
    """So many sizes from the lowest to the highest, each larger than the one before by the same factor.

    >>> spread(0.5, 4.0, 4)
    (0.5, 1.0, 2.0, 4.0)
    """
    steps: FloatArray = np.geomspace(low, high, n)
    return tuple(float(f"{step:.6g}") for step in steps)


def sky_facings(n: int, latitude: float) -> tuple[Facing, ...]:
    """About so many facings over the half of the sky where the sun goes, never more: tilts times azimuths.

    >>> len(sky_facings(50, 50.0)), sky_facings(50, 50.0)[0], sky_facings(3, -30.0)
    (50, (15.0, 120.0), ((30.0, 0.0), (60.0, 0.0), (90.0, 0.0)))
    """
    across = 1
    for odd in (3, 5, 7):
        if n >= 2 * odd * odd:
            across = odd
    up = n // across
    noon = 180.0 if latitude >= 0 else 0.0
    first = 90.0 / up if up < 6 else 15.0
    tilts = np.linspace(first, 90.0, up).round(1)
    azimuths = (noon + np.linspace(-60.0, 60.0, across)) % 360.0 if across > 1 else np.array([noon])
    return tuple((float(tilt), float(round(azimuth, 1))) for tilt in tilts for azimuth in azimuths)
