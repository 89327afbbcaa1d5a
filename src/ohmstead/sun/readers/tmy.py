"""TMY2 and TMY3: one typical year in local standard time, stamped at the end of each hour."""

from io import StringIO
from pathlib import Path

import numpy as np

from ..hours import HOUR_S, IntArray
from ..raw import Raw
from ..trouble import refuse
from .text import blank, check_spot, file_text, local_seconds, numeric, row_lines

# Columns of a TMY2 row, counted from 0: where the users' manual (Marion and Urban 1995, table 3-2) puts them.
_TMY2 = {
    "year": (1, 3),
    "month": (3, 5),
    "day": (5, 7),
    "hour": (7, 9),
    "ghi": (17, 21),
    "dni": (23, 27),
    "dhi": (29, 33),
    "air": (67, 71),
    "wind": (95, 98),
}
_TMY2_WIDTH = 100


def read_tmy3(path: Path) -> Raw:
    """Rows of a TMY3 file."""
    from pvlib.iotools import read_tmy3 as pvlib_read

    text = file_text(path)
    lines = text.splitlines()
    cells = lines[0].split(",")
    expected = "station, name, state, zone, latitude, longitude, elevation in line 1"
    if len(cells) < 7 or len(lines) < 3 or "Date" not in lines[1]:
        refuse(path.name, 1, "the file has no TMY3 header", expected, "correct `format`")
    try:
        table, head = pvlib_read(StringIO(text))
    except (ValueError, KeyError, IndexError, TypeError, AttributeError) as error:
        refuse(
            path.name,
            0,
            f"this is no TMY3 file: {str(error).splitlines()[0]}",
            expected + ", headings in line 2, then hours",
            "correct `format`, or fetch the file again",
        )
    bounds = {
        "ghi": ("ghi", -1, 9990),
        "dni": ("dni", -1, 9990),
        "dhi": ("dhi", -1, 9990),
        "air": ("temp_air", -99, 99),
        "wind": ("wind_speed", -1, 200),
    }
    columns = {
        name: blank(numeric(table, column, path.name, 3), low, high) for name, (column, low, high) in bounds.items()
    }
    offset = round(float(head["TZ"]) * 3600)
    local = _tmy3_clock(path.name, table["Date (MM/DD/YYYY)"].tolist(), table["Time (HH:MM)"].tolist())
    check_spot(path.name, 1, head["latitude"], head["longitude"])
    note = f"{path.name}: {str(head['Name']).strip(chr(34)).title()}, a typical year"
    return Raw(
        path.name,
        columns,
        local,
        offset,
        row_lines(3, len(table)),
        "typical",
        head["latitude"],
        head["longitude"],
        head["altitude"],
        (note,),
    )


def _tmy3_clock(file: str, dates: list[str], times: list[str]) -> IntArray:
    """Start of each hour. A row says where its hour ends; the one to 24:00 on 28 February belongs to that day even in
    a leap year, so the date is taken from the row itself."""
    try:
        month, day, year = np.array([[int(part) for part in date.split("/")] for date in dates], dtype=np.int64).T
        hour = np.array([int(time[:-3]) + int(time[-2:]) / 60 for time in times])
    except (ValueError, AttributeError):
        refuse(file, 0, "a date or time cannot be read", "MM/DD/YYYY and HH:MM in each row", "fetch the file again")
    return local_seconds((year, month, day), hour, file, 3) - HOUR_S


def read_tmy2(path: Path) -> Raw:
    """Rows of a TMY2 file. Its columns have fixed places, so they are cut out whole, far faster than by row."""
    text = file_text(path)
    lines = text.splitlines()
    latitude, longitude, elevation, offset, name = _tmy2_head(path.name, lines[0])
    rows = [line for line in lines[1:] if line.strip()]
    for number, line in enumerate(rows, start=2):
        if len(line) < _TMY2_WIDTH:
            refuse(path.name, number, f"the row has {len(line)} characters", "142 characters", "fetch the file again")
    if not rows:
        refuse(path.name, 0, "the file has no rows", "8760 hours", "fetch the file again")
    cut = {}
    for column, (start, end) in _TMY2.items():
        try:
            cut[column] = np.array([line[start:end] for line in rows]).astype(np.float64)
        except ValueError:
            number = next(
                n for n, line in enumerate(rows, start=2) if not line[start:end].strip().lstrip("-").isdigit()
            )
            refuse(
                path.name,
                number,
                f"characters {start + 1} to {end} are {rows[number - 2][start:end]!r}",
                "a number",
                "fetch the file again",
            )
    year, month, day = (cut[column].astype(np.int64) for column in ("year", "month", "day"))
    local = local_seconds((year + 1900, month, day), cut["hour"] - 1.0, path.name, 2)
    columns = {sun: blank(cut[sun], -1, 9990) for sun in ("ghi", "dni", "dhi")}
    columns["air"] = blank(cut["air"], -990, 990) / 10.0
    columns["wind"] = blank(cut["wind"], -1, 990) / 10.0
    note = f"{path.name}: {name.title()}, a typical year"
    return Raw(
        path.name, columns, local, offset, row_lines(2, len(rows)), "typical", latitude, longitude, elevation, (note,)
    )


def _tmy2_head(file: str, line: str) -> tuple[float, float, float, int, str]:
    """Place, zone and name. The name may hold blanks, so the line is read from its end."""
    words = line.split()
    try:
        zone, north, lat_deg, lat_min, east, lon_deg, lon_min, elevation = words[-8:]
        latitude = (float(lat_deg) + float(lat_min) / 60) * {"N": 1, "S": -1}[north]
        longitude = (float(lon_deg) + float(lon_min) / 60) * {"E": 1, "W": -1}[east]
        found = latitude, longitude, float(elevation), round(float(zone) * 3600), " ".join(words[1:-9])
    except (ValueError, KeyError):
        refuse(
            file,
            1,
            "the file has no TMY2 header",
            "station, name, state, zone, N 25 48, W 80 16, elevation",
            "correct `format`",
        )
    check_spot(file, 1, latitude, longitude)
    return found
