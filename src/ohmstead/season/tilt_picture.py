"""Harvest over load by tilt and month: which tilt serves the worst month best."""

from .canvas import CELLS, GRID, HEAD, HELD, INK, PAPER, SUN, Canvas
from .tilt import Tilts
from .year import MONTHS

WIDE, HIGH = 52.0, 23.0
# Harvest over load -> tint of its box; below one the month lives on what was stored before.
TINTS = ((0.25, "#cf7f55"), (0.5, "#e3a878"), (0.75, "#f0cfa8"), (1.0, "#f7e6cf"), (1.5, HELD), (float("inf"), CELLS))


def tilt_map(tilts: Tilts, name: str, now_deg: float) -> str:
    """The map as SVG; `now_deg`: the tilt on the site, which is marked."""
    left, top = 84.0, HEAD + 34.0
    n = len(tilts.tilts_deg)
    floor, right = top + n * HIGH, left + 12 * WIDE
    note = (
        "Number in each box: harvest at the battery over load, per cent, with shade. Framed: worst month of each tilt."
    )
    sheet = Canvas(right + 232, floor + 76, f"{name}: tilt and month, facing {tilts.azimuth_deg:g}°", note)
    for month in range(12):
        sheet.words(left + (month + 0.5) * WIDE, top - 10, MONTHS[month][:3], "middle strong", 10.5)
    sheet.words(left - 10, top - 10, "tilt", "end strong", 10.5)
    sheet.words(right + 14, top - 10, "kWh a year", "start strong", 10.5)
    for place in range(n):
        y = floor - (place + 1) * HIGH
        sheet.words(left - 10, y + HIGH / 2 + 4, f"{tilts.tilts_deg[place]:g}°", "end", 10.5)
        for month in range(12):
            cover = float(tilts.cover[place, month])
            fill = next(tint for most, tint in TINTS if cover < most)
            sheet.box(left + month * WIDE, y, (WIDE, HIGH), fill, PAPER)
            sheet.words(left + (month + 0.5) * WIDE, y + HIGH / 2 + 3.5, f"{100 * cover:.0f}", "middle", 9.5)
        sheet.words(right + 14, y + HIGH / 2 + 4, f"{tilts.year_wh[place] / 1000:.0f}", "start faint", 10)
    for place in range(n):  # frames lie above the boxes
        _frame(sheet, left + tilts.worst_month(place) * WIDE, floor - (place + 1) * HIGH, 1.3)
    marks = {tilts.best: "best for the worst month", tilts.best_of_year: "most in a year"}
    marks[tilts.nearest(now_deg)] = "; ".join(filter(None, (marks.get(tilts.nearest(now_deg), ""), "as it is")))
    for place, text in marks.items():
        y = floor - (place + 1) * HIGH
        size = (6.0 * len(text) + 12, HIGH - 6)
        sheet.box(right + 52, y + 3, size, SUN if place == tilts.best else PAPER, INK)
        sheet.words(right + 58, y + HIGH / 2 + 4, text, "start strong" if place == tilts.best else "start", 10)
    _frame(sheet, left + tilts.worst_month(tilts.best) * WIDE, floor - (tilts.best + 1) * HIGH, 3.0)
    sheet.line(((left, floor), (right, floor)), GRID)
    signs = ((CELLS, "half as much again, or more"), (HELD, "covers the load"), (TINTS[3][1], "lacks up to a quarter"),
             (TINTS[0][1], "less than a quarter of it"))  # fmt: skip
    sheet.key(left, floor + 28, signs)
    return sheet.svg()


def _frame(sheet: Canvas, x: float, y: float, weight: float) -> None:
    sheet.pieces.append(f'<rect x="{x + 1:.1f}" y="{y + 1:.1f}" width="{WIDE - 2:g}" height="{HIGH - 2:g}" fill="none" '
                        f'stroke="{INK}" stroke-width="{weight}"/>')  # fmt: skip
