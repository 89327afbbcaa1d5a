"""Hours of weather made for tests: cloudless days of a plain model, anywhere and in any zone."""

import numpy as np

from ohmstead.sun.daylight import clear_w_per_m2
from ohmstead.sun.hours import Hours
from ohmstead.sun.sky import sun_at

NEW_YEAR_S = 1_672_531_200  # 1 January 2023 UTC


def clear_hours(latitude: float, longitude: float, zone_h: float = 0.0, n_year: int = 1) -> Hours:
    """Whole years of cloudless hours, a fifth of the light from the sky."""
    one = np.arange(8760) * 3600 + NEW_YEAR_S - int(zone_h * 3600)
    start = np.concatenate([one + year * 365 * 86400 for year in range(n_year)])
    sun = sun_at(start + 1800, latitude, longitude)
    up = np.cos(np.radians(sun.zenith_deg))
    level = 0.9 * clear_w_per_m2(up)
    beam = np.where(up > 0.03, 0.8 * level / np.maximum(up, 0.03), 0.0)
    return Hours(
        start, level, beam, level - beam * np.maximum(up, 0.0), np.full(start.size, 12.0), None,
        np.repeat(np.arange(n_year) + 2023, 8760), latitude, longitude, 0.0, f"UTC{zone_h:+g}",
    )  # fmt: skip
