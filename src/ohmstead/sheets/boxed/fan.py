"""The fan of a cabinet on its curve: where it meets the way of the air, the mat clean, as stated and full."""

from dataclasses import replace

from ...evidence.cabinets import CabinetView, has_mat, with_full_mats
from ...heat.air import density_kg_per_m3, needed_m3_per_s, pressure_pa
from ...heat.box import Box
from ...heat.fan import operating_point, way_pa
from ...heat.plan import mat_pa_per_m3_per_s
from ...season.canvas import GRID, HEAD, INK, LACK, LOAD, PAPER, Canvas, ticks
from .words import FAN

LEFT, RIGHT, WIDE = 62.0, 640.0, 900.0
TALL = 330.0
GAP_DISCHARGE = 0.6
M3_PER_H = 3600.0


def fan_picture(view: CabinetView) -> str:
    """The curve of the fan and the ways through the box, as SVG. Raises ValueError for a box without a fan."""
    box = view.climate.box
    if box.fan is None:
        raise ValueError("no fan")
    hot = view.climate.hot
    elevation_m = hot.around.elevation_m
    density = density_kg_per_m3(max(hot.around.air_c), pressure_pa(elevation_m))
    sheet = Canvas(WIDE, HEAD + TALL + 110, FAN["title"].format(zone=view.name), FAN["note"])
    free, most = box.fan.curve[-1][0], box.fan.curve[0][1]
    across, up = ticks(1.05 * free * M3_PER_H), ticks(1.1 * most)
    top = HEAD + 40
    floor = top + TALL

    def at(flow: float, pressure: float) -> tuple[float, float]:
        return (LEFT + (RIGHT - LEFT) * flow * M3_PER_H / across[-1], floor - TALL * pressure / up[-1])

    for mark in across:
        x, _ = at(mark / M3_PER_H, 0.0)
        sheet.line(((x, top), (x, floor)), GRID, 0.8)
        sheet.words(x, floor + 18, f"{mark:g}", "middle faint", 10)
    for mark in up:
        _, y = at(0.0, mark)
        sheet.line(((LEFT, y), (RIGHT, y)), GRID)
        sheet.words(LEFT - 8, y + 4, f"{mark:g}", "end faint", 10)
    sheet.words(RIGHT, floor + 34, FAN["x"], "end strong")
    sheet.words(LEFT, top - 10, FAN["y"], "start strong")
    thinner = density / box.fan.density_kg_per_m3
    curve = [at(flow, pressure * thinner) for flow, pressure in box.fan.curve]
    sheet.line(curve, INK, 2.4)
    sheet.words(curve[1][0] + 8, curve[1][1] - 6, FAN["curve"], "start strong")
    needed = _needed(view, elevation_m)
    if needed is not None:
        x, _ = at(needed[0], 0.0)
        if x < RIGHT:
            sheet.line(((x, top), (x, floor)), LOAD, 1.4, "2 3")
    spots = []
    for name, weight, dash, other in _states(box):
        assert other.fan is not None
        rest = _rest_m2(other)
        drag = _rest_drag(other)
        flows = [free * i / 60 for i in range(61)]
        points = [(flow, way_pa(other.fan, flow, rest, density) + drag * flow) for flow in flows]
        sheet.line(
            [at(*point) for point in points if point[1] <= up[-1]], LACK if name == "full" else INK, weight, dash
        )
        flow, pressure = operating_point(other.fan, rest, drag, density)
        spots.append((name, flow, pressure))
        x, y = at(flow, pressure)
        sheet.pieces.append(f'<circle cx="{x:.1f}" cy="{y:.1f}" r="5" fill="{PAPER}" stroke="{INK}" stroke-width="2"/>')
    _words(sheet, spots, free, needed, top)
    return sheet.svg()


def _states(box: Box) -> list[tuple[str, float, str, Box]]:
    """The ways to be drawn: name, weight and dash of the line, the box."""
    if not has_mat(box):
        return [("open", 1.4, "", box)]
    mats = [thing.mat for thing in (*box.openings, box.fan) if thing is not None and thing.mat is not None]
    clean = _loaded(box, 0.0)
    found = [("clean", 1.4, "", clean)]
    if any(mat.loading_fraction > 0.0 for mat in mats):
        found.append(("now", 1.4, "8 3", box))
    return [*found, ("full", 1.4, "4 3", with_full_mats(box))]


def _loaded(box: Box, share: float) -> Box:
    openings = tuple(
        replace(o, mat=replace(o.mat, loading_fraction=share)) if o.mat is not None else o for o in box.openings
    )
    fan = box.fan
    if fan is not None and fan.mat is not None:
        fan = replace(fan, mat=replace(fan.mat, loading_fraction=share))
    return replace(box, openings=openings, fan=fan)


def _rest_m2(box: Box) -> float:
    """All other openings and the gaps, their discharge counted. [m²]"""
    area = sum(o.area_m2 * o.free_fraction * o.discharge_fraction for o in box.openings)
    return max(area + box.leak_m2 * GAP_DISCHARGE, 1e-6)


def _rest_drag(box: Box) -> float:
    """Mats in the other openings, side by side. [Pa·s/m³]"""
    found = [mat_pa_per_m3_per_s(o.mat) for o in box.openings if o.mat is not None]
    return 1.0 / sum(1.0 / drag for drag in found) if found else 0.0


def _needed(view: CabinetView, elevation_m: float) -> tuple[float, float, float] | None:
    """The flow that carries all the heat with the rise to the nearest limit, its heat and its rise."""
    if not view.limits:
        return None
    rise = min(limit.limit_c for limit in view.limits) - view.around_c
    if rise <= 0.5:
        return None
    return needed_m3_per_s(view.heat_w, rise, view.around_c, elevation_m), view.heat_w, rise


def _words(
    sheet: Canvas,
    spots: list[tuple[str, float, float]],
    free: float,
    needed: tuple[float, float, float] | None,
    top: float,
) -> None:
    """What each line is, beside the picture."""
    y = top + 16
    for name, flow, pressure in spots:
        dash = {"full": "4 3", "now": "8 3"}.get(name, "")
        sheet.line(((RIGHT + 20, y - 4), (RIGHT + 46, y - 4)), LACK if name == "full" else INK, 1.4, dash)
        sheet.words(RIGHT + 52, y, FAN[name], "start strong")
        text = FAN["point"].format(flow=flow * M3_PER_H, pressure=pressure, share=100 * flow / free)
        sheet.words(RIGHT + 52, y + 16, text)
        y += 46
    if needed is not None:
        sheet.line(((RIGHT + 20, y - 4), (RIGHT + 46, y - 4)), LOAD, 1.4, "2 3")
        sheet.words(RIGHT + 52, y, FAN["need"].format(flow=needed[0] * M3_PER_H, heat=needed[1], rise=needed[2]))
