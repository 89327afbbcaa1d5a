"""NASA POWER: hours of many years at a point, as JSON or CSV; stamped at the start of the hour."""

import json
import re
from io import StringIO
from pathlib import Path

import numpy as np

from ..hours import FloatArray, IntArray
from ..raw import Raw
from ..trouble import refuse
from .text import check_spot, file_text, local_seconds, numeric, row_lines

COLUMNS = {
    "ALLSKY_SFC_SW_DWN": "ghi",
    "ALLSKY_SFC_SW_DNI": "dni",
    "ALLSKY_SFC_SW_DIFF": "dhi",
    "T2M": "air",
    "WS10M": "wind",
    "WS2M": "wind",
}
FILL = -999.0
_NEEDED = ("ALLSKY_SFC_SW_DWN", "T2M")
_NOTE = "{file}: NASA POWER, satellite and weather model, cells of some 50 to 100 km"


def read_power(path: Path) -> Raw:
    """Rows of a NASA POWER file, JSON or CSV."""
    text = file_text(path)
    return _json(path.name, text) if text.lstrip().startswith("{") else _csv(path.name, text)


def swath_offset_s(longitude: float) -> int:
    """Offset of the service's "local solar time": whole hours by swaths of 15 degrees.

    Parameters
    ----------
    longitude : float
        East positive. [°]

    Returns
    -------
    int
        Local solar time minus UTC. [s]

    Source
    ------
    nasa-power, page of the hourly service.

    Examples
    --------
    >>> swath_offset_s(-81.3) // 3600
    -5
    """
    return int(np.floor((longitude + 7.5) / 15.0)) * 3600


def _json(file: str, text: str) -> Raw:
    expected = "an answer of the hourly service with properties, geometry and header"
    try:
        answer = json.loads(text)
        series = answer["properties"]["parameter"]
        longitude, latitude, elevation = (float(v) for v in answer["geometry"]["coordinates"])
        fill = float(answer["header"]["fill_value"])
        standard = str(answer["header"].get("time_standard", ""))
        stamps = list(next(iter(series.values())))
    except (ValueError, KeyError, TypeError, AttributeError, StopIteration) as error:
        refuse(file, 0, f"this is no answer of NASA POWER: {type(error).__name__} {error}", expected, "fetch it again")
    _check_columns(file, series)
    check_spot(file, 0, latitude, longitude)
    if not stamps or any(len(stamp) != 10 or not stamp.isdigit() for stamp in (stamps[0], stamps[-1])):
        refuse(file, 0, "the series is not hourly", "stamps such as 2019063013", "fetch hours, not days")
    try:
        clock = np.array([[int(s[:4]), int(s[4:6]), int(s[6:8]), int(s[8:])] for s in stamps], dtype=np.int64).T
        columns = {
            COLUMNS[name]: _filled(np.array([values[s] for s in stamps], dtype=np.float64), fill)
            for name, values in series.items()
            if name in COLUMNS
        }
    except (ValueError, KeyError, TypeError) as error:
        refuse(
            file, 0, f"a stamp or a value cannot be read: {error}", "the same hours in every series", "fetch it again"
        )
    local = local_seconds((clock[0], clock[1], clock[2]), clock[3].astype(np.float64), file, 0)
    return _raw(file, columns, local, (latitude, longitude, elevation), standard, np.empty(0, np.int64))


def _csv(file: str, text: str) -> Raw:
    import pandas as pd

    lines = text.splitlines()
    begin = next((n for n, line in enumerate(lines) if line.startswith("YEAR,MO,DY,HR")), -1)
    if begin < 0:
        refuse(
            file,
            0,
            "there is no line YEAR,MO,DY,HR,...",
            "an hourly csv of NASA POWER",
            "fetch hours, or correct `format`",
        )
    head = "\n".join(lines[:begin])
    place = re.search(r"latitude\s+(-?[\d.]+)\s+longitude\s+(-?[\d.]+)", head, re.I)
    if place is None:
        refuse(
            file,
            1,
            "the header names no latitude and longitude",
            "Location: latitude 57.6  longitude -7.5",
            "keep the header when fetching",
        )
    latitude, longitude = float(place[1]), float(place[2])
    check_spot(file, 1, latitude, longitude)
    height = re.search(r"elevation[^\n]*=\s*(-?[\d.]+)", head, re.I)
    standard = re.search(r"\bin (UTC|LST)\b", head) or re.search(r"time.standard\W+(UTC|LST)", head, re.I)
    table = pd.read_csv(StringIO(text), skiprows=begin, dtype=str, keep_default_na=False)
    _check_columns(file, table.columns)
    first = begin + 2
    columns = {COLUMNS[n]: _filled(numeric(table, n, file, first), FILL) for n in table.columns if n in COLUMNS}
    clock = [numeric(table, name, file, first) for name in ("YEAR", "MO", "DY", "HR")]
    if any(np.isnan(part).any() for part in clock):
        row = int(np.flatnonzero(np.isnan(np.sum(clock, axis=0)))[0])
        refuse(file, first + row, "the row has no whole date", "year, month, day and hour", "correct the row")
    year, month, day = (part.astype(np.int64) for part in clock[:3])
    local = local_seconds((year, month, day), clock[3], file, first)
    spot = (latitude, longitude, float(height[1]) if height else 0.0)
    return _raw(file, columns, local, spot, standard[1] if standard else "", row_lines(first, len(table)))


def _raw(
    file: str,
    columns: dict[str, FloatArray],
    local: IntArray,
    spot: tuple[float, float, float],
    standard: str,
    lines: IntArray,
) -> Raw:
    latitude, longitude, elevation = spot
    if standard.upper() not in ("UTC", "LST"):
        refuse(
            file,
            0,
            "the header does not say whether hours are UTC or local solar time",
            "UTC or LST in the header",
            "fetch the file with its header, time standard UTC",
        )
    offset = 0 if standard.upper() == "UTC" else swath_offset_s(longitude)
    note = _NOTE.format(file=file)
    return Raw(file, columns, local, offset, lines, "true", latitude, longitude, elevation, (note,))


def _check_columns(file: str, names: object) -> None:
    missing = [name for name in _NEEDED if name not in names]  # type: ignore[operator]
    if missing:
        refuse(
            file,
            0,
            f"the file has no {' and no '.join(missing)}",
            ", ".join(COLUMNS),
            "fetch it again with these parameters",
        )


def _filled(values: FloatArray, fill: float) -> FloatArray:
    found: FloatArray = np.where(values == fill, np.nan, values)
    return found
