"""SI floats to text: engineering prefixes, at least three digits, no trailing noise."""

from ohmstead.quantity.gauge import KCMIL_MM2, THICKEST, gauge_area_mm2, gauge_name, nearest_gauge
from ohmstead.quantity.span import Span


def _ladder(unit: str, prefixes: str) -> tuple[tuple[float, str], ...]:
    size = {"M": 1e6, "k": 1e3, "-": 1.0, "m": 1e-3, "µ": 1e-6, "n": 1e-9, "p": 1e-12}
    return tuple((size[prefix], prefix.strip("-") + unit) for prefix in prefixes)


_STEPS: dict[str, tuple[tuple[float, str], ...]] = {
    "voltage": _ladder("V", "k-mµ"),
    "current": _ladder("A", "k-mµ"),
    "power": _ladder("W", "k-mµ"),
    "energy": _ladder("Wh", "k-m"),
    "charge": _ladder("Ah", "-m"),
    "length": ((1e3, "km"), (1.0, "m"), (1e-3, "mm")),
    "area": ((1.0, "mm²"),),
    "resistance": _ladder("Ω", "Mk-mµ"),
    "resistance per length": ((1.0, "Ω/km"),),
    "capacitance": _ladder("F", "-mµnp"),
    "inductance": _ladder("H", "-mµn"),
    "temperature": ((1.0, "°C"),),
    "temperature difference": ((1.0, "K"),),
    "time": ((86400.0, "d"), (3600.0, "h"), (60.0, "min"), (1.0, "s"), (1e-3, "ms"), (1e-6, "µs")),
    "share": ((0.01, "%"),),
    "count": ((1.0, ""),),
    "number": ((1.0, ""),),
    "fuse heat": ((1.0, "A²s"),),
    "mass": ((1.0, "kg"), (1e-3, "g")),
}
_BASE = {"share": (0.01, "%"), "time": (1.0, "s")}
_FROM = {"m": 0.1, "d": 2 * 86400.0, "h": 7200.0, "min": 120.0}


def show(value: float, dimension: str, digits: int = 3) -> str:
    """The value with a unit of fitting size: "1.6 m", "12 mA", "2.6 mΩ".

    At least `digits` significant digits; whole digits are never dropped. An infinite value is
    shown as "∞ Ω", a missing one as "nan Ω".
    """
    size, unit = _step(value, dimension, digits)
    return f"{figures(value / size, digits)} {unit}".rstrip()


def figures(value: float, digits: int = 3) -> str:
    """The bare number with at least `digits` significant digits and no trailing zeros."""
    if value != value:
        return "nan"
    if value in (float("inf"), float("-inf")):
        return "∞" if value > 0 else "-∞"
    mantissa, _, power = f"{value:.{digits - 1}e}".partition("e")
    exponent = int(power)
    if float(mantissa) == 0:
        return "0"
    if not -4 <= exponent < 9:
        return f"{mantissa.rstrip('0').rstrip('.') if '.' in mantissa else mantissa}e{exponent}"
    text = f"{value:.{max(digits - 1 - exponent, 0)}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def show_span(span: Span, dimension: str) -> str:
    """A value with its bounds as a builder would write it: "10..32 V", "19 V ± 2 %"."""
    if span.is_exact:
        return show(span.nominal, dimension)
    if span.stated == "percent" and span.nominal:
        return _in_percent(span, dimension)
    if span.stated == "amount":
        return _in_amount(span, dimension)
    size, unit = _step(max(abs(span.low), abs(span.high)), dimension, 3)
    return f"{figures(span.low / size)}..{figures(span.high / size)} {unit}".rstrip()


def show_length_both(length_m: float) -> str:
    """A length in metres and in feet: "1.6 m (5.2 ft)"."""
    if abs(length_m) < 0.3048:
        return f"{show(length_m, 'length')} ({figures(length_m / 0.0254, 2)} in)"
    return f"{show(length_m, 'length')} ({figures(length_m / 0.3048, 2)} ft)"


def show_area_both(area_mm2: float) -> str:
    """An area in mm² and the nearest wire gauge: "2.5 mm² (13 AWG)"; above 4/0 in kcmil."""
    if not area_mm2 > 0:
        return show(area_mm2, "area")
    if area_mm2 > 1.06 * gauge_area_mm2(THICKEST):
        return f"{show(area_mm2, 'area')} ({figures(area_mm2 / KCMIL_MM2)} kcmil)"
    return f"{show(area_mm2, 'area')} ({gauge_name(nearest_gauge(area_mm2))})"


def show_temperature_both(temperature_c: float) -> str:
    """A temperature in °C and °F: "25 °C (77 °F)"."""
    return f"{show(temperature_c, 'temperature')} ({figures(temperature_c * 9 / 5 + 32)} °F)"


def _step(value: float, dimension: str, digits: int) -> tuple[float, str]:
    """The unit of fitting size, judged after rounding so that 999.9 mV becomes 1 V."""
    steps = _STEPS[dimension]
    magnitude = abs(float(f"{value:.{digits - 1}e}"))
    if magnitude == 0 or magnitude != magnitude:
        return _BASE.get(dimension) or next(step for step in steps if step[0] == 1.0)
    for size, unit in steps:
        if magnitude >= _FROM.get(unit, size):
            return size, unit
    return steps[-1]


def _in_percent(span: Span, dimension: str) -> str:
    up = figures((span.high / span.nominal - 1) * 100)
    down = figures((1 - span.low / span.nominal) * 100)
    value = show(span.nominal, dimension)
    return f"{value} ± {up} %" if up == down else f"{value} +{up} % -{down} %"


def _in_amount(span: Span, dimension: str) -> str:
    spread = "temperature difference" if dimension == "temperature" else dimension
    up, down = show(span.high - span.nominal, spread), show(span.nominal - span.low, spread)
    value = show(span.nominal, dimension)
    return f"{value} ± {up}" if up == down else f"{value} +{up} -{down}"
