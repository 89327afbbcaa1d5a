"""What rules look at of the mounting plate: how full ducts are, how tight bends, what is in whose way. [mm]"""

from collections.abc import Iterator

from ..plan.body import Stand
from ..plan.plan import NoSolver, Plan, plan_of
from ..plate.box import Box
from ..plate.turning import turned_side
from ..site.model import Site
from ..site.place import Place
from ..site.problems import Problem, SiteError
from ..site.record import record

SAME_MM = 0.05  # nobody drills or measures finer


@record(frozen=True)
class FillView:
    """A duct where it is fullest. `limit` is the share that it may be filled, `named` where that stands."""

    duct: str
    fraction: float
    limit: float
    named: str
    used_mm2: float
    inside_mm2: float
    runs: tuple[str, ...]


@record(frozen=True)
class BendView:
    """A bend with less room than its cable needs. `where` is the part at which it is, or the corner of two ducts."""

    run: str
    place: Place
    where: str
    room_mm: float
    needed_mm: float
    diameter_mm: float


@record(frozen=True)
class ReachView:
    """Terminals or plugs on a side of a part with less room before them than wanted."""

    part: str
    place: Place
    side: str
    free_mm: float
    wanted_mm: float
    before: str
    how: str  # "stated" or "table"


@record(frozen=True)
class CrowdView:
    """A part with less free room than it wants; why: "air" or "lights"."""

    part: str
    place: Place
    why: str
    side: str
    free_mm: float
    wanted_mm: float
    before: str
    how: str


@record(frozen=True)
class ClashView:
    """A part that stands where it cannot: `what` it meets, `by_mm` how far."""

    part: str
    place: Place
    what: str
    by_mm: float


@record(frozen=True)
class MainsView:
    """Extra-low voltage nearer to mains than it may be."""

    subject: str
    place: Place
    other: str
    gap_mm: float
    least_mm: float


@record(frozen=True)
class PlateView:
    """A plate as rules see it; `complaint` is set when no plan could be made, and then all else is empty."""

    place: Place
    fills: tuple[FillView, ...] = ()
    bends: tuple[BendView, ...] = ()
    reaches: tuple[ReachView, ...] = ()
    clashes: tuple[ClashView, ...] = ()
    crowded: tuple[CrowdView, ...] = ()
    mains: tuple[MainsView, ...] = ()
    complaint: Problem | None = None
    solver: str = "there"  # "missing" when places could not be looked for


def plate_view(site: Site) -> PlateView:
    """The view of a site with a plate."""
    place = site.plate.place if site.plate is not None else Place("", 0, 0, 0, 0)
    try:
        plan = plan_of(site)
    except NoSolver as fault:
        return PlateView(place, complaint=fault.problems[0], solver="missing")
    except SiteError as fault:
        return PlateView(place, complaint=fault.problems[0])
    return PlateView(
        place,
        fills=tuple(
            FillView(fill.duct.name, fill.fraction, plan.fill_limit, plan.fill_named, fill.used, fill.inside, fill.runs)
            for fill in plan.fills
        ),
        bends=tuple(_bends(plan)),
        reaches=tuple(_reaches(plan)),
        clashes=tuple(_clashes(plan)),
        crowded=tuple(_crowded(plan)),
        mains=tuple(_mains(plan)),
    )


def _bends(plan: Plan) -> Iterator[BendView]:
    """Bends with too little room, of each run the worst at either part and the worst corner."""
    for led in plan.wires:
        run, ends = led.link.cord.run, {"start": led.link.ends[0].body, "end": led.link.ends[1].body}
        worst: dict[str, BendView] = {}
        for bend in led.bends:
            where = ends.get(bend.where, "")
            known = worst.get(where)
            if bend.room < bend.needed - SAME_MM and (known is None or bend.room < known.room_mm):
                diameter = led.link.cord.diameter_mm
                worst[where] = BendView(led.name, run.place, where, bend.room, bend.needed, diameter)
        yield from worst.values()


def _reaches(plan: Plan) -> Iterator[ReachView]:
    for stand in plan.stands:
        wanted = stand.body.wants["hands"]
        how = "table" if "hands" in stand.body.assumed else "stated"
        for side in dict.fromkeys(terminal.side for terminal in stand.body.terminals.values()):
            if side not in wanted or side == "front":
                continue
            lies = next(stand.side(t) for t in stand.body.terminals.values() if t.side == side)
            free, before = _before(stand, lies, plan)
            if free < wanted[side] - SAME_MM:
                yield ReachView(stand.name, stand.body.place, lies, free, wanted[side], before, how)


def _crowded(plan: Plan) -> Iterator[CrowdView]:
    """Air above and below that is taken, and lights that a deeper neighbour hides."""
    for stand in plan.stands:
        body = stand.body
        air = "table" if "air" in body.assumed else "stated"
        rooms = [("air", side, wanted, air) for side, wanted in body.wants["air"].items()]
        lights = "table" if "lights" in body.assumed else "stated"
        rooms += [("lights", turned_side(side, stand.turns), 0.0, lights) for side in body.wants["lights"]]
        for why, side, wanted, how in rooms:
            free, before = _before(stand, side, plan)
            if why == "lights" and before in {other.name for other in plan.stands}:
                # A light at half the depth of its side is seen at 45 degrees over this neighbour.
                wanted = plan.stand(before).body.depth - body.depth / 2
            if free < wanted - SAME_MM:
                yield CrowdView(stand.name, body.place, why, side, free, wanted, before, how)


def _before(stand: Stand, side: str, plan: Plan) -> tuple[float, str]:
    """How far it is before a side to the next thing, and what that is."""
    box, (wide, high) = stand.box, plan.problem.plate.size_mm
    strip = {
        "top": Box(box.left, 0.0, box.right, box.top),
        "bottom": Box(box.left, box.bottom, box.right, high),
        "left": Box(0.0, box.top, box.left, box.bottom),
        "right": Box(box.right, box.top, wide, box.bottom),
    }[side]
    things = [(other.box, other.name) for other in plan.stands if other.name != stand.name]
    things += [(duct.box, duct.name) for duct in plan.ducts]
    met = [(box.gap(thing), name) for thing, name in things if strip.overlaps(thing)]
    edge = strip.height if side in ("top", "bottom") else strip.width
    return min([*met, (edge, "edge")])


def _clashes(plan: Plan) -> Iterator[ClashView]:
    inner, depth = plan.problem.inner, plan.problem.plate.depth_mm
    for number, stand in enumerate(plan.stands):
        box, body = stand.box, stand.body
        beyond = max(inner.left - box.left, inner.top - box.top, box.right - inner.right, box.bottom - inner.bottom)
        if beyond > SAME_MM:
            yield ClashView(stand.name, body.place, "edge", beyond)
        deep = body.depth + _front(stand, plan)
        if deep > depth + SAME_MM:
            yield ClashView(stand.name, body.place, "door", deep - depth)
        for other in plan.stands[number + 1 :]:
            if box.overlaps(other.box):
                yield ClashView(stand.name, body.place, other.name, _overlap(box, other.box))
        for duct in plan.ducts:
            if box.overlaps(duct.box):
                yield ClashView(stand.name, body.place, f"duct {duct.name}", _overlap(box, duct.box))


def _front(stand: Stand, plan: Plan) -> float:
    """What plugs and bends on its front add to the depth of a part."""
    cords = {led.link.cord.run.number: led.link.cord for led in plan.wires}
    need = 0.0
    for (number, _), terminal in stand.body.terminals.items():
        if terminal.side == "front" and number in cords:
            cord = cords[number]
            times = stand.body.bend or cord.bend_times
            need = max(need, stand.body.plug + (times + 1) * cord.diameter_mm)
    return need


def _overlap(one: Box, other: Box) -> float:
    across = min(one.right, other.right) - max(one.left, other.left)
    down = min(one.bottom, other.bottom) - max(one.top, other.top)
    return min(across, down)


def _mains(plan: Plan) -> Iterator[MainsView]:
    """Parts on the wrong side of the mains area or too near to a mains part, and wires that cross there."""
    area, least = plan.problem.mains, plan.problem.plate.mains_apart_mm
    mains = [stand for stand in plan.stands if stand.body.mains == "yes"]
    low = [stand for stand in plan.stands if stand.body.mains != "yes"]
    for stand in low:
        near = [(stand.box.gap(other.box), other.name) for other in mains]
        near += [(stand.box.gap(area), "mains area")] if area is not None else []
        if near and min(near)[0] < least - SAME_MM:
            yield MainsView(stand.name, stand.body.place, min(near)[1], min(near)[0], least)
    if area is not None:
        for stand in mains:
            if not area.holds(stand.box):
                yield MainsView(stand.name, stand.body.place, "outside", 0.0, least)
    if area is None:
        return
    for led in plan.wires:
        own = {end.body for end in led.link.ends} & {stand.name for stand in mains}
        pairs = zip(led.spots, led.spots[1:], strict=False)
        crossing = any(
            Box(min(a[0], b[0]) - 0.5, min(a[1], b[1]) - 0.5, max(a[0], b[0]) + 0.5, max(a[1], b[1]) + 0.5).overlaps(
                area
            )
            for a, b in pairs
        )
        if crossing and not own:
            yield MainsView(led.name, led.link.cord.run.place, "mains area", 0.0, least)
