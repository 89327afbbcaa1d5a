"""How much of the grey sky a plane sees: what skyline and obstacles take from it, by integrating the dome."""

import numpy as np

from .field import Field
from .horizon import skyline_deg
from .hours import FloatArray
from .scene import Body, may_meet, meets

_STEP_DEG = 2.0  # patches of the dome, where near obstacles are looked for
_POINTS = 6  # points of the field from which the dome is seen


def sky_view(tilt_deg: float, azimuth_deg: float, skyline: FloatArray | None) -> float:
    """Share of an evenly bright sky that falls on a plane, above a skyline.

    For every azimuth the integral of cos(incidence) over the elevations above skyline and plane is written out;
    the azimuths are summed.

    Parameters
    ----------
    tilt_deg : float
        Of the plane, from the horizontal. [°]
    azimuth_deg : float
        Of the plane, from north over east. [°]
    skyline : array, shape (n, 2), or None
        Azimuth and elevation of the far skyline, sorted by azimuth.

    Returns
    -------
    float
        Share of the light that an open level plane would get.

    Source
    ------
    duffie-beckman, 2.14: (1 + cos tilt) / 2 without a skyline.

    Examples
    --------
    >>> round(sky_view(60.0, 180.0, None), 4)
    0.75
    >>> round(sky_view(0.0, 180.0, np.array([[0.0, 30.0]])), 4)
    0.75
    """
    azimuth = np.arange(0.25, 360.0, 0.5)
    behind = np.cos(np.radians(azimuth - azimuth_deg))
    slant, rise = np.sin(np.radians(tilt_deg)), np.cos(np.radians(tilt_deg))
    plane = np.arctan2(-slant * behind, rise)
    low = np.maximum(np.maximum(np.radians(skyline_deg(skyline, azimuth)), plane), 0.0)
    level = rise * (1.0 - np.sin(low) ** 2) / 2.0
    upright = slant * behind * ((np.pi / 2 - low) / 2.0 - np.sin(2 * low) / 4.0)
    return float((level + upright).sum() * np.radians(0.5) / np.pi)


def open_sky(field: Field, bodies: list[Body], skyline: FloatArray | None) -> FloatArray:
    """Share of the grey sky that is left to a field, against an open place, for each month; shape (12,)."""
    whole = sky_view(field.tilt_deg, field.azimuth_deg, None)
    above = sky_view(field.tilt_deg, field.azimuth_deg, skyline)
    if not bodies or whole <= 0.0:
        return np.full(12, above / whole if whole > 0.0 else 1.0)
    ray, weight = _patches(field, skyline)
    near = np.zeros(ray.shape[0], dtype=np.bool_)
    for body in bodies:
        near |= may_meet(body, field.radius_m, ray)
    ray, weight = ray[near], weight[near]
    cells = field.points.reshape(-1, 3)
    start = cells[np.linspace(0, cells.shape[0] - 1, min(_POINTS, cells.shape[0])).round().astype(int)]
    passes = np.ones((12, start.shape[0], ray.shape[0]))
    for body in bodies:
        hit = meets(body, start, ray).T
        passes *= np.where(hit[None], body.light_fraction[:, None, None], 1.0)
    lost = ((1.0 - passes.mean(axis=1)) * weight).sum(axis=1) / np.pi
    found: FloatArray = np.clip((above - lost) / whole, 0.0, 1.0)
    return found


def _patches(field: Field, skyline: FloatArray | None) -> tuple[FloatArray, FloatArray]:
    """Directions of patches that the plane sees above the skyline, and cos(incidence) times the size of each."""
    azimuth = np.arange(_STEP_DEG / 2, 360.0, _STEP_DEG)
    elevation = np.arange(_STEP_DEG / 2, 90.0, _STEP_DEG)
    across, up = (grid.ravel() for grid in np.meshgrid(np.radians(azimuth), np.radians(elevation)))
    ray = np.stack([np.cos(up) * np.sin(across), np.cos(up) * np.cos(across), np.sin(up)], axis=-1)
    size = np.cos(up) * np.radians(_STEP_DEG) * 2 * np.sin(np.radians(_STEP_DEG / 2))
    weight = np.maximum(ray @ field.normal, 0.0) * size
    seen = (weight > 0.0) & (np.degrees(up) > skyline_deg(skyline, np.degrees(across)))
    return ray[seen], weight[seen]
