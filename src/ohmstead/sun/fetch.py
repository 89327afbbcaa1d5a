"""Weather of true years from NASA POWER, year by year, kept in a folder so that nothing is asked for twice."""

from collections.abc import Callable
from os import replace
from pathlib import Path
from typing import Any

import numpy as np

from .readers.power import COLUMNS, FILL
from .trouble import refuse

FIRST_YEAR = 2001  # hours begin here
SERVICE = "https://power.larc.nasa.gov/api/temporal/hourly/point"
_NAMES = {
    "ghi": "ALLSKY_SFC_SW_DWN",
    "dni": "ALLSKY_SFC_SW_DNI",
    "dhi": "ALLSKY_SFC_SW_DIFF",
    "temp_air": "T2M",
    "wind_speed": "WS10M",
}


def fetch_weather(
    latitude: float,
    longitude: float,
    years: tuple[int, int],
    folder: Path,
    service: str = SERVICE,
    say: Callable[[str], None] = lambda _: None,
) -> Path:
    """A file of whole years in `folder`, in the service's own csv form; years that are there already are not asked for.

    years: first and last, both included. service: where it is asked. say: told of every year.
    """
    first, last = years
    if not FIRST_YEAR <= first <= last:
        refuse(
            "NASA POWER",
            0,
            f"years {first} to {last} cannot be fetched",
            f"{FIRST_YEAR} or later, the first before the last",
            "write --from 2010 --to 2020",
        )
    folder.mkdir(parents=True, exist_ok=True)
    stem = f"power_{latitude:.2f}_{longitude:.2f}"
    head, rows = "", []
    for year in range(first, last + 1):
        kept = folder / f"{stem}_{year}.csv"
        if kept.is_file():
            say(f"{year}: at hand")
        else:
            say(f"{year}: asked for")
            _write(kept, _year(latitude, longitude, year, service))
        text = kept.read_text(encoding="utf-8")
        head, _, body = text.partition("-END HEADER-\n")
        heading, _, lines = body.partition("\n")
        rows.append(lines)
    whole = folder / f"{stem}_{first}-{last}.csv"
    _write(whole, f"{head}-END HEADER-\n{heading}\n{''.join(rows)}")
    return whole


def _year(latitude: float, longitude: float, year: int, service: str) -> str:
    """One year of the service as csv."""
    from pvlib.iotools import get_nasa_power

    try:
        table, meta = get_nasa_power(latitude, longitude, f"{year}-01-01", f"{year}-12-31", list(_NAMES), url=service)
    except (OSError, ValueError, KeyError, TypeError) as error:
        refuse(
            "NASA POWER",
            0,
            f"year {year} did not come: {_reason(error)}",
            "an answer of the hourly service of NASA POWER",
            "check the connection and try again; years that came are kept, and a file from elsewhere does as well",
        )
    missing = [name for name in _NAMES if name not in table.columns]
    if missing or len(table) not in (8760, 8784):
        refuse(
            "NASA POWER",
            0,
            f"year {year} came with {len(table)} hours{' and without ' + ', '.join(missing) if missing else ''}",
            "8760 or 8784 hours",
            "take an earlier last year: the newest months come late",
        )
    return _text(table, meta)


def _text(table: Any, meta: dict[str, Any]) -> str:
    stamps = table.index
    columns = {_NAMES[name]: table[name].fillna(FILL).to_numpy(dtype=np.float64) for name in _NAMES}
    assert set(columns) <= set(COLUMNS)
    clock = zip(stamps.year, stamps.month, stamps.day, stamps.hour, strict=True)
    values = zip(*columns.values(), strict=True)
    lines = [
        f"{y},{m},{d},{h}," + ",".join(f"{v:g}" for v in row) for (y, m, d, h), row in zip(clock, values, strict=True)
    ]
    head = (
        "-BEGIN HEADER-\n"
        "NASA/POWER Source Native Resolution Hourly Data, hours in UTC\n"
        f"Location: latitude {meta['latitude']:g}   longitude {meta['longitude']:g}\n"
        f"Elevation of the cell: Average = {meta['altitude']:g} meters\n"
        f"The value for missing data: {FILL:g}; sun in W/m^2, T2M in C, WS10M in m/s\n"
        "-END HEADER-\n"
    )
    return head + ",".join(["YEAR", "MO", "DY", "HR", *columns]) + "\n" + "\n".join(lines) + "\n"


def _write(path: Path, text: str) -> None:
    """All or nothing: a broken-off download leaves no half file."""
    part = path.with_suffix(".part")
    part.write_text(text, encoding="utf-8")
    replace(part, path)


def _reason(error: Exception) -> str:
    text = " ".join(str(error).split())
    return text if len(text) < 160 else f"{type(error).__name__}, {text[:120]}…"
