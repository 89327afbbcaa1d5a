"""Which numbers make sense for a key: "above 0", "0 or more", "1..8", "any"."""

from dataclasses import dataclass
from functools import cache

from ..quantity.show import show
from .nodes import Node
from .problems import refuse

# Smallest (but zero) and largest figure that can be meant, in the base unit; beyond lies a slip of the unit.
SANE: dict[str, tuple[float, float]] = {
    "voltage": (1e-3, 2000.0),
    "current": (1e-6, 1e5),
    "power": (1e-6, 1e7),
    "charge": (1e-3, 1e6),
    "length": (1e-3, 1e5),
    "resistance": (1e-6, 1e6),
    "resistance per length": (1e-3, 1e6),
    "capacitance": (1e-12, 1e4),
    "inductance": (1e-9, 1e3),
    "temperature": (0.0, 500.0),
    "temperature difference": (1e-3, 200.0),
    "time": (1e-6, 1e9),
    "angle": (1e-3, 360.0),
    "daily sun": (0.1, 20_000.0),
    "share per kelvin": (1e-6, 0.05),
    "mass": (1e-3, 1e5),
    "opening": (1e-6, 10.0),
    "air flow": (1e-6, 10.0),
    "fuel flow": (1e-3, 1000.0),
    "air pressure": (0.01, 5000.0),
    "heat per kelvin": (1e-3, 1e4),
    "film": (0.1, 500.0),
    "air speed": (1e-3, 50.0),
    "share": (1e-6, 100.0),
    "count": (1.0, 10_000.0),
    "number": (0.0, 1e9),
}


@dataclass(frozen=True, slots=True)
class Bounds:
    """Lowest and highest value; kind "above" when the lowest itself is not allowed."""

    low: float
    high: float
    kind: str
    words: str


@cache
def bounds_of(text: str, dimension: str) -> Bounds:
    """The bounds that a declaration names; unsaid: above zero, temperatures any, shares up to one."""
    endless = float("inf")
    if text == "any" or (not text and dimension == "temperature"):
        return Bounds(-endless, endless, "from", "any")
    if text == "0 or more":
        return Bounds(0.0, endless, "from", "zero or more")
    if not text:
        if dimension == "share":
            return Bounds(0.0, 1.0, "above", "above zero and at most 100 %")
        return Bounds(0.0, endless, "above", "above zero")
    low, high = text.split("..")
    return Bounds(float(low), float(high), "from", f"from {low} to {high}")


def check_bounds(value: float, dimension: str, bounds: Bounds, label: str, node: Node) -> None:
    """Refuses a value outside its bounds, or of a size that cannot be meant."""
    smallest, largest = SANE[dimension]
    size = abs(value)
    if bounds.low <= value <= bounds.high and (size > 0 or bounds.kind == "from") and smallest <= size <= largest:
        return
    if value == 0 and bounds.kind == "from" and bounds.low <= 0 <= bounds.high:
        return
    place = node.place
    shown = show(value, dimension, 6)
    if not bounds.low <= value <= bounds.high or size == 0:
        refuse(
            place,
            f"{label} cannot be {shown}",
            f"a value {bounds.words}",
            "check the sign and the number" if value <= 0 else "check the number",
        )
    which = "large" if size > largest else "small"
    limit = show(largest if size > largest else smallest, dimension)
    refuse(
        place,
        f"{label} of {shown} is too {which} to be meant",
        f"at {'most' if size > largest else 'least'} {limit}",
        "check the number and its unit",
    )
