"""The sky as the array sees it: skyline, obstacles and the paths of the sun, direction across and height up."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

import numpy as np

from ..site.model import Site
from ..sun.calendar import offset_of
from ..sun.field import axes
from ..sun.horizon import skyline_deg, skyline_of
from ..sun.hours import FloatArray, Hours
from ..sun.scene import Body, bodies_of, meets
from ..sun.sky import sun_at
from .canvas import FAINT, GRID, HEAD, INK, LOAD, PAPER, SUN, Canvas

EARTH, GROUND, LEAF, WALL, POLE = "#b9b1a4", "#8d857a", "#7f9c76", "#a09a94", "#4a4f55"
BEHIND = "#eef0f2"
KEY = ((EARTH, "skyline"), (LEAF, "tree"), (WALL, "box"), (POLE, "pole"), (BEHIND, "behind the panels"),
       (SUN, "sun, hour by hour"))  # fmt: skip
STEP_DEG = 0.5
# The 21st of these months; the paths of the months between nearly lie on them.
DAYS = ((6, "June"), (7, "May, July"), (8, "April, August"), (9, "March, September"), (10, "February, October"),
        (11, "January, November"), (12, "December"))  # fmt: skip
COMPASS = {0: "N", 45: "NE", 90: "E", 135: "SE", 180: "S", 225: "SW", 270: "W", 315: "NW"}


@dataclass(frozen=True, slots=True)
class View:
    """Which part of the sky is drawn: directions from the middle, heights up to `most`; x, y: lower left corner."""

    middle_deg: float
    half_deg: float
    most_deg: float
    x: float
    y: float
    width: float
    height: float

    def across(self, azimuth_deg: float) -> float:
        """Where a direction lies."""
        away = (azimuth_deg - self.middle_deg + 180.0) % 360.0 - 180.0
        return self.x + self.width * (away / self.half_deg + 1.0) / 2.0

    def up(self, elevation_deg: float) -> float:
        """Where a height lies."""
        return self.y - self.height * min(max(elevation_deg, 0.0), self.most_deg) / self.most_deg

    def directions(self) -> FloatArray:
        """Directions from the left edge to the right."""
        return self.middle_deg + np.arange(-self.half_deg, self.half_deg + STEP_DEG / 2, STEP_DEG)


def sky(site: Site, array: str, hours: Hours) -> str:
    """The picture for one array, from its middle."""
    paths = {name: _path(site, hours, month) for month, name in DAYS}
    view = _view(site, paths)
    own = site.arrays[array]
    note = (f"Seen from the middle of {array} (tilt {own.tilt_deg:g}°, azimuth {own.azimuth_deg:g}°). Paths of the sun "
            f"on the 21st; marks are hours of standard time ({hours.timezone}).")  # fmt: skip
    sheet = Canvas(view.x + view.width + 34, view.y + 108, f"{site.about.name}: the sky over {array}", note)
    sheet.box(view.x, view.y - view.height, (view.width, view.height), "#f8fafb", GRID)
    _behind(sheet, view, own.tilt_deg, own.azimuth_deg)
    _grid(sheet, view)
    mine = [one for one in site.obstacles.values() if one.shades in ("", array)]
    bodies = sorted(bodies_of(mine, hours.latitude), key=lambda body: -float(np.hypot(*body.middle[:2])))
    _skyline(sheet, view, skyline_of(site))
    names = [label for body in bodies for label in _body(sheet, view, body)]
    high = max(("June", "December"), key=lambda name: float(paths[name][:, 2].max(initial=-90.0)))
    for name, path in paths.items():
        _sun(sheet, view, name, path, "highest" if name == high else "")
    for x, y, text in names:
        sheet.box(x - 3.2 * len(text) - 4, y - 10, (6.4 * len(text) + 8, 14), PAPER, INK)
        sheet.words(x, y + 1, text, "middle strong", 10)
    sheet.line(((view.x, view.y), (view.x + view.width, view.y)), INK, 1.4)
    kinds = {body.shape for body in bodies} | ({"skyline"} if site.horizon is not None else set())
    kinds |= {"behind the panels", "sun, hour by hour"}
    sheet.key(view.x, view.y + 62, [(fill, text) for fill, text in KEY if text in kinds])
    return sheet.svg()


def sky_view(site: Site, hours: Hours) -> View:
    """Which part of the sky the picture of a site shows, and where on the sheet."""
    return _view(site, {name: _path(site, hours, month) for month, name in DAYS})


def _path(site: Site, hours: Hours, month: int) -> FloatArray:
    """One day of the sun: (n, 3) hour of standard time, azimuth, elevation, where it is up; every two minutes."""
    offset = offset_of(hours.timezone)
    begin = datetime(2026, month, 21, tzinfo=UTC) - timedelta(seconds=offset)
    moments = int(begin.timestamp()) + np.arange(0, 86401, 120)
    sun = sun_at(moments.astype(np.int64), hours.latitude, hours.longitude, hours.elevation_m)
    found = np.stack([np.arange(0, 86401, 120) / 3600.0, sun.azimuth_deg, sun.elevation_deg], axis=1)
    up: FloatArray = found[found[:, 2] > -0.3]
    return up


def _view(site: Site, paths: dict[str, FloatArray]) -> View:
    """The part of the sky in which the sun ever is, with a little around it."""
    days = [path for path in paths.values() if len(path)]
    azimuth = np.concatenate([path[:, 1] for path in days]) if days else np.array([180.0])
    highest = max((float(path[:, 2].max()) for path in days), default=30.0)
    middle = 180.0 if (site.about.latitude or 0.0) >= 0.0 else 0.0
    aside = np.abs((azimuth - middle + 180.0) % 360.0 - 180.0)
    half = min(180.0, 10.0 * np.ceil((float(aside.max()) + 8.0) / 10.0))
    most = min(90.0, 10.0 * np.ceil((highest + 8.0) / 10.0))
    return View(middle, float(half), float(most), 62.0, HEAD + 24 + 5.2 * float(most), 880.0, 5.2 * float(most))


def _grid(sheet: Canvas, view: View) -> None:
    for height in range(0, int(view.most_deg) + 1, 10):
        y = view.up(height)
        sheet.line(((view.x, y), (view.x + view.width, y)), GRID, 0.7)
        sheet.words(view.x - 8, y + 4, f"{height}°", "end faint", 10)
    first = int(np.ceil((view.middle_deg - view.half_deg) / 15.0)) * 15
    for azimuth in range(first, int(view.middle_deg + view.half_deg) + 1, 15):
        x, name = view.across(azimuth - 1e-9), COMPASS.get(azimuth % 360, "")
        sheet.line(((x, view.y), (x, view.y - view.height)), GRID, 1.0 if name else 0.5)
        if azimuth % 30 == 0:
            sheet.words(x, view.y + 15, f"{azimuth % 360}°", "middle faint", 10)
        if name:
            sheet.words(x, view.y + 31, name, "middle strong", 11)


def _behind(sheet: Canvas, view: View, tilt_deg: float, azimuth_deg: float) -> None:
    """The part of the sky from which no beam falls on the panels."""
    _, _, normal = axes(tilt_deg, azimuth_deg)
    if normal[2] > 1.0 - 1e-9:
        return
    directions = view.directions()
    flat = normal[0] * np.sin(np.radians(directions)) + normal[1] * np.cos(np.radians(directions))
    edge = np.degrees(np.arctan2(-flat, max(float(normal[2]), 1e-9)))
    _under(sheet, view, edge, BEHIND)


def _under(sheet: Canvas, view: View, edge: FloatArray, fill: str) -> None:
    """All below a height that changes with the direction; heights at or below 0 stay empty."""
    xs = view.x + view.width * np.arange(edge.size) / (edge.size - 1)
    tops = [(float(x), view.up(float(height))) for x, height in zip(xs, edge, strict=True)]
    sheet.area([(float(xs[0]), view.y), *tops, (float(xs[-1]), view.y)], fill)


def _skyline(sheet: Canvas, view: View, skyline: FloatArray | None) -> None:
    if skyline is None:
        return
    edge = skyline_deg(skyline, view.directions() % 360.0)
    _under(sheet, view, edge, EARTH)
    xs = view.x + view.width * np.arange(edge.size) / (edge.size - 1)
    sheet.line([(float(x), view.up(float(h))) for x, h in zip(xs, edge, strict=True)], GROUND, 1.4)


def _body(sheet: Canvas, view: View, body: Body) -> Iterator[tuple[float, float, str]]:
    """Outline of an obstacle as the middle of the array sees it; yields where its name goes."""
    directions, heights = view.directions(), np.arange(0.0, view.most_deg + 0.2, 0.2)
    across, up = np.meshgrid(np.radians(directions), np.radians(heights))
    ray = np.stack([np.cos(up) * np.sin(across), np.cos(up) * np.cos(across), np.sin(up)], axis=-1).reshape(-1, 3)
    hit = meets(body, np.zeros((1, 3)), ray)[:, 0].reshape(across.shape)
    seen = np.flatnonzero(hit.any(axis=0))
    fill = {"tree": LEAF, "box": WALL}.get(body.shape, POLE)
    for stretch in np.split(seen, np.flatnonzero(np.diff(seen) > 1) + 1) if seen.size else ():
        low = heights[hit[:, stretch].argmax(axis=0)]
        high = heights[hit.shape[0] - 1 - hit[::-1, stretch].argmax(axis=0)]
        step = view.width / (directions.size - 1)
        xs = view.x + stretch * step
        if len(stretch) == 1:
            xs, low, high = np.array([xs[0] - 1.2, xs[0] + 1.2]), low.repeat(2), high.repeat(2)
        top = [(float(x), view.up(float(h))) for x, h in zip(xs, high, strict=True)]
        base = [(float(x), view.up(float(h))) for x, h in zip(xs, low, strict=True)]
        sheet.area([*top, *reversed(base)], fill)
        sheet.line([*top, *reversed(base), top[0]], INK, 0.8)
        peak = int(high.argmax())
        yield float(xs[len(xs) // 2]), view.up(float(high[peak])) - 10, body.name


def _sun(sheet: Canvas, view: View, name: str, path: FloatArray, which: str) -> None:
    """One day's path with a mark at each full hour; the highest path bears the hours."""
    if len(path) < 2:
        return
    ends = name in ("June", "December")
    points = [(view.across(float(azimuth)), view.up(float(height))) for _, azimuth, height in path]
    pieces: list[list[tuple[float, float]]] = [[]]
    for before, point in zip([points[0], *points], points, strict=False):
        if abs(point[0] - before[0]) > view.width / 3:  # over the edge of the picture
            pieces.append([])
        if not pieces[-1] or point == points[-1] or np.hypot(*np.subtract(point, pieces[-1][-1])) > 4.0:
            pieces[-1].append(point)
    for piece in pieces:
        sheet.line(piece, LOAD if ends else FAINT, 1.8 if ends else 0.9)
    for (hour, _, height), (x, y) in zip(path, points, strict=True):
        if abs(hour - round(hour)) > 1e-6 or height < 0.0:
            continue
        sheet.pieces.append(f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{3.4 if ends else 2.2}" fill="{SUN}" '
                            f'stroke="{INK}" stroke-width="0.7"/>')  # fmt: skip
        if which == "highest" and y > view.y - view.height + 12:
            aside = (x - view.x) / view.width - 0.5
            if abs(aside) < 0.1:
                sheet.words(x, y - 7, f"{round(hour)}", "middle faint", 9.5)
            else:
                sheet.words(x + (6 if aside > 0 else -6), y - 3, f"{round(hour)}", "start faint" if aside > 0 else
                            "end faint", 9.5)  # fmt: skip
    highest = int(path[:, 2].argmax())
    x, y = points[highest]
    label = ", ".join(part[:3] for part in name.split(", "))
    sheet.words(x, y + (-8 if which == "highest" else 13), label, "middle strong" if ends else "middle faint", 9.5)
