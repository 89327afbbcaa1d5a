"""A box and what surrounds it, as the columns of numbers that `kernel`, `passage` and `hours` go through."""

from collections.abc import Mapping, Sequence
from typing import Any

from ..site.record import record
from .air import density_kg_per_m3, pressure_pa
from .around import Around
from .box import CLOSED, COVERED, FACES, FREE, Box, Fan, Filter, FixedSpeed, SpeedCurve, Thermostat
from .kernel import BOTTOM, CP, TOP, UPRIGHT
from .passage import CURVED, FIXED, SWITCHED
from .trace import up_share

# A covered side gives off 0.5 where a free one gives off 0.9, a covered roof 0.7 where a free one gives 1.4:
# iec-tr-60890, surface factors.
COVERED_SIDE, COVERED_ROOF = 0.5 / 0.9, 0.5
SHUT = 1e-4  # of a free face: nothing is perfectly closed
STIRRED_W_PER_M2_K = 9.0  # a fan that stirs; our choice between natural 2 to 3 and blown 15
LEAST_PA_S_PER_M = 0.001  # drag of any hole at creeping flow, so that a draught near zero stays smooth
NO_FAN = (0.0, 1.0, 0.0, 0.0, 0.0, 1.0, 0.0, 0.0)


@record(frozen=True)
class Leaf:
    """A wall or part of one: its columns of `kernel`, and the faces that it stands for."""

    columns: tuple[float, ...]
    faces: tuple[str, ...]
    area_m2: float
    cap_j_per_k: float


@record(frozen=True)
class Lump:
    """Gear of one half and one lump. name as in `Trace.lump_c`; radiant shares stay with each gear."""

    name: str
    zone: int
    cap_j_per_k: float
    to_air_w_per_k: float
    gear: tuple[str, ...]


@record(frozen=True)
class Plan:
    """Everything about a box that does not change with the hours."""

    box: Box
    walls: tuple[Leaf, ...]
    lumps: tuple[Lump, ...]
    w: tuple[list[float], ...]
    b: list[float]
    o: tuple[list[float], ...]
    f: list[float]
    volumes: list[float]
    pressures: list[float]
    speed_c: list[float]
    speed_x: list[float]
    start_fraction: float


def mat_pa_per_m3_per_s(mat: Filter) -> float:
    """Pressure that a filter mat costs for each m³/s, as it is loaded now.

    r = Δp₁ · (1 + (loaded - 1) · loading) / area

    Parameters
    ----------
    mat : Filter
        The mat.

    Returns
    -------
    float
        Linear drag. [Pa·s/m³]

    Source
    ------
    common practice: drop of a mat linear in the velocity; five times the clean drop when it is to be thrown away.

    Examples
    --------
    >>> mat_pa_per_m3_per_s(Filter(area_m2=0.01, clean_pa=20.0, loading_fraction=0.5))
    6000.0
    """
    if mat.pa_per_m3_per_s is not None:
        return mat.pa_per_m3_per_s
    return mat.clean_pa * (1.0 + (mat.loaded_factor - 1.0) * mat.loading_fraction) / mat.area_m2


def _wall(box: Box, face: str, zone: int, share: float, total: float) -> list[float]:
    """Columns of one face or half face. total: area of all faces, each by how open it is."""
    skin, exposed, stated = box.skin_of(face), box.exposed(face), box.stated
    level = face in ("top", "bottom")
    area = box.area_m2(face) * share
    covered = COVERED_ROOF if face == "top" else COVERED_SIDE
    open_fraction = {FREE: 1.0, COVERED: covered, CLOSED: SHUT}[exposed]
    wide = box.width_m if face in ("front", "back") else box.depth_m
    girth = 2.0 * (box.width_m + box.depth_m) if level else 2.0 * (box.height_m + wide)
    lining = skin.thickness_m / skin.conductivity_w_per_m_k + skin.insulation_m2_k_per_w
    inside, outside = -1.0, -1.0
    if stated.inside_w_per_m2_k is not None:
        inside = area / (1.0 / stated.inside_w_per_m2_k + lining)
    if stated.outside_w_per_m2_k is not None:
        outside = area * open_fraction * stated.outside_w_per_m2_k
    if stated.wall_w_per_k is not None:
        inside = outside = 2.0 * stated.wall_w_per_k * area * open_fraction / total
    free = area if exposed == FREE else 0.0
    return [
        float(zone),
        TOP if face == "top" else BOTTOM if face == "bottom" else UPRIGHT,
        area,
        box.area_m2(face) / girth if level else box.height_m,
        4.0 * box.area_m2(face) / girth,
        open_fraction,
        skin.emissivity,
        skin.inside_emissivity,
        lining,
        inside,
        outside,
        float(FACES.index(face)),
        free * skin.absorptance,
        free * skin.emissivity if face == "top" else 0.0,
        area * skin.thickness_m * skin.density_kg_per_m3 * skin.specific_j_per_kg_k,
    ]


EXTENSIVE = (2, 9, 10, 12, 13, 14)  # columns that add when alike walls are taken together


def _walls(box: Box, sunny: frozenset[str]) -> tuple[Leaf, ...]:
    """Half faces; those that are alike and without sun of their own are one leaf."""
    total = sum(
        box.area_m2(face)
        * {FREE: 1.0, COVERED: COVERED_ROOF if face == "top" else COVERED_SIDE, CLOSED: SHUT}[box.exposed(face)]
        for face in FACES
    )
    found: dict[tuple[object, ...], tuple[list[float], list[str]]] = {}
    for face in FACES:
        halves = ((1, 1.0),) if face == "top" else ((0, 1.0),) if face == "bottom" else ((0, 0.5), (1, 0.5))
        for zone, share in halves:
            columns = _wall(box, face, zone, share, total)
            alike = (zone, columns[1], box.exposed(face), box.skin_of(face), columns[3], face if face in sunny else "")
            if alike not in found:
                found[alike] = (columns, [face])
            else:
                into, faces = found[alike]
                for i in EXTENSIVE:
                    into[i] += columns[i]
                faces.append(face)
    return tuple(Leaf(tuple(c), tuple(f), c[2], c[14]) for c, f in found.values())


def _lumps(box: Box) -> tuple[Lump, ...]:
    """Gear together by half and lump."""
    found: dict[str, list[Any]] = {}
    for gear in box.gear:
        zone = 1 if gear.height_m > 0.5 * box.height_m else 0
        name = f"{('lower', 'upper')[zone]} {gear.lump}".strip()
        entry = found.setdefault(name, [zone, 0.0, 0.0, []])
        entry[1] += gear.capacity_j_per_k
        entry[2] += gear.to_air_w_per_k
        entry[3].append(gear.name)
    return tuple(Lump(name, z, cap, ua, tuple(gear)) for name, (z, cap, ua, gear) in found.items())


def _hole_square(area_m2: float, free: float, discharge: float) -> float:
    return 0.5 / (discharge * free * area_m2) ** 2


def _openings(box: Box) -> tuple[list[float], list[float], list[float]]:
    height, linear, square = [], [], []
    for hole in box.openings:
        height.append(hole.height_m)
        drag = LEAST_PA_S_PER_M / (hole.area_m2 * hole.free_fraction)
        linear.append(drag + (mat_pa_per_m3_per_s(hole.mat) if hole.mat else 0.0))
        square.append(_hole_square(hole.area_m2, hole.free_fraction, hole.discharge_fraction))
    if box.leak_m2 > 0.0:
        for z in (0.0, box.height_m):
            height.append(z)
            linear.append(LEAST_PA_S_PER_M / (0.5 * box.leak_m2))
            square.append(_hole_square(0.5 * box.leak_m2, 1.0, 0.6))
    return height, linear, square


def fan_columns(fan: Fan | None) -> tuple[list[float], list[float], list[float]]:
    """A fan as `kernel` takes it, with the volumes and pressures of its curve."""
    if fan is None:
        return list(NO_FAN), [], []
    pairs = list(zip(fan.curve, fan.curve[1:], strict=False))
    if not pairs or any(v1 <= v0 or p1 > p0 for (v0, p0), (v1, p1) in pairs):
        raise ValueError(f"curve of {fan.name}: volumes must rise and pressures must not, from two points on")
    drag = LEAST_PA_S_PER_M / (fan.area_m2 * fan.free_fraction)
    return (
        [
            fan.height_m,
            1.0 if fan.blows == "out" else -1.0,
            drag + (mat_pa_per_m3_per_s(fan.mat) if fan.mat else 0.0),
            _hole_square(fan.area_m2, fan.free_fraction, fan.discharge_fraction),
            _hole_square(fan.area_m2, fan.free_fraction * fan.stopped_fraction, fan.discharge_fraction),
            fan.density_kg_per_m3,
            fan.power_w,
            fan.idle_w,
        ],
        [v for v, _ in fan.curve],
        [p for _, p in fan.curve],
    )


def plan_of(box: Box, around: Around) -> Plan:
    """All columns of a box; faces with sun keep walls of their own."""
    sunny = frozenset(face for face, sun in around.sun_w_per_m2.items() if any(x > 0.0 for x in sun))
    walls, lumps = _walls(box, sunny), _lumps(box)
    bare = [0.0] * 15
    rows = [list(leaf.columns) for leaf in walls]
    for lump in lumps:
        row = list(bare)
        row[0], row[14] = float(lump.zone), lump.cap_j_per_k
        rows.append(row)
    pressure = pressure_pa(around.elevation_m)
    mean_c = sum(around.air_c) / around.n_hour
    air = density_kg_per_m3(mean_c, pressure) * CP * box.height_m * box.width_m * box.depth_m / 2.0
    girth = sum(leaf.area_m2 / (0.5 * box.height_m) * leaf.columns[5] for leaf in walls
                if leaf.columns[0] > 0.0 and leaf.columns[1] == UPRIGHT)  # fmt: skip
    control, on_c, off_c, sense_m, start, lag_s = FIXED, 0.0, 0.0, 0.0, 0.0, 0.0
    speed_c, speed_x = [0.0], [0.0]
    match box.control:
        case Thermostat(on_c=on_c, off_c=off_c, height_m=sense_m, lag_s=lag_s):
            control = SWITCHED
        case SpeedCurve(points=points, height_m=sense_m):
            control = CURVED
            on_c = off_c = points[0][0]
            speed_c, speed_x = [c for c, _ in points], [x for _, x in points]
        case FixedSpeed(fraction=start):
            start = start if box.fan else 0.0
    sense = up_share(box, sense_m)
    stated = box.stated.mixing_w_per_k
    fan, volumes, pressures = fan_columns(box.fan)
    return Plan(
        box=box,
        walls=walls,
        lumps=lumps,
        w=tuple(list(column) for column in zip(*rows, strict=True)),
        b=[
            box.height_m,
            girth,
            air,
            -1.0 if stated is None else stated,
            STIRRED_W_PER_M2_K if box.stirred else 0.0,
            pressure,
            control if box.fan else FIXED,
            on_c,
            off_c,
            sense,
            float(len(walls)),
            lag_s,
        ],
        o=_openings(box),
        f=fan,
        volumes=volumes,
        pressures=pressures,
        speed_c=speed_c,
        speed_x=speed_x,
        start_fraction=start,
    )


def surroundings(around: Around) -> list[list[float]]:
    """Rows of `hours`: air, radiant, wind, sky, and sun on the six faces."""
    n = around.n_hour
    named = {"radiant": around.radiant_c, "wind": around.wind_m_per_s, "sky": around.sky_w_per_m2}
    for name, row in (named | {f"sun on {face}": sun for face, sun in around.sun_w_per_m2.items()}).items():
        if row is not None and len(row) != n:
            raise ValueError(f"{name}: {len(row)} hours beside {n} of the air")
    air = [float(x) for x in around.air_c]
    calm = [0.0] * n
    given = (around.radiant_c, around.wind_m_per_s, around.sky_w_per_m2)
    radiant, wind, sky = (default if row is None else [float(x) for x in row]
                          for row, default in zip(given, (air, calm, calm), strict=True))  # fmt: skip
    sun = [[float(x) for x in around.sun_w_per_m2[f]] if f in around.sun_w_per_m2 else calm for f in FACES]
    return [air, radiant, wind, sky, *sun]


def heats(plan: Plan, heat: Mapping[str, float | Sequence[float]], n_hour: int) -> list[list[float]]:
    """Rows of `hours`: heat of each lump into its own node, and at last what shines straight onto the walls."""
    gear = {g.name: g for g in plan.box.gear}
    unknown = sorted(heat.keys() - gear.keys())
    if unknown:
        raise KeyError(f"heat of {', '.join(unknown)}: not in the box")
    stated = plan.box.stated
    shines = stated.inside_w_per_m2_k is None and stated.wall_w_per_k is None
    star = [0.0] * n_hour
    rows = []
    for lump in plan.lumps:
        row = [0.0] * n_hour
        for name in lump.gear:
            given = heat.get(name, 0.0)
            radiant = gear[name].radiant_fraction if shines else 0.0
            series = [float(given)] * n_hour if isinstance(given, int | float) else [float(x) for x in given]
            if len(series) != n_hour:
                raise ValueError(f"heat of {name}: {len(series)} hours beside {n_hour} of the surroundings")
            for hour, value in enumerate(series):
                row[hour] += (1.0 - radiant) * value
                star[hour] += radiant * value
        rows.append(row)
    return [*rows, star]
