"""The text of a weather file, whatever its encoding, and the checks that all formats share."""

from pathlib import Path
from typing import Any

import numpy as np

from ..hours import FloatArray, IntArray
from ..trouble import refuse

_MOST_BYTES = 200_000_000


def file_text(path: Path) -> str:
    """The text of a file: UTF-8, else Latin-1, as older weather files are. Refuses what is no text."""
    data = file_bytes(path)
    if b"\0" in data[:4096]:
        refuse(
            path.name,
            0,
            "the file is no text",
            "a text file of the stated format",
            "unpack it first if it is an archive, or correct `format`",
        )
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return data.decode("latin-1")


def file_bytes(path: Path) -> bytes:
    """The bytes of a file, or a problem when it is missing, empty, a folder or far too large."""
    try:
        if path.stat().st_size > _MOST_BYTES:
            refuse(path.name, 0, "the file has more than 200 MB", "hours of some years", "make it smaller")
        data = path.read_bytes()
    except OSError as error:
        refuse(
            path.name,
            0,
            f"the weather file cannot be read: {error.strerror or error}",
            f"a file at {path.name}",
            "put it beside the site file, or correct `file`",
        )
    if not data.strip():
        refuse(path.name, 0, "the weather file is empty", "hours of weather", "fetch or export it again")
    return data


def check_spot(file: str, line: int, latitude: float, longitude: float) -> None:
    """Refuses a latitude or longitude that is no place on earth."""
    if not (abs(latitude) <= 90 and abs(longitude) <= 180):
        refuse(
            file,
            line,
            f"the place of the file is {latitude:g}° north, {longitude:g}° east",
            "latitude -90..90 and longitude -180..180",
            "correct the header; perhaps the two changed places",
        )


def numeric(table: Any, column: str, file: str, first_line: int) -> FloatArray:
    """One column of a data frame as numbers; the first cell that is none is told with its line."""
    import pandas as pd

    if column not in table.columns:
        refuse(file, 0, f"the file has no column {column}", "all columns of its format", "fetch the file again")
    cells = table[column]
    values = pd.to_numeric(cells, errors="coerce")
    bad = np.flatnonzero(values.isna().to_numpy() & cells.notna().to_numpy())
    if bad.size:
        row = int(bad[0])
        refuse(
            file,
            first_line + row if first_line else 0,
            f"{column} is {str(cells.iloc[row])!r}",
            "a number",
            "correct the cell, or leave it empty: short gaps are filled",
        )
    found: FloatArray = values.to_numpy(dtype=np.float64, copy=True)
    return found


def blank(values: FloatArray, low: float, high: float) -> FloatArray:
    """Values with nan where they carry the format's own mark for missing, which lies outside low..high."""
    found: FloatArray = np.where((values < low) | (values > high), np.nan, values)
    return found


def row_lines(first: int, count: int) -> IntArray:
    """Line numbers of rows that follow one another."""
    return np.arange(first, first + count, dtype=np.int64)


def local_seconds(date: tuple[IntArray, IntArray, IntArray], hour: FloatArray, file: str, first: int) -> IntArray:
    """Calendar columns as seconds since 1970 of their own clock; a date that does not exist is told with its line."""
    year, month, day = date
    month_days = np.array([31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31])
    fine = (month >= 1) & (month <= 12)
    fine &= (day >= 1) & (day <= month_days[np.clip(month, 1, 12) - 1]) & (hour >= 0) & (hour <= 24)
    fine &= (year >= 1) & (year <= 9999)
    fine &= (month != 2) | (day < 29) | ((year % 4 == 0) & ((year % 100 != 0) | (year % 400 == 0)))
    if not fine.all():
        row = int(np.flatnonzero(~fine)[0])
        told = f"{year[row]}-{month[row]:02d}-{day[row]:02d} hour {hour[row]:g}"
        refuse(
            file,
            first + row,
            f"{told} is no hour of any year",
            "month 1..12, day of the month, hour of the day",
            "correct the row, or fetch the file again",
        )
    months = (year - 1970) * 12 + month - 1
    days = months.astype("datetime64[M]").astype("datetime64[D]").astype(np.int64) + day - 1
    return days * 86400 + np.round(hour * 3600).astype(np.int64)
