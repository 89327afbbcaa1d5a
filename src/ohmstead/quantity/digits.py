"""A bare number as text."""

HALF_UP = 1e-13  # relative: 12.95 is stored a little below, and means 12.95


def figures(value: float, digits: int = 3) -> str:
    """At least `digits` significant digits, no trailing zeros; digits before the point stay whole.

    A figure that is printed with one digit more rounds as a person would round it: 12.95 to 13.0.

    >>> figures(1234.4), figures(0.0500), figures(-2.0), figures(12.95)
    ('1234', '0.05', '-2', '13')
    """
    if value != value:
        return "nan"
    if value in (float("inf"), float("-inf")):
        return "∞" if value > 0 else "-∞"
    value *= 1 + HALF_UP
    mantissa, _, power = f"{value:.{digits - 1}e}".partition("e")
    exponent = int(power)
    if float(mantissa) == 0:
        return "0"
    if not -4 <= exponent < 9:
        return f"{_trimmed(mantissa)}e{exponent}"
    return _trimmed(f"{value:.{max(digits - 1 - exponent, 0)}f}")


def _trimmed(text: str) -> str:
    return text.rstrip("0").rstrip(".") if "." in text else text
