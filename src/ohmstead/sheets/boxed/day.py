"""The air of a cabinet by the hour: hottest and coldest day, with the limits of its parts."""

from collections.abc import Sequence

from ...evidence.cabinets import CabinetView, Limit
from ...network.cabinet.climate import Day
from ...season.canvas import CELLS, FAINT, GRID, HEAD, INK, LACK, LOAD, SUN, Canvas
from .words import DAY

LEFT, RIGHT, WIDE = 62.0, 742.0, 940.0
TALL, LOW = 250.0, 60.0
STEP_C = 10.0
ROOM_K = 30.0  # limits further above the air than this are left out of the picture


def day_picture(view: CabinetView) -> str:
    """Temperatures of both days, the heat inside and when the fan runs, as SVG."""
    sheet = Canvas(WIDE, HEAD + 2 * TALL + LOW + 196, DAY["title"].format(zone=view.name), DAY["note"])
    top = HEAD + 44
    _key(sheet, top - 26)
    limits = _shown(view)
    hot = _panel(sheet, view.climate.hot, (top, TALL), "hot", [limit for limit, _ in limits])
    _limits(sheet, limits, hot)
    _peak(sheet, view, hot)
    below = top + TALL + 30
    _heat(sheet, view.climate.hot, (below, LOW), fan=view.fan is not None)
    last = below + LOW + 50
    cold = _panel(sheet, view.climate.cold, (last, TALL), "cold", [])
    _damp(sheet, view, cold)
    _hours(sheet, last + TALL)
    return sheet.svg()


Scale = tuple[float, float, float, float]  # lowest, highest, top, height


def _y(value: float, scale: Scale) -> float:
    low, high, top, tall = scale
    return top + tall * (high - value) / (high - low)


def _x(hour: float) -> float:
    return LEFT + (RIGHT - LEFT) * hour / 24.0


def _panel(sheet: Canvas, day: Day, frame: tuple[float, float], which: str, others: list[float]) -> Scale:
    """Axes, the air around, and the band of the air inside."""
    trace, box = day.trace, day.trace.box
    top, tall = frame
    floor_c, roof_c = trace.air_c(0.0), trace.air_c(box.height_m)
    values = [*day.around.air_c, *trace.low_c(0.0), *trace.high_c(box.height_m), *others]
    if which == "cold":
        values += [*trace.coldest_c, *(day.around.dew_point_c or ())]
    low = STEP_C / 2 * ((min(values) - 1.0) // (STEP_C / 2))
    high = STEP_C / 2 * (1 + (max(values) + 1.0) // (STEP_C / 2))
    scale = (low, high, top, tall)
    step = STEP_C if high - low > 30 else STEP_C / 2
    mark = step * -(-low // step)
    while mark <= high:
        y = _y(mark, scale)
        sheet.line(((LEFT, y), (RIGHT, y)), GRID, 1.6 if mark == 0 else 1.0)
        sheet.words(LEFT - 8, y + 4, f"{mark:g}", "end faint", 10)
        mark += step
    for hour in range(0, 25, 3):
        sheet.line(((_x(hour), top), (_x(hour), top + tall)), GRID, 0.8)
    sheet.words(LEFT, top - 8, DAY[which], "start strong")
    lower = [(_x(i + 0.5), _y(value, scale)) for i, value in enumerate(floor_c)]
    upper = [(_x(i + 0.5), _y(value, scale)) for i, value in enumerate(roof_c)]
    sheet.area([*upper, *reversed(lower)], CELLS)
    sheet.line(lower, INK, 0.8)
    sheet.line(upper, INK, 2.2)
    around = [(_x(i + 0.5), _y(value, scale)) for i, value in enumerate(day.around.air_c)]
    sheet.line(around, LOAD, 1.4, "5 3")
    return scale


def _key(sheet: Canvas, y: float) -> None:
    sheet.line(((LEFT, y - 4), (LEFT + 26, y - 4)), LOAD, 1.4, "5 3")
    sheet.words(LEFT + 32, y, DAY["around"])
    sheet.key(LEFT + 130, y, ((CELLS, DAY["inside"]),))
    sheet.line(((LEFT + 330, y - 4), (LEFT + 356, y - 4)), LACK, 1.2, "2 2")
    sheet.words(LEFT + 362, y, DAY["wall"])
    sheet.line(((LEFT + 500, y - 4), (LEFT + 526, y - 4)), FAINT, 1.2, "8 3 2 3")
    sheet.words(LEFT + 532, y, DAY["dew"])


def _shown(view: CabinetView) -> list[tuple[float, str]]:
    """Limits near the air, alike ones together: (limit, words)."""
    near: dict[float, list[Limit]] = {}
    for limit in sorted(view.limits, key=lambda limit: limit.limit_c):
        if limit.limit_c < view.hottest_c + ROOM_K:
            near.setdefault(round(limit.limit_c), []).append(limit)
    return [
        (
            limit_c,
            DAY["limit" if len(group) == 1 else "more"].format(name=group[0].name, limit=limit_c, n=len(group) - 1),
        )
        for limit_c, group in list(near.items())[:6]
    ]


def _limits(sheet: Canvas, limits: list[tuple[float, str]], scale: Scale) -> None:
    """Dashed lines with the names at their right, kept apart."""
    last = 1e9
    for limit_c, words in limits:
        y = _y(limit_c, scale)
        sheet.line(((LEFT, y), (RIGHT, y)), LACK, 1.2, "6 3")
        at = min(y + 4, last - 13)
        sheet.words(RIGHT + 8, at, words)
        last = at


def _peak(sheet: Canvas, view: CabinetView, scale: Scale) -> None:
    x, y = _x(view.hottest_h + 0.5), _y(view.hottest_c, scale)
    sheet.words(x, y - 8, DAY["peak"].format(high=view.hottest_c, hour=view.hottest_h), "middle strong")


def _heat(sheet: Canvas, day: Day, frame: tuple[float, float], *, fan: bool) -> None:
    """Heat inside as steps, and a bar below it for the share of each hour that the fan runs."""
    top, tall = frame
    watts = day.total_w
    most = max(*watts, 1.0)
    sheet.words(LEFT, top - 8, DAY["heat"], "start strong")
    floor = top + tall
    sheet.words(LEFT - 8, top + 8, f"{most:.0f}", "end faint", 10)
    sheet.words(LEFT - 8, floor + 2, "0", "end faint", 10)
    points = [(_x(i + side), floor - tall * value / most) for i, value in enumerate(watts) for side in (0, 1)]
    sheet.area([(LEFT, floor), *points, (RIGHT, floor)], SUN)
    sheet.line(points, INK, 0.8)
    if not fan:
        return
    _bar(sheet, day.trace.fan_fraction, floor + 5)
    sheet.words(RIGHT + 8, floor + 13, DAY["fan"])


def _bar(sheet: Canvas, shares: Sequence[float], y: float) -> None:
    sheet.box(LEFT, y, (RIGHT - LEFT, 9), "none", INK)
    for hour, share in enumerate(shares):
        sheet.box(_x(hour), y, ((RIGHT - LEFT) / 24 * min(float(share), 1.0), 9), INK)


def _damp(sheet: Canvas, view: CabinetView, scale: Scale) -> None:
    """The coldest wall, the dew point where it is known, and the deepest air."""
    day = view.climate.cold
    wall = [(_x(i + 0.5), _y(value, scale)) for i, value in enumerate(day.trace.coldest_c)]
    sheet.line(wall, LACK, 1.2, "2 2")
    if day.around.dew_point_c is not None:
        dew = [(_x(i + 0.5), _y(value, scale)) for i, value in enumerate(day.around.dew_point_c)]
        sheet.line(dew, FAINT, 1.2, "8 3 2 3")
    hour, low = day.trace.coldest(0.0)
    words = DAY["deepest"].format(low=low, hour=hour)
    sheet.words(_x(hour + 0.5), _y(low, scale) + 18, words, "middle strong")


def _hours(sheet: Canvas, y: float) -> None:
    for hour in range(0, 25, 3):
        sheet.words(_x(hour), y + 18, f"{hour:02d}:00", "middle", 10.5)
