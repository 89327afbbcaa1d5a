"""Rows of a file laid on the clock of whole years: years counted, leap days dropped, doubles told, holes kept."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from .calendar import TYPICAL_YEAR, clock, year_begin_s
from .hours import HOUR_S, HOURS_A_YEAR, FloatArray, IntArray
from .raw import Raw, when
from .trouble import refuse

_DAY_S = 86400
LACKING_HOURS = 72  # a year may lack this much at its end; a stretch of that length is still filled from its neighbours
_ENOUGH = 0.75  # share of an hour's shorter rows that must be there; common practice, no source


@dataclass(frozen=True, slots=True)
class Grid:
    """Whole years of hours with holes. `row` is the row of the file an hour came from, -1 for a hole."""

    columns: dict[str, FloatArray]
    start_utc_s: IntArray
    local_s: IntArray
    year: IntArray
    row: IntArray
    notes: tuple[str, ...]


def lay_out(raw: Raw) -> Grid:
    """The rows of a file on whole years; finer rows are averaged, those of a day stand in all its hours."""
    if raw.years == "typical":
        return _typical(raw)
    rows, local, notes = _in_order(raw)
    columns = {name: values[rows] for name, values in raw.columns.items()}
    if raw.step_s < HOUR_S:
        columns, local, rows = _to_hours(columns, local, rows, raw.step_s)
    elif raw.step_s == _DAY_S:
        columns, local, rows = _to_each_hour(columns, local, rows)
    return _true(raw, columns, local, rows, notes)


def _typical(raw: Raw) -> Grid:
    """Months of many years as one year, by month, day and hour of each row."""
    date = raw.local_s.astype("datetime64[s]")
    month = date.astype("datetime64[M]").astype(np.int64) % 12
    day = (date.astype("datetime64[D]") - date.astype("datetime64[M]").astype("datetime64[D]")).astype(np.int64)
    years = np.unique(date.astype("datetime64[Y]").astype(np.int64) + 1970)
    leap = (month == 1) & (day == 28)
    _check_half(raw)
    first = np.array([0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334])[month]
    hour = (first + day) * 24 + (raw.local_s % _DAY_S) // HOUR_S
    kept = np.flatnonzero(~leap)
    place, counts = np.unique(hour[kept], return_counts=True)
    if (counts > 1).any():
        twice = kept[hour[kept] == place[counts > 1][0]]
        refuse(
            raw.file,
            raw.line(int(twice[1])),
            f"{when(int(raw.local_s[twice[1]]))[5:]} stands twice, first in line {raw.line(int(twice[0]))}; "
            f"the file has {raw.local_s.size} hours",
            "twelve months, each hour once",
            "remove the months that are too many",
        )
    if HOURS_A_YEAR - place.size > LACKING_HOURS * 12:
        refuse(raw.file, 0, f"the file has {place.size} of 8760 hours", "a whole year", "fetch the file again")
    row = np.full(HOURS_A_YEAR, -1, dtype=np.int64)
    row[hour[kept]] = kept
    year = int(years[0]) if years.size == 1 and not _is_leap(int(years[0])) else TYPICAL_YEAR
    start, of_year = clock(year, 1, raw.offset_s)
    start = start + int(np.bincount(raw.local_s % HOUR_S).argmax())
    notes = raw.notes
    if year != years[0]:
        notes += (f"its year is dated {year} here",)
    if leap.any():
        notes += (f"29 February is left out, {int(leap.sum())} hours",)
    return Grid(_at(raw.columns, row), start, start + raw.offset_s, of_year, row, notes)


def _check_half(raw: Raw) -> None:
    """All hours must begin at the same minute."""
    phase = raw.local_s % HOUR_S
    odd = np.flatnonzero(phase != np.bincount(phase).argmax())
    if odd.size:
        row = int(odd[0])
        late = f"{when(int(raw.local_s[row]))} lies {phase[row] // 60} minutes past the hour"
        refuse(
            raw.file,
            raw.line(row),
            f"{late}, other rows do not",
            "rows that begin at the same minute of every hour",
            "correct the stamp, or average the file to hours",
        )


def _in_order(raw: Raw) -> tuple[IntArray, IntArray, tuple[str, ...]]:
    """Rows by time, equal doubles dropped; doubles that differ are refused."""
    rows = np.argsort(raw.local_s, kind="stable").astype(np.int64)
    local = raw.local_s[rows]
    notes = raw.notes
    if (np.diff(raw.local_s) < 0).any():
        notes += ("rows stood out of order and were sorted",)
    double = np.flatnonzero(np.diff(local) == 0)
    for at in double:
        one, two = int(rows[at]), int(rows[at + 1])
        if not all(_same(values[one], values[two]) for values in raw.columns.values()):
            refuse(
                raw.file,
                raw.line(two),
                f"{when(int(local[at]))} stands twice with different values, first in line {raw.line(one)}",
                "each hour once",
                "state the right `timezone` if the clock was put back here, or remove one row",
            )
    if double.size:
        notes += (f"{double.size} rows stood twice with equal values; one of each was kept",)
        keep = np.append(np.diff(local) > 0, True)
        rows, local = rows[keep], local[keep]
    return rows, local, notes


def _same(one: np.float64, two: np.float64) -> bool:
    return bool(one == two or (np.isnan(one) and np.isnan(two)))


def _to_hours(
    columns: dict[str, FloatArray], local: IntArray, rows: IntArray, step_s: int
) -> tuple[dict[str, FloatArray], IntArray, IntArray]:
    """Means over clock hours; an hour that lacks more than a quarter of its rows is a hole."""
    hour = local // HOUR_S
    begin, place = np.unique(hour, return_inverse=True)
    wanted = _ENOUGH * HOUR_S / step_s
    averaged = {}
    for name, values in columns.items():
        known = ~np.isnan(values)
        count = np.bincount(place[known], minlength=begin.size)
        total = np.bincount(place[known], weights=values[known], minlength=begin.size)
        averaged[name] = np.where(count >= wanted, total / np.maximum(count, 1), np.nan)
    first = np.searchsorted(hour, begin)
    return averaged, (begin * HOUR_S).astype(np.int64), rows[first]


def _to_each_hour(
    columns: dict[str, FloatArray], local: IntArray, rows: IntArray
) -> tuple[dict[str, FloatArray], IntArray, IntArray]:
    """Each day's value on all its hours; who knows the course of the sun shapes it afterwards."""
    hour = (local[:, None] // _DAY_S * _DAY_S + np.arange(24) * HOUR_S).ravel()
    return {name: np.repeat(values, 24) for name, values in columns.items()}, hour, np.repeat(rows, 24)


def _true(raw: Raw, columns: dict[str, FloatArray], local: IntArray, rows: IntArray, notes: tuple[str, ...]) -> Grid:
    """Years as they were. They begin in January when the file does, else 8760 hours are counted from its first hour."""
    phases = local % HOUR_S
    phase = int(np.bincount(phases).argmax())
    if (phases != phase).any():
        odd = int(rows[np.flatnonzero(phases != phase)[0]])
        refuse(
            raw.file,
            raw.line(odd),
            f"{when(int(raw.local_s[odd]))} lies off the hour by which other rows begin",
            "rows that begin at the same minute of every hour",
            "correct the stamp",
        )
    if phase:
        notes += (f"hours begin {phase // 60} minutes past the full hour",)
    first, last = int(local[0]), int(local[-1]) + HOUR_S
    year = int((np.datetime64(first, "s")).astype("datetime64[Y]").astype(np.int64)) + 1970
    if first - year_begin_s(year) > LACKING_HOURS * HOUR_S:
        hole = first
    else:
        hole = year_begin_s(year) + phase
    end_year = int((np.datetime64(last - 1, "s")).astype("datetime64[Y]").astype(np.int64)) + 1970
    start, of_year = clock(year, end_year - year + 2, raw.offset_s)
    start = start + phase
    begin = int(np.searchsorted(start, hole - raw.offset_s))
    there = int(np.searchsorted(start, last - raw.offset_s)) - begin
    n_year = (there + LACKING_HOURS) // HOURS_A_YEAR
    if n_year == 0:
        span = f"{when(first)} to {when(last)}"
        refuse(
            raw.file,
            0,
            f"the file runs from {span}: {there / 24:.0f} days",
            "at least one whole year",
            "fetch a longer stretch, or use twelve monthly means",
        )
    over = there - n_year * HOURS_A_YEAR
    chosen = slice(begin, begin + n_year * HOURS_A_YEAR)
    start = start[chosen]
    of_year = np.repeat(of_year[begin::HOURS_A_YEAR][:n_year], HOURS_A_YEAR)
    if over > 24:
        notes += (f"the last {over / 24:.0f} days are left out: only whole years count",)
    place = np.searchsorted(start, local - raw.offset_s)
    inside = (place < start.size) & (start[np.minimum(place, start.size - 1)] == local - raw.offset_s)
    row = np.full(start.size, -1, dtype=np.int64)
    row[place[inside]] = np.flatnonzero(inside)
    dates = local.astype("datetime64[s]").astype("datetime64[D]")
    leap = _leap_days(dates)
    if leap:
        notes += (f"{leap} leap {'day is' if leap == 1 else 'days are'} left out: every year has 365 days",)
    laid = _at(columns, row)
    row[row >= 0] = rows[row[row >= 0]]
    return Grid(laid, start, start + raw.offset_s, of_year, row, notes)


def _leap_days(day: NDArray[np.datetime64]) -> int:
    month = day.astype("datetime64[M]")
    is_leap = (month.astype(np.int64) % 12 == 1) & ((day - month.astype("datetime64[D]")).astype(np.int64) == 28)
    return int(np.unique(day[is_leap]).size)


def _at(columns: Mapping[str, FloatArray], row: IntArray) -> dict[str, FloatArray]:
    return {name: np.where(row >= 0, values[np.maximum(row, 0)], np.nan) for name, values in columns.items()}


def _is_leap(year: int) -> bool:
    return year % 4 == 0 and (year % 100 != 0 or year % 400 == 0)
