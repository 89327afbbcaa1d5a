"""Weather of our own making for tests: clear sky by pvlib, a cloud a day, air with a swing. Nothing of the product."""

from functools import cache
from pathlib import Path

import numpy as np
import pandas as pd
from pvlib import clearsky, irradiance, solarposition

from ohmstead.site.model import Site
from ohmstead.site.read import read_text

SKERRY = (57.6, -7.5)


@cache
def sky(spot: tuple[float, float], first: str, last: str, minutes: int = 60) -> pd.DataFrame:
    """Rows from first to last day, both included, stamped in UTC at the start of each interval."""
    index = pd.date_range(
        first, pd.Timestamp(last) + pd.Timedelta(days=1), freq=f"{minutes}min", tz="UTC", inclusive="left"
    )
    middle = index + pd.Timedelta(minutes=minutes / 2)
    zenith = solarposition.ephemeris(middle, *spot)["zenith"].to_numpy()
    ghi = clearsky.haurwitz(pd.Series(zenith))["ghi"].to_numpy()
    days = (index - index[0]).days.to_numpy()
    cloud = np.random.default_rng(7).choice([0.15, 0.4, 0.7, 1.0], size=days.max() + 1)[days]
    made = pd.DataFrame(
        {"ghi": ghi * cloud, "air": 10 + 6 * np.sin((index.hour.to_numpy() - 9) / 12 * np.pi)}, index=index
    )
    parted = irradiance.erbs(made["ghi"].to_numpy(), zenith, middle.day_of_year.to_numpy())
    made["dni"], made["dhi"] = parted["dni"], parted["dhi"]
    return made


def site(weather: str, spot: tuple[float, float] | None = SKERRY, more: str = "") -> Site:
    """A site with a section weather, and nothing else that matters."""
    place = f", latitude: {spot[0]}, longitude: {spot[1]}" if spot else ""
    return read_text(
        f"ohmstead: 1\nsite: {{name: t{place}}}\nbattery: {{bank: {{chemistry: LFP, cells: 8, capacity: 280 Ah}}}}\n"
        f"weather: {weather}\n{more}",
        "t.yaml",
    )


CSV = "{file: a.csv, format: csv, columns: {time: stamp, sun: 'GHI [W/m2]', air: 'T [°C]'}, timezone: %s, stamps: %s}"


def write_csv(folder: Path, rows: pd.DataFrame, zone: str = "UTC") -> None:
    """Rows as a.csv, stamped by the clock of a zone."""
    local = rows.tz_convert(zone).tz_localize(None)
    lines = [
        f"{stamp:%Y-%m-%d %H:%M},{sun:.1f},{air:.1f}"
        for stamp, sun, air in zip(local.index, rows["ghi"], rows["air"], strict=True)
    ]
    (folder / "a.csv").write_text("\n".join(["stamp,GHI,T", *lines]) + "\n", encoding="utf-8")


def write_epw(folder: Path, rows: pd.DataFrame, spot: tuple[float, float], zone_h: float, name: str = "a.epw") -> Path:
    """Rows as EPW; their clock is taken as the zone's standard time."""
    head = [
        f"LOCATION,Tórshavn,-,FRO,made,000000,{spot[0]},{spot[1]},{zone_h},12.0",
        "DESIGN CONDITIONS,0", "TYPICAL/EXTREME PERIODS,0", "GROUND TEMPERATURES,0",
        "HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0",
        "COMMENTS 1,made", "COMMENTS 2,made", "DATA PERIODS,1,1,Data,Sunday, 1/ 1,12/31",
    ]  # fmt: skip
    local = rows.index.tz_convert("UTC").tz_localize(None) + pd.Timedelta(hours=zone_h)
    cells = zip(local, rows["air"], rows["ghi"], rows["dni"], rows["dhi"], strict=True)
    lines = [
        f"{t.year},{t.month},{t.day},{t.hour + 1},60,?,{air:.1f},5,80,101300,0,0,300,{ghi:.0f},{dni:.0f},{dhi:.0f},"
        "0,0,0,0,180,4.0,5,5,20,77777,9,999999999,89,0.1,0,88,0.2,0,0"
        for t, air, ghi, dni, dhi in cells
    ]
    path = folder / name
    path.write_text("\n".join(head + lines) + "\n", encoding="latin-1")
    return path
