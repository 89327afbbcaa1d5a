"""The weather of a site as hours: from its file, or drawn from its monthly means, or of a clear sky."""

from pathlib import Path

import numpy as np

from ..site.model import Site
from ..site.place import Place
from .calendar import TYPICAL_YEAR, zone_name
from .checks import Sky, check_brightness, check_clock, check_height, check_place, check_values
from .daylight import clear_w_per_m2, cos_zenith, extra_w_per_m2
from .gaps import fill
from .hours import HOUR_S, FloatArray, Given, Hours
from .raw import Raw
from .readers.table import read_table
from .readers.zone import standard_offset_s
from .split import LOWEST_SUN, SPLIT, split
from .trouble import refuse, refuse_at
from .whole_years import Grid, lay_out
from .years import Spot, clear_year, drawn_weather, impossible_months, month_clearness, outside_by_month

MILD_C = 15.0  # taken where a file has no air; said in a note
_DAY_S = 86400


def read_hours(site: Site, folder: str | Path | None = None) -> Hours:
    """Hours of weather for a site; raises WeatherError (a SiteError) with what to mend.

    A weather file is looked for in `folder`, else beside the site file.
    """
    raw = _rows(site, folder)
    if raw is None:
        return _without_file(site)
    if _series(raw):
        refuse(
            raw.file,
            0,
            "the file holds a series of the panels, not the sun",
            "sun on the level",
            "read it with `read_given`, or name a column of the sun",
        )
    hours, _ = _hours(raw, site)
    return hours


def read_given(site: Site, folder: str | Path | None = None) -> Given | None:
    """The series in the plane of the panels, or of harvest, that the weather file holds; None when it holds weather."""
    raw = _rows(site, folder) if holds_series(site) else None
    if raw is None:
        return None
    hours, columns = _hours(raw, site)
    kind = _series(raw)[0].split(" of ")[0]
    by_array = {name.partition(" of ")[2]: columns[name] for name in _series(raw)}
    return Given(kind, by_array, hours, hours.notes)


def holds_series(site: Site) -> str:
    """ "plane" or "harvest" when the site's file gives a series of the panels' own, "" when it gives weather."""
    stated = (site.weather.columns if site.weather else None) or {}
    kinds = {name.split(" of ")[0] for name in stated} & {"plane", "harvest"}
    return min(kinds, default="")


def _series(raw: Raw) -> list[str]:
    return [name for name in raw.columns if name.startswith(("plane", "harvest"))]


def _rows(site: Site, folder: str | Path | None) -> Raw | None:
    weather = site.weather
    if weather is None:
        place = Place(site.path, 0, 0, 0, 0)
        refuse_at(
            place,
            site.text,
            "the site has no section weather",
            "a weather file, or twelve monthly means",
            "add weather: {file: skerry.epw, format: epw}, or monthly sun and monthly air",
        )
    if not weather.file:
        return None
    path = (Path(site.path).parent if folder is None else Path(folder)) / weather.file
    if not path.is_file():
        refuse_at(
            weather.origin["file"].place or weather.place if "file" in weather.origin else weather.place,
            site.text,
            f"there is no file {weather.file}",
            "a weather file beside the site file",
            "put it there, correct `file`, or fetch one: ohmstead weather FILE --fetch",
        )
    if weather.format in ("csv", "parquet"):
        return read_table(path, site)
    if weather.format == "epw":
        from .readers.epw import read_epw

        return read_epw(path)
    if weather.format == "nasa power":
        from .readers.power import read_power

        return read_power(path)
    from .readers import tmy

    return tmy.read_tmy2(path) if weather.format == "tmy2" else tmy.read_tmy3(path)


def _hours(raw: Raw, site: Site) -> tuple[Hours, dict[str, FloatArray]]:
    """The rows of a file as checked hours, and its columns on the same clock."""
    step = raw.step_s
    grid = lay_out(raw)
    middle = grid.start_utc_s + HOUR_S // 2
    month = grid.local_s.astype("datetime64[s]").astype("datetime64[M]").astype(np.int64) % 12
    sky = Sky(cos_zenith(middle, raw.latitude, raw.longitude), extra_w_per_m2(middle), month)
    notes = [*grid.notes, *check_place(raw, site)]
    own_header = site.weather is not None and site.weather.format in ("epw", "tmy2", "tmy3")
    notes += check_height(raw) if own_header else ()
    columns = dict(grid.columns)
    if step == _DAY_S:
        columns = {name: _by_sun(values, sky.high) if _is_light(name) else values for name, values in columns.items()}
        notes.append("values by the day are spread over its hours as a clear sky would")
    grid = Grid(columns, grid.start_utc_s, grid.local_s, grid.year, grid.row, grid.notes)
    filled, told = fill(raw, grid, sky.high)
    notes += told
    if "ghi" in filled:
        check_brightness(raw, filled["ghi"], sky)
        notes += check_clock(raw, grid, filled["ghi"], sky)
        notes += check_values(raw, grid, {n: v for n, v in filled.items() if n in columns}, sky)
    elif step != _DAY_S:
        notes += _check_series(raw, grid, filled, sky)
    return _assembled(raw, grid, filled, sky, notes), filled


def _check_series(raw: Raw, grid: Grid, filled: dict[str, FloatArray], sky: Sky) -> tuple[str, ...]:
    """A series of panels that face any way cannot be laid over a level sky; only dark hours and air are looked at."""
    for name in _series(raw):
        values = filled[name]
        dark = values[sky.high < -0.1].sum()
        if dark > 0.02 * max(values.sum(), 1e-9):
            refuse(
                raw.file,
                0,
                f"{dark / values.sum() * 100:.0f} % of {name} falls into the night",
                "harvest by day",
                "correct `timezone`, or the longitude of the site",
            )
    check_values(raw, grid, {n: v for n, v in filled.items() if n in ("air", "wind")}, sky)
    return ()


def _assembled(raw: Raw, grid: Grid, filled: dict[str, FloatArray], sky: Sky, notes: list[str]) -> Hours:
    blank = np.full(sky.high.size, np.nan)
    ghi = np.maximum(filled["ghi"], 0.0) if "ghi" in filled else blank
    if "ghi" not in filled:
        beam = around = blank
    elif "dhi" in filled and "dni" in filled:
        beam, around = np.maximum(filled["dni"], 0.0), np.maximum(filled["dhi"], 0.0)
    elif "dhi" in filled:
        around = np.minimum(np.maximum(filled["dhi"], 0.0), ghi)
        beam = np.where(sky.high < LOWEST_SUN, 0.0, (ghi - around) / np.maximum(sky.high, LOWEST_SUN))
    elif "dni" in filled:
        beam = np.where(sky.high > 0, np.maximum(filled["dni"], 0.0), 0.0)
        around = np.maximum(ghi - beam * np.maximum(sky.high, 0.0), 0.0)
    else:
        beam, around = split(ghi, sky.high, sky.extra)
        notes.append(f"the file has neither beam nor sky; parted by {SPLIT}")
    if "air" not in filled:
        notes.append(f"the file has no air; {MILD_C:g} °C is taken all year")
    air = filled.get("air", np.full(sky.high.size, MILD_C))
    return Hours(
        grid.start_utc_s,
        ghi,
        beam,
        around,
        air,
        filled.get("wind"),
        grid.year,
        raw.latitude,
        raw.longitude,
        raw.elevation_m,
        zone_name(raw.offset_s),
        tuple(dict.fromkeys(notes)),
    )


def _is_light(name: str) -> bool:
    return name not in ("air", "wind")


def _by_sun(values: FloatArray, high: FloatArray) -> FloatArray:
    """Daily means shaped by a clear sky; the sum of the day stays."""
    clear = clear_w_per_m2(high).reshape(-1, 24)
    mean = clear.mean(axis=1, keepdims=True)
    found: FloatArray = values * np.where(mean > 0, clear / np.maximum(mean, 1e-9), 1.0).ravel()
    return found


def _without_file(site: Site) -> Hours:
    weather = site.weather
    assert weather is not None
    spot = _spot(site)
    air = np.array(weather.monthly_air_c if weather.monthly_air_c else [MILD_C] * 12)
    if weather.clear_sky == "yes":
        return clear_year(spot, air)
    sun = np.array(weather.monthly_sun_wh_per_m2)
    _check_months(site, spot, sun)
    return drawn_weather(spot, sun, air, weather.n_year, weather.seed)


def _spot(site: Site) -> Spot:
    about = site.about
    latitude, longitude = about.latitude, about.longitude
    if latitude is None or longitude is None:
        place = site.weather.place if site.weather else about.place
        refuse_at(
            place,
            site.text,
            "latitude or longitude of the site is not known",
            "both, in section site",
            "add latitude: 57.6 and longitude: -7.5",
        )
    own = standard_offset_s(about.timezone, TYPICAL_YEAR) if about.timezone else None
    solar = round(longitude / 15.0) * HOUR_S
    near = own is not None and abs(own - longitude / 15.0 * HOUR_S) <= 3 * HOUR_S
    return Spot(latitude, longitude, about.elevation_m, own if near and own is not None else solar)


def _check_months(site: Site, spot: Spot, sun: FloatArray) -> None:
    """Twelve means that no weather gives are refused, with the likely slip."""
    assert site.weather is not None
    wrong = impossible_months(spot, sun)
    if not wrong.size:
        return
    names = [
        "January",
        "February",
        "March",
        "April",
        "May",
        "June",
        "July",
        "August",
        "September",
        "October",
        "November",
        "December",
    ]
    month = int(wrong[0])
    outside = outside_by_month(spot)
    share = month_clearness(spot, sun)[month]
    mend = "check unit and month"
    if (
        wrong.size > 1
        and not impossible_months(Spot(-spot.latitude, spot.longitude, spot.elevation_m, spot.offset_s), sun).size
    ):
        mend = "the values fit the other half of the world: check the sign of latitude, and that January comes first"
    elif wrong.size > 5 and not impossible_months(spot, sun / 3.6).size:
        mend = "the values fit MJ/m²: write that unit"
    origin = site.weather.origin.get("monthly_sun_wh_per_m2")
    place = origin.place if origin and origin.place else site.weather.place
    of = (
        f", {share * 100:.0f} % of what reaches the top of the air"
        if np.isfinite(share)
        else ", yet the sun hardly rises then"
    )
    refuse_at(
        place,
        site.text,
        f"monthly sun: {sun[month] / 1000:.3g} kWh/m² a day in {names[month]}{of}",
        f"4..82 %, here {0.04 * outside[month] / 1000:.2g}..{0.82 * outside[month] / 1000:.2g} kWh/m²",
        mend,
    )
