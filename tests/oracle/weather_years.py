"""The weather years that come with the library pvlib, as hours of ours."""

from pathlib import Path

import numpy as np
import pvlib

from ohmstead.sun.hours import Hours

DATA = Path(pvlib.__file__).parent / "data"
FILES = {"Sand Point": "703165TY.csv", "Greensboro": "723170TYA.CSV"}


def year_of(name: str):
    """The file as pvlib reads it, and the same year as hours."""
    frame, about = pvlib.iotools.read_tmy3(DATA / FILES[name], coerce_year=2001, map_variables=True)
    end = frame.index.tz_convert("UTC").tz_localize(None).to_numpy().astype("datetime64[s]").astype(np.int64)
    start = end - 3600
    start[-1] = start[-2] + 3600 if start[-1] < start[0] else start[-1]
    column = {name: frame[name].to_numpy(dtype=float) for name in ("ghi", "dni", "dhi", "temp_air", "wind_speed")}
    hours = Hours(
        start, column["ghi"], column["dni"], column["dhi"], column["temp_air"], column["wind_speed"],
        np.full(start.size, 2001), about["latitude"], about["longitude"], about["altitude"], f"UTC{about['TZ']:+g}",
    )  # fmt: skip
    return frame, hours
