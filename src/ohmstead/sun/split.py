"""How much of the sun on the level comes from the sky and how much straight from the sun.

Named after its publication. Written out here, since years drawn from means need nothing else of a large library;
a test holds it against pvlib's.
"""

import numpy as np

from .hours import FloatArray

SPLIT = "Erbs, Klein and Duffie 1982"
LOWEST_SUN = float(np.cos(np.radians(87.0)))  # below, all is taken as sky: a beam reckoned there is noise
_LEAST_UP = 0.065  # no clearness is reckoned with the sun lower than this, as a cosine


def sky_share(clearness: FloatArray) -> FloatArray:
    """Share of the sun on the level that comes from the sky, by the hourly correlation of Erbs, Klein and Duffie."""
    k = clearness
    middle = 0.9511 - 0.1604 * k + 4.388 * k**2 - 16.638 * k**3 + 12.336 * k**4
    found: FloatArray = np.where(k <= 0.22, 1.0 - 0.09 * k, np.where(k <= 0.8, middle, 0.165))
    return found


def split(ghi: FloatArray, high: FloatArray, extra: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Beam across the sun and sky on the level, W/m², from the sun on the level.

    high: cosine of the zenith angle. extra: sun across the beam outside the air, W/m².
    """
    up = np.maximum(high, 0.0)
    clearness = np.clip(ghi / (extra * np.maximum(up, _LEAST_UP)), 0.0, 1.0)
    low = up < LOWEST_SUN
    sky = np.where(low, ghi, ghi * sky_share(clearness))
    beam = np.where(low, 0.0, (ghi - sky) / np.maximum(up, LOWEST_SUN))
    return beam, sky
