"""EPW: one typical year, or true years, in local standard time; hour 1 is the first hour of the day."""

from io import StringIO
from pathlib import Path

import numpy as np

from ..raw import Raw
from ..trouble import refuse
from .text import blank, check_spot, file_text, local_seconds, numeric, row_lines

_FIRST = 9  # eight lines of header
_TYPICAL_ROWS = 8784
_LEAST_CELLS = 32  # older files leave out the last three of 35
_EXPECTED = "LOCATION, city, region, country, source, number, latitude, longitude, zone, elevation in line 1"


def read_epw(path: Path) -> Raw:
    """Rows of an EPW file."""
    from pvlib.iotools import read_epw as pvlib_read

    text = file_text(path)
    lines = text.splitlines()
    _check_head(path.name, lines)
    _check_rows(path.name, lines)
    try:
        table, head = pvlib_read(StringIO(text))
    except (ValueError, KeyError, IndexError, TypeError) as error:
        _tell_row(path.name, lines)
        refuse(
            path.name,
            0,
            f"this is no EPW file: {str(error).splitlines()[0]}",
            "eight lines of header, then 35 columns a row",
            "correct `format`, or fetch the file again",
        )
    first = _FIRST
    wanted = {
        "ghi": ("ghi", -1, 9998),
        "dni": ("dni", -1, 9998),
        "dhi": ("dhi", -1, 9998),
        "air": ("temp_air", -99, 99),
        "wind": ("wind_speed", -1, 998),
    }
    columns = {
        name: blank(numeric(table, column, path.name, first), low, high) for name, (column, low, high) in wanted.items()
    }
    year, month, day, hour = (
        numeric(table, name, path.name, first).astype(np.int64) for name in ("year", "month", "day", "hour")
    )
    local = local_seconds((year, month, day), (hour - 1).astype(np.float64), path.name, first)
    many = np.unique(year).size > 1 and len(table) <= _TYPICAL_ROWS
    latitude, longitude = float(head["latitude"]), float(head["longitude"])
    check_spot(path.name, 1, latitude, longitude)
    notes = (
        (f"{path.name}: {str(head['city']).strip()}, months of {np.unique(year).size} years",)
        if many
        else (f"{path.name}: {str(head['city']).strip()}",)
    )
    return Raw(
        path.name,
        columns,
        local,
        round(float(head["TZ"]) * 3600),
        row_lines(first, len(table)),
        "typical" if many or len(table) <= _TYPICAL_ROWS else "true",
        latitude,
        longitude,
        float(head["altitude"]),
        notes,
    )


def _check_head(file: str, lines: list[str]) -> None:
    cells = lines[0].split(",")
    if cells[0].strip().upper() != "LOCATION":
        refuse(file, 1, "the file does not begin with LOCATION: it is no EPW file", _EXPECTED, "correct `format`")
    try:
        numbers = [float(cell) for cell in cells[6:10]]
    except ValueError:
        numbers = []
    if len(numbers) < 4:
        refuse(
            file,
            1,
            "latitude, longitude, zone or elevation is missing or no number",
            _EXPECTED,
            "correct line 1, or fetch the file again",
        )
    if len(lines) < _FIRST:
        refuse(
            file,
            0,
            f"the file ends after {len(lines)} lines",
            "eight lines of header and 8760 hours",
            "fetch the file again",
        )
    periods = lines[7].split(",")
    if periods[0].strip().upper() != "DATA PERIODS":
        refuse(file, 8, "line 8 does not begin with DATA PERIODS", "eight lines of header", "fetch the file again")
    if len(periods) > 2 and periods[2].strip() not in ("", "1"):
        refuse(
            file,
            8,
            f"the file has {periods[2].strip()} rows an hour",
            "one row an hour",
            "average it to hours, or write it as csv, which may have several rows an hour",
        )


def _check_rows(file: str, lines: list[str]) -> None:
    for number, line in enumerate(lines[_FIRST - 1 :], start=_FIRST):
        if line.count(",") < _LEAST_CELLS - 1 and line.strip():
            refuse(
                file,
                number,
                f"the row has {line.count(',') + 1} cells",
                "35 cells",
                "fetch the file again, or remove the row",
            )


def _tell_row(file: str, lines: list[str]) -> None:
    """The first row whose date cannot be read."""
    for number, line in enumerate(lines[_FIRST - 1 :], start=_FIRST):
        cells = line.split(",")[:4]
        numbers = [int(cell) if cell.strip().isdigit() else 0 for cell in cells]
        if line.strip() and not (0 < numbers[1] <= 12 and 0 < numbers[2] <= 31 and 0 < numbers[3] <= 24 and numbers[0]):
            refuse(
                file,
                number,
                f"the row begins with {','.join(cells)}",
                "year, month 1..12, day and hour 1..24",
                "correct the row, or remove it",
            )
