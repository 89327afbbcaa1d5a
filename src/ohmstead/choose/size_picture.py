"""The map of sizes: array against battery, how much stays unserved in each box, and where the goal is kept."""

import numpy as np

from ..quantity.digits import figures
from ..quantity.show import show
from ..season.canvas import CELLS, HEAD, HELD, INK, LOAD, PAPER, SUN, Canvas
from ..season.swept import MET, OPEN
from ..sun.hours import FloatArray
from .sizing import Pick, Sizing

WIDE, HIGH = 46.0, 25.0
MOST_ACROSS, MOST_UP = 24, 26
# Unserved over the goal -> tint of a box that misses it; paler is nearer.
TINTS = ((2.0, "#f7e6cf"), (5.0, "#f0cfa8"), (15.0, "#e3a878"), (float("inf"), "#cf7f55"))
NOTE = (
    "Number in each box: per cent of the energy unserved, with the best facing tried. Beyond the heavy line: goal kept."
)


def size_map(sizing: Sizing) -> str:
    """The map as SVG."""
    swept = sizing.swept
    unserved, verdict, numbers = sizing.map()
    rows, across = _thinned(len(swept.offer.arrays), MOST_UP), _thinned(len(swept.offer.banks), MOST_ACROSS)
    unserved, verdict = unserved[np.ix_(rows, across)], verdict[np.ix_(rows, across)]
    least = MET if (sizing.verdict == MET).any() or swept.n_year >= 4 else OPEN
    left, top = 100.0, HEAD + 40.0
    right, floor = left + WIDE * len(across), top + HIGH * len(rows)
    goal = f"{100 * sizing.goal.unserved_fraction:g} %"
    years = f"{swept.n_year} years of hours" if swept.n_year > 1 else "one year of hours"
    name = swept.scene.site.about.name
    sheet = Canvas(max(right + 40, 760), floor + 118, f"{name}: which array with which battery", NOTE)
    sheet.words(left, HEAD + 8, f"asked: at most {goal} of the energy unserved; {years}", "start faint")
    for i in range(len(rows)):
        y = floor - (i + 1) * HIGH
        for j in range(len(across)):
            share, kept = float(unserved[i, j]), verdict[i, j] >= least
            x = left + j * WIDE
            fill = _fill(share, sizing.goal.unserved_fraction, int(verdict[i, j]), least)
            sheet.box(x, y, (WIDE, HIGH), fill, PAPER)
            if fill.startswith("url"):
                sheet.box(x + 9, y + 5, (WIDE - 18, HIGH - 10), PAPER)
            look = "middle strong" if kept else "middle"
            sheet.words(x + WIDE / 2, y + HIGH / 2 + 3.5, _percent(share), look, 9.5)
    _border(sheet, verdict >= least, (left, floor))
    _axes(sheet, sizing, (rows, across), (left, floor, right))
    marks: list[tuple[Pick, str, str]] = [(pick, "least cost", SUN) for pick in sizing.cheapest(1)]
    for pick, text, colour in marks:
        spot = _spot(swept.array_w, swept.battery_wh, sizing, pick, (rows, across), (left, floor))
        _flag(sheet, spot, text, colour)
    _as_is(sheet, sizing, (rows, across), (left, floor))
    signs = ((HELD, "goal kept"), (CELLS, "kept ten times over"), ("url(#spilled)", "kept, not surely"),
             (TINTS[0][1], "missed"), (TINTS[-1][1], "missed by far"))  # fmt: skip
    sheet.key(left, floor + 78, signs)
    return sheet.svg()


def _thinned(n: int, most: int) -> list[int]:
    """Which of so many steps are drawn: all, or evenly fewer, ends included."""
    return list(range(n)) if n <= most else sorted({round(i * (n - 1) / (most - 1)) for i in range(most)})


def _fill(share: float, goal: float, verdict: int, least: int) -> str:
    if verdict >= least:
        return CELLS if share <= goal / 10 else HELD
    if verdict == OPEN:
        return "url(#spilled)"
    ratio = share / max(goal, 1e-9)
    return next(tint for most, tint in TINTS if ratio <= most)


def _percent(share: float) -> str:
    value = 100 * share
    if value == 0.0:
        return "0"
    if value < 0.095:
        return "<0.1"
    return f"{value:.1f}" if value < 9.95 else f"{value:.0f}"


def _border(
    sheet: Canvas, kept: "np.ndarray[tuple[int, ...], np.dtype[np.bool_]]", corner: tuple[float, float]
) -> None:
    """A heavy line between boxes that keep the goal and boxes that do not."""
    left, floor = corner
    n_up, n_across = kept.shape
    for i in range(n_up):
        for j in range(n_across):
            x, y = left + j * WIDE, floor - i * HIGH
            if j + 1 < n_across and kept[i, j] != kept[i, j + 1]:
                sheet.line(((x + WIDE, y), (x + WIDE, y - HIGH)), INK, 2.4)
            if i + 1 < n_up and kept[i, j] != kept[i + 1, j]:
                sheet.line(((x, y - HIGH), (x + WIDE, y - HIGH)), INK, 2.4)


def _axes(sheet: Canvas, sizing: Sizing, which: tuple[list[int], list[int]], frame: tuple[float, float, float]) -> None:
    left, floor, right = frame
    rows, across = which
    scene = sizing.swept.scene
    for i, row in enumerate(rows):
        power = show(sizing.swept.offer.arrays[row] * scene.rated_w, "power")
        sheet.words(left - 8, floor - (i + 0.5) * HIGH + 3.5, power, "end", 10)
    for j, column in enumerate(across):
        x, size = left + (j + 0.5) * WIDE, sizing.swept.offer.banks[column]
        sheet.words(x, floor + 16, figures(size * scene.bank.full_wh / 1000, 2), "middle", 10)
        sheet.words(x, floor + 31, figures(size * scene.bank.capacity_ah, 2), "middle faint", 9.5)
    sheet.words(left - 8, floor + 16, "kWh", "end", 10)
    sheet.words(left - 8, floor + 31, f"Ah at {scene.bank.nominal_v:.3g} V", "end faint", 9.5)
    sheet.words((left + right) / 2, floor + 52, "battery", "middle strong")
    sheet.words(left - 84, HEAD + 30, "array", "start strong")


def _place(values: tuple[float, ...], which: list[int], value: float) -> float:
    """Where a size lies among the drawn steps, in boxes from the first edge; between two it is read off by ratio."""
    sizes = np.log([values[i] for i in which])
    found = float(np.interp(np.log(max(value, 1e-12)), sizes, np.arange(len(which))))
    return found + 0.5


def _spot(array_w: FloatArray, battery_wh: FloatArray, sizing: Sizing, pick: Pick, which: tuple[list[int], list[int]],
          corner: tuple[float, float]) -> tuple[float, float]:  # fmt: skip
    scene, offer = sizing.swept.scene, sizing.swept.offer
    x = _place(offer.banks, which[1], float(battery_wh[pick.number]) / scene.bank.full_wh)
    y = _place(offer.arrays, which[0], float(array_w[pick.number]) / scene.rated_w)
    return corner[0] + x * WIDE, corner[1] - y * HIGH


def _flag(sheet: Canvas, spot: tuple[float, float], text: str, colour: str) -> None:
    """A ring around a box with a word on a slip of paper above it."""
    x, y = spot
    sheet.pieces.append(f'<rect x="{x - WIDE / 2:.1f}" y="{y - HIGH / 2:.1f}" width="{WIDE:g}" height="{HIGH:g}" '
                        f'fill="none" stroke="{INK}" stroke-width="2.4" rx="3"/>')  # fmt: skip
    width = 6.2 * len(text) + 10
    sheet.box(x - width / 2, y - HIGH / 2 - 18, (width, 15), colour, INK)
    sheet.words(x, y - HIGH / 2 - 7, text, "middle strong", 10)


def _as_is(sheet: Canvas, sizing: Sizing, which: tuple[list[int], list[int]], corner: tuple[float, float]) -> None:
    """A cross where the site stands now."""
    offer = sizing.swept.offer
    if not (min(offer.arrays) <= 1.0 <= max(offer.arrays) and min(offer.banks) <= 1.0 <= max(offer.banks)):
        return
    x = corner[0] + _place(offer.banks, which[1], 1.0) * WIDE
    y = corner[1] - _place(offer.arrays, which[0], 1.0) * HIGH
    for weight, colour in ((4.5, PAPER), (2.0, LOAD)):
        sheet.line(((x - 8, y), (x + 8, y)), colour, weight)
        sheet.line(((x, y - 8), (x, y + 8)), colour, weight)
    sheet.box(x + 10, y - 17, (50, 14), PAPER, LOAD)
    sheet.words(x + 35, y - 6.5, "as it is", "middle strong", 10)
