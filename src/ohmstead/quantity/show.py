"""SI floats to text: a unit of fitting size, at least three digits, no trailing noise."""

from .digits import figures
from .gauge import KCMIL_MM2, THICKEST, gauge_area_mm2, gauge_name, nearest_gauge
from .span import Span

Step = tuple[float, float, str]
"""From this magnitude on, in the base unit, divide by this and write that unit."""


def _steps(unit: str, prefixes: str) -> tuple[Step, ...]:
    size = {"M": 1e6, "k": 1e3, "-": 1.0, "m": 1e-3, "µ": 1e-6, "n": 1e-9, "p": 1e-12}
    return tuple((size[prefix], size[prefix], prefix.strip("-") + unit) for prefix in prefixes)


_LADDERS: dict[str, tuple[Step, ...]] = {
    "voltage": _steps("V", "k-mµ"),
    "current": _steps("A", "k-mµ"),
    "power": _steps("W", "k-mµ"),
    "energy": _steps("Wh", "k-m"),
    "charge": _steps("Ah", "-m"),
    "length": ((1e3, 1e3, "km"), (0.1, 1.0, "m"), (0.0, 1e-3, "mm")),
    "area": ((0.0, 1.0, "mm²"),),
    "resistance": _steps("Ω", "Mk-mµ"),
    "resistance per length": ((0.0, 1.0, "Ω/km"),),
    "capacitance": ((0.1, 1.0, "F"), *_steps("F", "µnp")),
    "inductance": _steps("H", "-mµn"),
    "temperature": ((0.0, 1.0, "°C"),),
    "temperature difference": ((0.0, 1.0, "K"),),
    "time": ((172800.0, 86400.0, "d"), (7200.0, 3600.0, "h"), (120.0, 60.0, "min"), *_steps("s", "-mµ")),
    "share": ((0.0, 0.01, "%"),),
    "count": ((0.0, 1.0, ""),),
    "number": ((0.0, 1.0, ""),),
    "fuse heat": ((0.0, 1.0, "A²s"),),
    "mass": ((1.0, 1.0, "kg"), (0.0, 1e-3, "g")),
    "angle": ((0.0, 1.0, "°"),),
    "daily sun": ((0.0, 1e3, "kWh/m²"),),
    "share per kelvin": ((0.0, 0.01, "%/K"),),
    "opening": ((0.0, 1e-4, "cm²"),),
    "air flow": ((0.0, 1 / 3600, "m³/h"),),
    "fuel flow": ((0.0, 1.0, "l/h"),),
    "air pressure": ((0.0, 1.0, "Pa"),),
    "heat per kelvin": ((0.0, 1.0, "W/K"),),
    "film": ((0.0, 1.0, "W/m²K"),),
    "air speed": ((0.0, 1.0, "m/s"),),
}
_DIFFERENCES = {"temperature": "temperature difference"}
STATED_DIGITS = 4
MOST_DIGITS = 9


def show(value: float, dimension: str, digits: int = 3) -> str:
    """The value with a unit of fitting size: "1.6 m", "12 mA", "2.6 mΩ".

    At least `digits` significant digits (1 or more); digits before the point are never dropped.
    An infinite value is shown as "∞ Ω", one that is not a number as "nan Ω".

    >>> show(0.0026, "resistance")
    '2.6 mΩ'
    >>> show(-0.35, "voltage")
    '-350 mV'
    """
    return _show_as(value, _step(value, dimension, digits), dimension, digits)


def show_span(span: Span, dimension: str) -> str:
    """A value with its bounds as a builder would write it.

    >>> show_span(Span.between(10.0, 32.0), "voltage")
    '10..32 V'
    """
    if span.is_exact:
        return show(span.nominal, dimension, STATED_DIGITS if span.stated else 3)
    if span.stated == "percent" and span.nominal and dimension not in _DIFFERENCES:
        return _show_percent(span, dimension)
    if span.stated == "amount" and dimension != "share":
        return _show_amount(span, dimension)
    return _show_range(span, dimension)


def show_length_both(length_m: float) -> str:
    """A length in metres and in feet, or below a foot in inches: "1.6 m (5.2 ft)"."""
    if abs(length_m) < 0.3048:
        return f"{show(length_m, 'length')} ({figures(length_m / 0.0254, 2)} in)"
    return f"{show(length_m, 'length')} ({figures(length_m / 0.3048, 2)} ft)"


def show_area_both(area_mm2: float) -> str:
    """An area in mm² and the nearest wire gauge, above 4/0 in kcmil: "2.5 mm² (13 AWG)"."""
    metric = show(area_mm2, "area")
    if not 0 < area_mm2 < float("inf"):
        return metric
    if area_mm2 > 1.06 * gauge_area_mm2(THICKEST):
        return f"{metric} ({figures(area_mm2 / KCMIL_MM2)} kcmil)"
    return f"{metric} ({gauge_name(nearest_gauge(area_mm2))})"


def show_temperature_both(temperature_c: float) -> str:
    """A temperature in °C and °F: "25 °C (77 °F)"."""
    return f"{show(temperature_c, 'temperature')} ({figures(round(temperature_c * 9 / 5 + 32, 1))} °F)"


def _step(value: float, dimension: str, digits: int) -> Step:
    """The unit of fitting size, judged after rounding, so that 999.9 mV becomes 1 V."""
    ladder = _LADDERS[dimension]
    magnitude = abs(float(f"{value:.{digits - 1}e}"))
    if not 0 < magnitude < float("inf"):
        magnitude = 1.0
    for step in ladder:
        if magnitude >= step[0]:
            return step
    return ladder[-1]


def _show_as(value: float, step: Step, dimension: str, digits: int) -> str:
    return f"{_figures_in(value, step, dimension, digits)} {step[2]}".rstrip()


def _figures_in(value: float, step: Step, dimension: str, digits: int) -> str:
    if dimension == "count" and value == value // 1:
        return f"{value:.0f}"
    if dimension == "temperature":  # its zero is like any other value: 0.00001 °C is 0 °C
        value = round(value, digits)
    return figures(value / step[1], digits)


def _show_range(span: Span, dimension: str) -> str:
    """Both ends in the unit of the larger, with enough digits to tell them apart."""
    first = STATED_DIGITS if span.stated else 3
    step = _step(max(abs(span.low), abs(span.high)), dimension, first)
    for digits in range(first, MOST_DIGITS):
        low, high = (_figures_in(end, step, dimension, digits) for end in (span.low, span.high))
        if low != high:
            return f"{low}..{high} {step[2]}".rstrip()
    return show(span.nominal, dimension, MOST_DIGITS)


def _show_percent(span: Span, dimension: str) -> str:
    up = figures((span.high - span.nominal) / abs(span.nominal) * 100)
    down = figures((span.nominal - span.low) / abs(span.nominal) * 100)
    value = show(span.nominal, dimension, STATED_DIGITS)
    return f"{value} ± {up} %" if up == down else f"{value} +{up} % -{down} %"


def _show_amount(span: Span, dimension: str) -> str:
    """The tolerance in the unit of the value, a temperature's in K."""
    step = _step(span.nominal or max(span.high, -span.low), dimension, STATED_DIGITS)
    spread = _DIFFERENCES.get(dimension, dimension)
    side = _LADDERS[spread][0] if spread != dimension else step
    up = _show_as(span.high - span.nominal, side, spread, 3)
    down = _show_as(span.nominal - span.low, side, spread, 3)
    value = _show_as(span.nominal, step, dimension, STATED_DIGITS)
    return f"{value} ± {up}" if up == down else f"{value} +{up} -{down}"
