"""Hours of weather, the one form in which everything after the weather file meets it.

Only imported where a season is reckoned: it needs numpy.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]

HOURS_A_YEAR = 8760
HOUR_S = 3600


@dataclass(frozen=True, slots=True)
class Hours:
    """Whole years of hours, 8760 each: leap days are left out. Every array has the shape (n_hour,).

    start_utc_s: start of each hour, seconds since 1970 UTC; the sun stands where it is in the middle of the hour.
    ghi, dni, dhi: mean over the hour of the sun on the level, of the beam across it, and of the sky on the level.
    year: which year an hour belongs to. Years and days begin in the standard time that `timezone` names ("UTC-5"),
    which is that of the weather, not necessarily the clock of the site.
    notes: what was assumed or mended, one sentence each.
    """

    start_utc_s: IntArray
    ghi_w_per_m2: FloatArray
    dni_w_per_m2: FloatArray
    dhi_w_per_m2: FloatArray
    air_c: FloatArray
    wind_m_per_s: FloatArray | None
    year: IntArray
    latitude: float
    longitude: float
    elevation_m: float
    timezone: str
    notes: tuple[str, ...] = ()

    @property
    def n_hour(self) -> int:
        """How many hours there are."""
        return int(self.start_utc_s.size)

    @property
    def n_year(self) -> int:
        """How many whole years there are."""
        return self.n_hour // HOURS_A_YEAR

    @property
    def middle_utc_s(self) -> IntArray:
        """Middle of each hour, where the sun is taken; seconds since 1970 UTC."""
        return self.start_utc_s + HOUR_S // 2


@dataclass(frozen=True, slots=True)
class Given:
    """A series that skips part of the reckoning: sun in the plane of the panels, or harvest as measured.

    kind: "plane" (W/m²) or "harvest" (W at the controller's terminals). by_array: one series for each array,
    shape (n_hour,); under "" when the file holds one for all arrays together. hours: clock and air of the same
    file; its sun is unknown and stands as nan.
    """

    kind: str
    by_array: Mapping[str, FloatArray]
    hours: Hours
    notes: tuple[str, ...] = field(default=())
