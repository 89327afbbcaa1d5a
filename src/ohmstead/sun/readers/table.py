"""CSV and Parquet with columns of the builder's own: which column, unit, zone and stamp is stated in the site file."""

import re
from io import BytesIO, StringIO
from pathlib import Path
from typing import Any

import numpy as np

from ...site.model import Site
from ...site.sky import Weather
from ..hours import IntArray
from ..raw import Raw
from ..trouble import refuse, refuse_at
from .measure import QUANTITIES, SERIES, Column, known_name, known_unit, split_heading, units_of
from .text import file_bytes, file_text, numeric
from .zone import fixed_offset_s, zone_info

_HOUR, _DAY = 3600, 86400
_ISO = r"\d{4}-\d{2}-\d{2}([T ]\d{2}(:\d{2}(:\d{2}(\.\d+)?)?)?\s*(Z|[+-]\d{2}:?\d{2})?)?"


def read_table(path: Path, site: Site) -> Raw:
    """Rows of a csv or parquet file."""
    weather = site.weather
    assert weather is not None
    wanted = _mapping(site, weather)
    table, first = _csv(path) if weather.format == "csv" else (_parquet(path), 0)
    table.columns = [str(name).strip() for name in table.columns]
    if not len(table):
        refuse(path.name, 0, "the file has no rows", "hours of whole years", "export it again")
    headings = {name: _heading(path.name, table, column) for name, column in wanted.items()}
    utc, offset = _clock(path.name, first, table[headings.pop("time")], weather)
    step = _step(path.name, utc, first)
    series = [name for name in headings if name.startswith(SERIES)]
    if step == _DAY and len(series) < len([name for name in headings if name not in ("air", "wind")]):
        refuse(
            path.name,
            0,
            "the sun stands by the day",
            "sun by the hour, or finer",
            "write the means of the months as `monthly sun`, or give harvest by the day",
        )
    columns = {
        name: wanted[name].in_si(numeric(table, heading, path.name, first), step) for name, heading in headings.items()
    }
    begin = {"start": 0, "middle": step // 2, "end": step}[weather.stamps]
    lines = np.arange(first, first + len(table), dtype=np.int64) if first else np.empty(0, np.int64)
    return Raw(
        path.name,
        columns,
        utc + offset - begin,
        offset,
        lines,
        "true",
        site.about.latitude or 0.0,
        site.about.longitude or 0.0,
        site.about.elevation_m,
        (f"{path.name}: rows {_words(step)}",),
        step,
    )


def _mapping(site: Site, weather: Weather) -> dict[str, Column]:
    """Quantities of the section `columns`, in our names."""
    place = weather.origin["columns"].place or weather.place if "columns" in weather.origin else weather.place
    stated = weather.columns or {}
    found: dict[str, Column] = {}
    allowed = ", ".join(["time", *QUANTITIES, *(f"{s}, {s} of ARRAY" for s in SERIES)])
    for quantity, written in stated.items():
        heading, unit = split_heading(written)
        if quantity == "time":
            found["time"] = Column("time", written.strip(), unit)
            continue
        name = known_name(quantity)
        if name is None:
            refuse_at(
                place,
                site.text,
                f"columns: {quantity!r} is no quantity of weather",
                f"one of: {allowed}",
                "use one of these names",
            )
        spelt = known_unit(name, unit)
        if spelt is None:
            what = f"has the unit {unit!r}" if unit else "has no unit"
            refuse_at(
                place,
                site.text,
                f"columns: {quantity} {what}",
                f"one of: {units_of(name)}",
                f"write {quantity}: '{heading} [{units_of(name).split(',')[0]}]'",
            )
        _, _, array = name.partition(" of ")
        if array and array not in site.arrays:
            refuse_at(
                place,
                site.text,
                f"columns: there is no array {array!r}",
                f"one of: {', '.join(site.arrays)}" if site.arrays else "an array of section arrays; there are none",
                "name an array of section arrays",
            )
        found[name] = Column(name, written.strip(), spelt)
    kinds = {name.split(" of ")[0] for name in found} & set(SERIES)
    if "time" not in found or not ("ghi" in found or kinds):
        refuse_at(
            place,
            site.text,
            "columns name no time, or neither sun nor plane nor harvest",
            "time, and sun",
            "write columns: {time: stamp, sun: 'GHI [W/m2]', air: 'T [°C]'}",
        )
    if len(kinds) > 1 or kinds and "ghi" in found:
        refuse_at(
            place,
            site.text,
            "columns name sun, plane and harvest side by side",
            "one of the three",
            "keep the one that harvest shall be taken from",
        )
    return found


def _heading(file: str, table: Any, column: Column) -> str:
    """The heading in the file: as written, or without the unit behind it."""
    for heading in (column.heading, split_heading(column.heading)[0]):
        if heading in table.columns:
            if list(table.columns).count(heading) > 1:
                refuse(file, 1, f"two columns are called {heading!r}", "one", "rename one of them in the file")
            return heading
    refuse(
        file,
        1,
        f"there is no column {column.heading!r}",
        f"one of: {', '.join(table.columns)}",
        "correct `columns` in the site file",
    )


def _csv(path: Path) -> tuple[Any, int]:
    import pandas as pd

    text = file_text(path)
    if ";" in text.split("\n", 1)[0]:
        refuse(
            path.name,
            1,
            "columns are parted by semicolons",
            "commas between columns, points in numbers",
            "export the file with commas and decimal points",
        )
    skipped = next((n for n, line in enumerate(text.splitlines()) if line.strip() and not line.startswith("#")), 0)
    try:
        table = pd.read_csv(
            StringIO(text),
            skiprows=skipped,
            dtype=str,
            skipinitialspace=True,
            skip_blank_lines=False,
            na_values=["", "NaN", "nan", "NA", "null", "-"],
            keep_default_na=False,
        )
    except ValueError as error:
        refuse(
            path.name,
            0,
            f"this is no csv file: {str(error).strip()}",
            "a line of headings, then rows of as many cells",
            "correct the row, or export the file again",
        )
    while len(table) and table.iloc[-1].isna().all():
        table = table.iloc[:-1]
    return table, skipped + 2


def _parquet(path: Path) -> Any:
    import pandas as pd

    try:
        table = pd.read_parquet(BytesIO(file_bytes(path)))
    except ImportError:
        refuse(
            path.name,
            0,
            "parquet needs the package pyarrow",
            "pyarrow",
            "pip install pyarrow, or write the file as csv",
        )
    except (ValueError, OSError):
        refuse(path.name, 0, "this is no parquet file", "a parquet file", "correct `format`, or export it again")
    return table.reset_index() if table.index.name else table


def _clock(file: str, first: int, cells: Any, weather: Weather) -> tuple[IntArray, int]:
    """Stamps as seconds UTC, and the standard time of the zone minus UTC."""
    import pandas as pd

    zone = weather.timezone
    fixed = fixed_offset_s(zone)
    rules = None if fixed is not None else zone_info(zone)
    if fixed is None and rules is None:
        refuse(
            file, 0, f"{zone!r} is no time zone", "UTC, UTC+2, or a name such as Europe/London", "correct `timezone`"
        )
    if not hasattr(cells, "dt"):
        own = _own_offset_s(str(cells.iloc[0]))
        cells = _stamps(file, first, cells)
    else:
        own = None if cells.dt.tz is None else cells.iloc[0].utcoffset().total_seconds()
    aware = cells.dt.tz is not None
    if aware:
        moments = cells.dt.tz_convert("UTC").dt.tz_localize(None)
    elif fixed is not None:
        moments = cells - pd.Timedelta(seconds=fixed)
    else:
        try:
            moments = cells.dt.tz_localize(rules, ambiguous="infer").dt.tz_convert("UTC").dt.tz_localize(None)
        except (ValueError, KeyError):
            refuse(
                file,
                0,
                f"the clock of {zone} is put forward and back, and the stamps do not follow",
                "stamps that follow the clock, or a zone without summer time",
                "state the zone the stamps really keep, such as UTC or UTC+1",
            )
    utc = moments.to_numpy().astype("datetime64[s]").astype(np.int64)
    if fixed is not None:
        offset = fixed
    else:
        away = (cells.dt.tz_convert(rules) if aware else cells).dt.tz_localize(None)
        offset = int((away.to_numpy().astype("datetime64[s]").astype(np.int64) - utc).min())
    if own and own not in (offset, offset + _HOUR):
        refuse(
            file,
            first,
            f"the stamps carry a zone {own / 3600:+g} h from UTC, the site file says {zone}",
            "the same zone",
            "correct `timezone`",
        )
    return utc, offset


def _own_offset_s(stamp: str) -> float | None:
    """The zone a stamp carries behind its time, such as +09:00."""
    found = re.search(r":\d{2}\s*([+-])(\d{2}):?(\d{2})$", stamp.strip())
    return None if found is None else float(found[1] + "1") * (int(found[2]) * 3600 + int(found[3]) * 60)


def _stamps(file: str, first: int, cells: Any) -> Any:
    import pandas as pd

    plain = cells.str.strip()
    bad = np.flatnonzero(~plain.fillna("").str.fullmatch(_ISO).to_numpy())
    if bad.size:
        row = int(bad[0])
        refuse(
            file,
            first + row,
            f"the stamp is {str(cells.iloc[row])!r}",
            "year-month-day hour:minute, such as 2021-01-31 13:00",
            "export the file with such stamps; 1/2/2021 could be January or February",
        )
    try:
        zoned = plain.str.contains(r"Z$|[+-]\d{2}:?\d{2}$", regex=True).to_numpy() & (plain.str.len() > 10).to_numpy()
        return pd.to_datetime(plain, format="ISO8601", utc=bool(zoned.all()))
    except ValueError as error:
        refuse(
            file, 0, f"a stamp cannot be read: {error}", "stamps of one form, such as 2021-01-31 13:00", "correct it"
        )


def _step(file: str, utc: IntArray, first: int) -> int:
    """The interval that most rows keep."""
    gaps = np.diff(utc)
    forward = gaps[gaps > 0]
    if not forward.size:
        refuse(file, first, "all rows have one stamp", "one row an hour", "correct the column of time")
    steps, counts = np.unique(forward, return_counts=True)
    step = int(steps[counts.argmax()])
    if step > _HOUR and step != _DAY or _HOUR % step and step != _DAY:
        refuse(
            file,
            0,
            f"most rows are {step / 60:g} minutes apart",
            "an hour, a part of an hour that fills it, or a day",
            "bring the file to hours",
        )
    return step


def _words(step: int) -> str:
    return {_HOUR: "by the hour", _DAY: "by the day"}.get(step, f"every {step // 60} minutes, averaged to hours")
