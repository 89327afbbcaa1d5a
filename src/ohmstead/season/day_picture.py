"""Harvest through the day, month by month, open and shaded; and what each obstacle costs by month."""

from ..sun.hours import FloatArray
from .canvas import GRID, HEAD, INK, PAPER, SUN, Canvas, ticks
from .shading import DAYS, Shading
from .year import MONTHS

WIDE, HIGH, GAP_X, GAP_Y = 262.0, 132.0, 46.0, 62.0
TINTS = ((0.005, PAPER), (0.05, "#f7e6cf"), (0.15, "#f0cfa8"), (0.3, "#e3a878"), (float("inf"), "#cf7f55"))


def day(shading: Shading, array: str, name: str) -> str:
    """Twelve small pictures, a month each: mean power by the hour, what shade takes hatched."""
    whole, left_over = shading.open_day_w[array], shading.shaded_day_w[array]
    marks = ticks(float(whole.max()))
    left, top = 62.0, HEAD + 62.0
    note = (
        f"Mean power by hour of standard time ({shading.clock}), W. Wh a day under each month's name, and what is lost."
    )
    sheet = Canvas(left + 3 * WIDE + 2 * GAP_X + 28, top + 4 * HIGH + 3 * GAP_Y + 54, f"{name}: a day of {array}", note)
    sheet.key(left, HEAD + 14, ((SUN, "harvest"), ("url(#lack)", "taken by shade"), (PAPER, "open place (line)")))
    for month in range(12):
        x = left + (month % 3) * (WIDE + GAP_X)
        y = top + (month // 3) * (HIGH + GAP_Y)
        _month(sheet, (x, y), marks, (whole[month], left_over[month]), MONTHS[month])
    return sheet.svg()


def _month(sheet: Canvas, corner: tuple[float, float], marks: list[float], power: tuple[FloatArray, FloatArray],
           name: str) -> None:  # fmt: skip
    x, y = corner
    whole, kept = power
    floor, scale = y + HIGH, HIGH / marks[-1]
    for mark in marks[:: max(1, len(marks) // 4)]:
        level = floor - mark * scale
        sheet.line(((x, level), (x + WIDE, level)), GRID, 0.7)
        sheet.words(x - 5, level + 3.5, f"{mark:g}", "end faint", 8.5)
    upper = _steps(whole, (x, floor), scale)
    lower = _steps(kept, (x, floor), scale)
    sheet.area([(x, floor), *lower, (x + WIDE, floor)], SUN)
    sheet.area([*upper, *reversed(lower)], "url(#lack)")
    sheet.line(upper, INK, 1.2)
    sheet.line(((x, floor), (x + WIDE, floor)), INK, 1.0)
    for hour in (0, 6, 12, 18, 24):
        sheet.words(x + WIDE * hour / 24, floor + 12, str(hour), "middle faint", 8.5)
        sheet.line(((x + WIDE * hour / 24, floor), (x + WIDE * hour / 24, floor + 3)), INK, 0.8)
    lost = float(whole.sum() - kept.sum())
    share = lost / float(whole.sum()) if whole.sum() > 0 else 0.0
    sheet.words(x, y - 16, name, "start strong", 11.5)
    sheet.words(x, y - 3, f"{float(kept.sum()):.0f} Wh", "start", 10)
    if share >= 0.0005:
        sheet.words(x + WIDE, y - 3, f"lost {lost:.0f} Wh, {100 * share:.1f} %", "end", 10)


def _steps(values: FloatArray, corner: tuple[float, float], scale: float) -> list[tuple[float, float]]:
    x, floor = corner
    return [(x + WIDE * (hour + side) / 24, floor - float(value) * scale)
            for hour, value in enumerate(values) for side in (0, 1)]  # fmt: skip


def costs(shading: Shading, name: str) -> str:
    """A table to look at: obstacles down, months across, Wh a day and the share of the open harvest."""
    rows = [*shading.costs_wh.items(), ("all together", shading.lost_wh)]
    wide, high = 62.0, 40.0
    left, top = 150.0, HEAD + 52.0
    note = ("Wh a day at the controllers that would be won without it, and its share of the open harvest. Shadows that "
            "overlap cost less together than added up.")  # fmt: skip
    sheet = Canvas(left + 13 * wide + 40, top + (len(rows) + 1) * high + 36, f"{name}: what shade costs", note)
    for month in range(12):
        sheet.words(left + (month + 0.5) * wide, top - 10, MONTHS[month][:3], "middle strong", 10.5)
    sheet.words(left + 12.5 * wide + 8, top - 10, "year", "middle strong", 10.5)
    for index, (label, cost) in enumerate(rows):
        y = top + index * high + (8 if label == "all together" else 0)
        sheet.words(left - 12, y + high / 2 + 4, label, "end strong" if label == "all together" else "end", 11)
        share = shading.share(cost)
        for month in range(12):
            _cell(sheet, (left + month * wide, y), (wide, high), float(cost[month] / DAYS[month]), float(share[month]))
        whole = float(shading.all_open_wh.sum())
        _cell(
            sheet,
            (left + 12 * wide + 8, y),
            (wide, high),
            float(cost.sum()) / 365.0,
            float(cost.sum()) / max(whole, 1e-9),
        )
    y = top + len(rows) * high + 8
    sheet.words(left - 12, y + 20, "open, Wh a day", "end faint", 10.5)
    for month in range(12):
        sheet.words(
            left + (month + 0.5) * wide, y + 20, f"{shading.all_open_wh[month] / DAYS[month]:.0f}", "middle faint", 10
        )
    sheet.words(left + 12.5 * wide + 8, y + 20, f"{float(shading.all_open_wh.sum()) / 365:.0f}", "middle faint", 10)
    return sheet.svg()


def _cell(sheet: Canvas, corner: tuple[float, float], size: tuple[float, float], cost: float, share: float) -> None:
    fill = next(tint for most, tint in TINTS if share <= most)
    sheet.box(*corner, size, fill, GRID)
    x, y = corner[0] + size[0] / 2, corner[1]
    if cost < 0.5 and share < 0.0005:
        sheet.words(x, y + size[1] / 2 + 4, "–", "middle faint", 10)
        return
    sheet.words(x, y + 17, f"{cost:.0f}", "middle strong", 11)
    sheet.words(x, y + 31, f"{100 * share:.1f} %", "middle", 9.5)
