"""Draws wires beside each other where they share a duct, so that each can be followed. Lengths of the plate. [mm]"""

from collections.abc import Sequence

from ...plan.plan import Plan
from ...plan.wires import Led
from ...plate.box import Spot
from ...plate.duct import Duct

NARROW = 0.72  # share of a duct's width that lanes take


def lanes(plan: Plan) -> dict[str, tuple[Spot, ...]]:
    """Name of the run -> the corners of its line, every stretch in a duct on a lane of its own."""
    places: dict[tuple[str, str], float] = {}
    for duct in plan.ducts:
        inside = [led for led in plan.wires if any(_lies(pair, duct) for pair in _pairs(led))]
        inside.sort(key=lambda led: _order(led, duct))
        step = NARROW * duct.width / max(1, len(inside))
        for number, led in enumerate(inside):
            places[duct.name, led.name] = duct.line + (number - (len(inside) - 1) / 2) * step
    return {led.name: _moved(led, plan.ducts, places) for led in plan.wires}


def _pairs(led: Led) -> list[tuple[Spot, Spot]]:
    return list(zip(led.spots, led.spots[1:], strict=False))


def _lies(pair: tuple[Spot, Spot], duct: Duct) -> bool:
    """Does a stretch run along a duct's middle line?"""
    axis = 1 if duct.way == "level" else 0
    along = 1 - axis
    if pair[0][along] == pair[1][along]:
        return False
    low, high = sorted((pair[0][along], pair[1][along]))
    on_line = abs(pair[0][axis] - duct.line) < 1e-3 and abs(pair[1][axis] - duct.line) < 1e-3
    return on_line and low < duct.ends[1] and high > duct.ends[0]


def _order(led: Led, duct: Duct) -> tuple[float, str]:
    """Wires that leave towards the smaller side first, so that fewer cross."""
    axis = 1 if duct.way == "level" else 0
    others = [spot[axis] for spot in led.spots if abs(spot[axis] - duct.line) > 1e-3]
    return (sum(others) / len(others) if others else duct.line, led.name)


def _moved(led: Led, ducts: Sequence[Duct], places: dict[tuple[str, str], float]) -> tuple[Spot, ...]:
    """The line with its stretches in ducts on their lanes; ends stay where they are."""
    lines: list[tuple[int, float]] = []  # axis that is constant, its value
    for pair in _pairs(led):
        axis = 1 if pair[0][1] == pair[1][1] else 0
        own = next((duct for duct in ducts if _lies(pair, duct)), None)
        value = pair[0][axis] if own is None else places[own.name, led.name]
        lines.append((axis, value))
    spots = [led.spots[0]]
    for (axis, value), (next_axis, next_value) in zip(lines, lines[1:], strict=False):
        if axis == next_axis:
            continue
        spots.append((next_value, value) if axis == 1 else (value, next_value))
    return (*spots, led.spots[-1])
