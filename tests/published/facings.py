"""Harvest of a plain array at every tilt, in typical years of the United States from pvlib's wheel."""

import shutil
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np
import pvlib

from ohmstead.site.read import read_text
from ohmstead.sun.planes import outlook_of, plane_w
from ohmstead.sun.weather import read_hours
from sun.skies import site

DATA = Path(pvlib.__file__).parent / "data"
YEARS = {
    "Sand Point": ("703165TY.csv", "tmy3"),
    "Greensboro": ("723170TYA.CSV", "tmy3"),
    "Miami": ("12839.tm2", "tmy2"),
}
ARRAY = "ohmstead: 1\narrays: {a: {module power: 100 W, tilt: 0°, azimuth: 180°}}"
TILTS = np.arange(0, 91)


@cache
def harvests(place: str) -> tuple[float, np.ndarray]:
    """Latitude, and energy of each day at each whole degree of tilt, shape (91, 365)."""
    name, form = YEARS[place]
    with TemporaryDirectory() as folder:
        shutil.copy(DATA / name, Path(folder) / name)
        hours = read_hours(site(f"{{file: {name}, format: {form}}}", None), folder)
    outlook = outlook_of(read_text(ARRAY), "a", hours)
    return hours.latitude, np.array([plane_w(outlook, (float(t), 180.0)).reshape(365, 24).sum(axis=1) for t in TILTS])
