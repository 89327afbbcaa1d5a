"""How the texts of section cabinet are read: vents, heights, a measured rise, curves of fan and roof space."""

import re

from ..quantity.show import show
from .bounds import bounds_of, check_bounds
from .boxes import SIDES, RiseAt, Vent
from .declare import Field
from .electrical import each
from .forms import Reader, number_in, text
from .guess import did_you_mean, listed, quoted
from .nodes import Mapping, Node, Scalar, entries_of, text_of
from .problems import refuse

_SIDES = tuple(SIDES.split("|"))
_MOST_POINTS = 40
_VENT = "60 cm2 left"


def _checked(words: str, dimension: str, node: Node, label: str, bounds: str = "") -> float:
    value = number_in(words, dimension, node, label)
    check_bounds(value, dimension, bounds_of(bounds, dimension), label, node)
    return value


def vent(node: Node, label: str, field: Field) -> Vent:
    """Free area, then the side, then how high it is: `60 cm2 left at 0.5 m`."""
    words = text_of(node, label, "a free area with its unit, then a side", _VENT)
    area, at, high = words.partition(" at ")
    found = re.fullmatch(r"(.*?)\s+([a-z]+)", area.strip())
    side = ""
    if found and found[2] in _SIDES:
        area, side = found[1], found[2]
    elif found and found[2].isalpha() and re.match(r"^[0-9.,]+\s*\S+$", found[1]):
        mend = f"write {label}: {found[1]} {_SIDES[0]}"
        refuse(
            node.place,
            f"{label}: {quoted(found[2])} is not a side of the box",
            f"one of: {listed(_SIDES)}",
            did_you_mean(found[2], _SIDES, mend),
        )
    area_m2 = _checked(area.strip(), "opening", node, label)
    height_m = _checked(high.strip(), "length", node, f"{label}, height", "0 or more") if at else None
    return Vent(area_m2, side, height_m)


def rise_at(node: Node, label: str, field: Field) -> RiseAt:
    """Kelvin at watts."""
    words = text_of(node, label, "a rise and the heat that made it", "11 K at 35 W")
    rise, at, heat = words.partition(" at ")
    if not at:
        refuse(
            node.place,
            f"{label} does not say at which heat",
            "a rise, and the heat inside while it was measured",
            f"write {label}: {words} at 35 W, with the watts that were turned into heat inside",
        )
    return RiseAt(
        _checked(rise.strip(), "temperature difference", node, label),
        _checked(heat.strip(), "power", node, f"{label}, heat"),
    )


def _points(node: Node, label: str, dimensions: tuple[str, str], example: str) -> tuple[tuple[float, float], ...]:
    """Pairs of key and value, sorted by the key."""
    entries = entries_of(node, label, f"{label}: {example}")
    if not 2 <= len(entries) <= _MOST_POINTS:
        refuse(
            node.place,
            f"{label} holds {len(entries)} points",
            f"from 2 to {_MOST_POINTS} points",
            f"write {label}: {example}",
        )

    def one(entry: tuple[Scalar, Node]) -> tuple[float, float]:
        key, value = entry
        words = text_of(value, f"{label} at {key.text}", "a value with its unit", example)
        return (
            _checked(key.text, dimensions[0], key, label, "0 or more" if dimensions[0] != "temperature" else ""),
            _checked(words, dimensions[1], value, f"{label} at {key.text}", "0 or more"
                     if dimensions[1] != "temperature" else ""),
        )  # fmt: skip

    found = sorted(each(entries.values(), one))
    if len({x for x, _ in found}) < len(found):
        refuse(node.place, f"{label} names one point twice", "each point once", "remove one of the two")
    return tuple(found)


def fan_curve(node: Node, label: str, field: Field) -> tuple[tuple[float, float], ...]:
    """Flow: pressure, from closed to free, falling. [m³/s, Pa]"""
    example = "{0 m3/h: 46 Pa, 30 m3/h: 31 Pa, 64 m3/h: 0 Pa}"
    found = _points(node, label, ("air flow", "air pressure"), example)
    if found[0][0] != 0.0 or found[-1][1] != 0.0:
        lacks = "no pressure at a flow of zero" if found[0][0] != 0.0 else "no flow at a pressure of zero"
        refuse(
            node.place,
            f"{label} has {lacks}",
            "a curve from closed (no flow) to free (no pressure)",
            "add the missing end of the curve; both ends stand on the sheet of the fan",
        )
    for (_, before), (flow, after) in zip(found, found[1:], strict=False):
        if after >= before:
            refuse(
                node.place,
                f"{label} does not fall at {show(flow, 'air flow')}",
                "less pressure the more it moves",
                "leave out points where the curve of the sheet dips and rises again",
            )
    return found


def fan_speed(node: Node, label: str, field: Field) -> tuple[tuple[float, float], ...]:
    """Temperature: share of speed, rising. [°C, 1]"""
    found = _points(node, label, ("temperature", "share"), "{35 °C: 30 %, 45 °C: 100 %}")
    if any(after < before for (_, before), (_, after) in zip(found, found[1:], strict=False)):
        refuse(
            node.place,
            f"{label} slows down as it gets warmer",
            "a speed that rises with the air",
            "exchange the shares, if they changed places",
        )
    return found


def two_temperatures(node: Node, label: str, field: Field) -> tuple[tuple[float, float], ...]:
    """Air outdoors: air in the roof space, as measured at the same time. [°C, °C]"""
    return _points(node, label, ("temperature", "temperature"), "{12 °C: 18 °C, 33 °C: 57 °C}")


def inner(node: Node, label: str, field: Field) -> Mapping | None:
    """A thing inside the cabinet, gone through later; `none` says that there is none."""
    if isinstance(node, Mapping):
        return node
    words = text_of(node, label, f"its values in braces, or none{' or choose' if field.choosable else ''}", "none")
    if words == "none":
        return None
    example = "{free flow: 50 m3/h, pressure: 30 Pa}" if "fan" in label else "{class: G3}"
    refuse(
        node.place,
        f"{label} cannot be {quoted(words)}",
        f"its values in braces, or none{' or choose' if field.choosable else ''}",
        f"write {label}: {example}",
    )


BOX_READERS: dict[str, Reader] = {
    "vent": vent,
    "part": text,
    "rise at": rise_at,
    "fan curve": fan_curve,
    "fan speed": fan_speed,
    "two temperatures": two_temperatures,
    "cabinet fan": inner,
    "cabinet filter": inner,
}
