"""Checks inside weather, arrays, obstacles and horizon: values that are fine alone and wrong together."""

from collections.abc import Callable

from ..quantity.show import show
from .drafts import Draft, Reading
from .nodes import Mapping
from .sky import Array, Horizon, Obstacle, Weather

_OWN_FORMATS = ("csv", "parquet")  # files whose columns, zone and stamps only the builder knows
_POWER_FITS = 0.1  # working voltage times current against power; sheets round each of the three
_MODULES = 5000


def check_sky_sense(draft: Draft, reading: Reading) -> None:
    """Runs the checks of the draft's class."""
    check = _CHECKS.get(draft.cls)
    if check is not None and isinstance(draft.node, Mapping):
        check(draft, reading)


def _weather(draft: Draft, reading: Reading) -> None:
    nodes = draft.nodes
    written = {"file": "file", "monthly sun": "monthly_sun_wh_per_m2"}
    sources = [key for key, attribute in written.items() if attribute in nodes]
    if draft.value("clear_sky") == "yes":
        sources.append("clear sky")
    if len(sources) != 1:
        both = " and ".join(sources)
        reading.tell(
            draft.place,
            f"section weather says {both}" if sources else "section weather says nothing of the sun",
            "one of: file, monthly sun, clear sky: yes",
            "keep one of them" if sources else "add file: skerry.epw with format: epw, or monthly sun",
        )
        return
    if "file" in nodes and "format" not in nodes:
        reading.tell(
            draft.place_of("file"),
            "section weather has no format: the file is not guessed at",
            "format: one of epw, tmy2, tmy3, nasa power, csv, parquet",
            "add format: epw, or what it is",
        )
    if draft.value("format") in _OWN_FORMATS:
        for key, attribute, example in (
            ("columns", "columns", "{time: stamp, sun: 'GHI [W/m2]', air: 'T [°C]'}"),
            ("timezone", "timezone", "UTC"),
            ("stamps", "stamps", "start"),
        ):
            if attribute not in nodes:
                reading.tell(
                    draft.place_of("format"),
                    f"section weather has no {key}: a {draft.value('format')} file does not say",
                    f"{key} of the file",
                    f"add {key}: {example}",
                )
    if "file" not in nodes and "monthly_air_c" not in nodes:
        reading.tell(
            draft.place,
            "section weather has no monthly air: panels and batteries work by it",
            "monthly air: twelve temperatures, January first",
            "add monthly air: 5 5 6 8 10 12 14 14 12 10 7 6 °C, with those of the place",
        )


def _array(draft: Draft, reading: Reading) -> None:
    value = draft.value
    for attribute, key in (("power_per_k", "power per kelvin"), ("voltage_per_k", "voltage per kelvin")):
        change = value(attribute)
        if change is not None and change > 0:
            reading.tell(
                draft.place_of(attribute),
                f"{key} is {show(change, 'share per kelvin')}: modules give less when they are hot, not more",
                "a value below zero",
                f"write {key}: -{show(change, 'share per kelvin')}",
            )
    for upper, lower, what in (("open_v", "mp_v", "voltage"), ("short_a", "mp_a", "current")):
        high, low = value(upper), value(lower)
        if high is not None and low is not None and high <= low:
            name = "open voltage" if what == "voltage" else "short current"
            reading.tell(
                draft.place_of(upper),
                f"{name} of {show(high, what)} does not lie above working {what} of {show(low, what)}",
                f"{name} above working {what}",
                "exchange the two numbers, if they changed places",
            )
    power, volts, amps = value("power_w"), value("mp_v"), value("mp_a")
    if power and volts and amps and abs(volts * amps / power - 1) > _POWER_FITS:
        reading.tell(
            draft.place_of("power_w"),
            f"{draft.label}: {show(volts, 'voltage')} times {show(amps, 'current')} is "
            f"{show(volts * amps, 'power')}, not {show(power, 'power')}",
            "working voltage times working current near the module's power",
            "take all three from the same column of the sheet, for one module",
        )
    number = (value("series") or 1) * (value("parallel") or 1)
    rows = value("rows") or 1
    if number > _MODULES:
        reading.tell(draft.place, f"{draft.label} has {number} modules", f"at most {_MODULES}", "check the two counts")
    elif number % rows:
        reading.tell(
            draft.place_of("rows"),
            f"{number} modules do not fill {rows} rows",
            "rows of equal length",
            "correct rows, or make two arrays of it",
        )
    has = [attribute in draft.nodes for attribute in ("cable_wire", "cable_m")]
    if any(has) and not all(has):
        reading.tell(
            draft.place_of("cable_wire" if has[0] else "cable_m"),
            f"{draft.label} says only one of cable and cable length",
            "both, or neither",
            "add cable: 6 mm2" if has[1] else "add cable length: 12 m",
        )


def _obstacle(draft: Draft, reading: Reading) -> None:
    top, bottom = draft.value("top_m"), draft.value("bottom_m")
    if top is not None and bottom is not None and bottom >= top:
        reading.tell(
            draft.place_of("bottom_m"),
            f"{draft.label} begins at {show(bottom, 'length')} and ends at {show(top, 'length')}",
            "bottom below top",
            "exchange the two numbers, if they changed places",
        )
    if not draft.value("east_m") and not draft.value("north_m"):
        reading.tell(
            draft.place,
            f"{draft.label} stands in the middle of the array it shades",
            "east or north: how far it stands from there",
            "add north: -8 m, or where it stands; west and south are negative",
        )
    if draft.value("shape") not in (None, "tree"):
        for attribute, key in (
            ("summer_fraction", "light in leaf"),
            ("winter_fraction", "light leafless"),
            ("leafy_months", "in leaf"),
        ):
            if attribute in draft.nodes:
                reading.tell(
                    draft.place_of(attribute),
                    f"{draft.label} is a {draft.value('shape')} and has no leaves",
                    f"{key} for a tree only",
                    f"leave {key} out, or write shape: tree",
                )


def _horizon(draft: Draft, reading: Reading) -> None:
    if ("line" in draft.nodes) == ("file" in draft.nodes):
        reading.tell(
            draft.place,
            "the horizon says " + ("both line and file" if "line" in draft.nodes else "neither line nor file"),
            "one of: line, file",
            "keep one" if "line" in draft.nodes else "add line: {90°: 4°, 180°: 11°, 270°: 3°}",
        )


_CHECKS: dict[type, Callable[[Draft, Reading], None]] = {
    Weather: _weather,
    Array: _array,
    Obstacle: _obstacle,
    Horizon: _horizon,
}
