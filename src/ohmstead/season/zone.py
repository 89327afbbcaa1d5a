"""Air where a thing stands, hour by hour: it swings in its zone as the weather does outside."""

import numpy as np

from ..site.model import Site
from ..sun.hours import FloatArray, Hours


def zone_air_c(site: Site, zone: str, hours: Hours) -> tuple[FloatArray, str]:
    """Air of a zone from the coldest to the hottest stated there as the air outside goes [°C], and a note for cells."""
    air = site.air_of(zone)
    low, high = float(hours.air_c.min()), float(hours.air_c.max())
    if not np.isfinite(low) or high - low < 1e-6:
        return np.full(hours.n_hour, air.nominal), "the battery is as warm as its zone's middle"
    where = zone or "the battery's place"
    note = (f"air of {where} swings between its coldest and hottest as the weather does, "
            f"{air.low:g}..{air.high:g} °C; the cells are as warm as the air")  # fmt: skip
    return air.low + (air.high - air.low) * (hours.air_c - low) / (high - low), note
