"""The far skyline: how high it stands in any direction."""

from pathlib import Path

import numpy as np

from ..site.model import Site
from .hours import FloatArray


class HorizonError(ValueError):
    """A file of the skyline that cannot be read; the message says where and why."""


def skyline_of(site: Site) -> FloatArray | None:
    """Azimuth and elevation of the skyline, shape (n, 2), sorted by azimuth; None when the sky is open. [°]"""
    horizon = site.horizon
    if horizon is None:
        return None
    if horizon.line:
        return np.array(horizon.line, dtype=np.float64)
    return read_skyline(Path(site.path).parent / horizon.file)


def read_skyline(path: Path) -> FloatArray:
    """Two columns, azimuth and elevation in degrees; a heading and lines that begin with # are passed over."""
    try:
        lines = path.read_text(encoding="utf-8-sig").splitlines()
    except (OSError, UnicodeDecodeError) as fault:
        raise HorizonError(f"{path.name}: the skyline cannot be read ({fault})") from None
    points: dict[float, float] = {}
    for number, line in enumerate(lines, 1):
        cells = line.replace(";", ",").replace("\t", ",").split(",")
        if not line.strip() or line.lstrip().startswith("#"):
            continue
        try:
            azimuth, elevation = float(cells[0]), float(cells[1])
        except (ValueError, IndexError):
            if not points and number <= 3:
                continue  # the heading
            raise HorizonError(f"{path.name}, line {number}: two numbers are wanted, azimuth and elevation") from None
        if not (0 <= azimuth <= 360 and 0 <= elevation <= 90):
            raise HorizonError(f"{path.name}, line {number}: azimuth lies in 0..360 and elevation in 0..90 degrees")
        points[azimuth % 360.0] = elevation
    if not points:
        raise HorizonError(f"{path.name}: no line with an azimuth and an elevation")
    return np.array(sorted(points.items()))


def skyline_deg(skyline: FloatArray | None, azimuth_deg: FloatArray) -> FloatArray:
    """Height of the skyline in some directions, straight lines between its points.

    Parameters
    ----------
    skyline : array, shape (n, 2), or None
        Azimuth and elevation, sorted by azimuth.
    azimuth_deg : array
        From north over east. [°]

    Returns
    -------
    array
        Elevation; zero everywhere when there is no skyline. [°]

    Source
    ------
    Common practice, no source.

    Examples
    --------
    >>> line = np.array([[90.0, 4.0], [270.0, 10.0]])
    >>> skyline_deg(line, np.array([180.0, 0.0, 315.0])).tolist()
    [7.0, 7.0, 8.5]
    """
    if skyline is None:
        return np.zeros_like(np.asarray(azimuth_deg, dtype=np.float64))
    found: FloatArray = np.interp(azimuth_deg, skyline[:, 0], skyline[:, 1], period=360.0)
    return found
