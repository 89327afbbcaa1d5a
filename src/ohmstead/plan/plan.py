"""The plan of a site's plate: places, wires, and how full the ducts are. The same site gives the same plan."""

from collections.abc import Mapping

from ..plate.box import Spot
from ..plate.duct import Duct, bundle_mm2, inside_mm2
from ..site.model import Site
from ..site.problems import Problem as Complaint
from ..site.problems import SiteError
from ..site.record import record
from ..tables.reader import rows
from . import words
from .body import Stand
from .layout import Layout
from .place import NoPlace, place, stated
from .problem import Problem, problem_of
from .wires import Led, NoWay, lead

KEPT = 6  # plans that are kept, since one command asks for the same again and again
_kept: dict[str, tuple[Layout, tuple[Led, ...]]] = {}


@record(frozen=True)
class Fill:
    """How full a duct is where it is fullest; areas in mm². `spot` is there, `runs` are those that lie there."""

    duct: Duct
    spot: Spot
    used: float
    inside: float
    runs: tuple[str, ...]

    @property
    def fraction(self) -> float:
        """Used over inside."""
        return self.used / self.inside if self.inside else float("inf")


@record(frozen=True)
class Plan:
    """Everything found for one plate. `fill_limit` is a share, `fill_named` where it stands."""

    problem: Problem
    layout: Layout
    stands: tuple[Stand, ...]
    ducts: tuple[Duct, ...]
    wires: tuple[Led, ...]
    fills: tuple[Fill, ...]
    fill_limit: float
    fill_named: str

    def stand(self, name: str) -> Stand:
        """The part of that name in its place. Raises KeyError."""
        for stand in self.stands:
            if stand.name == name:
                return stand
        raise KeyError(name)

    def lengths_m(self) -> Mapping[int, float]:
        """Number of the run -> its length, for runs with both ends on the plate. [m]"""
        return {led.link.cord.run.number: led.length_m for led in self.wires if led.entries == ("", "")}


def plan_of(site: Site) -> Plan:
    """The plan of a site with a plate. Raises SiteError when parts find no place, ValueError without a plate."""
    problem = problem_of(site)
    layout, wires = _found(problem, site)
    ducts = layout.ducts()
    limit, named = fill_limit(site)
    fills = tuple(fill_of(duct, wires) for duct in ducts)
    return Plan(problem, layout, layout.stands(), ducts, wires, fills, limit, named)


def _found(problem: Problem, site: Site) -> tuple[Layout, tuple[Led, ...]]:
    key = _key(problem)
    if key in _kept:
        layout, wires = _kept[key]
        layout = Layout(problem, *[getattr(layout, name) for name in list(Layout.__dataclass_fields__)[1:]])
        return layout, tuple(_with(led, problem, number) for number, led in enumerate(wires))
    layout = _placed(problem, site)
    try:
        wires = lead(layout)
    except NoWay as fault:
        run = fault.link.cord.run
        told = words.NO_WAY.format(start=run.start, end=run.end)
        raise SiteError([Complaint(run.place, told, words.NO_WAY_EXPECTED, words.NO_WAY_MEND)], site.text) from None
    while len(_kept) >= KEPT:
        del _kept[next(iter(_kept))]
    _kept[key] = layout, wires
    return layout, wires


def _with(led: Led, problem: Problem, number: int) -> Led:
    """The same way for the run as this site has it."""
    fields = [getattr(led, name) for name in list(Led.__dataclass_fields__)[1:]]
    return Led(problem.links[number], *fields)


def _key(problem: Problem) -> str:
    """All that decides a plan; lengths of runs do not."""
    links = [(l.cord.diameter_mm, l.cord.count, l.cord.bend_times, l.cord.weight, l.ends) for l in problem.links]
    return repr((problem.plate, problem.bodies, links, problem.entries, problem.grid))


class NoSolver(SiteError):
    """Parts without a place, and what finds places is not installed."""


def _placed(problem: Problem, site: Site) -> Layout:
    free = [name for name, body in problem.bodies.items() if body.fixed is None]
    if not free:
        return stated(problem)
    try:
        return place(problem)
    except ImportError:
        told = words.NO_SOLVER.format(name=free[0])
        where = problem.bodies[free[0]].place
        complaint = Complaint(where, told, words.NO_SOLVER_EXPECTED, words.NO_SOLVER_MEND)
        raise NoSolver([complaint], site.text) from None
    except NoPlace:
        raise SiteError([_no_place(problem)], site.text) from None


def _no_place(problem: Problem) -> Complaint:
    from .collide import collisions

    reasons, left = collisions(problem)
    finds = (words.FINDS if len(left) == 1 else words.FIND).format(names=", ".join(left))
    told = words.NO_PLACE.format(left=finds)
    told += "; " + words.COLLIDE.format(demands=", ".join(words.DEMANDS[reason] for reason in reasons))
    where = problem.plate.origin["size_mm"].place or problem.plate.place
    return Complaint(where, told, words.NO_PLACE_EXPECTED, words.NO_PLACE_MEND)


def fill_limit(site: Site) -> tuple[float, str]:
    """The share of a duct that wires may fill, and where that stands; no name for one that the file states."""
    plate = site.plate
    if plate is not None and plate.fill_fraction is not None:
        return plate.fill_fraction, ""
    row = next(row for row in rows("duct_fill") if row["rules"] == site.about.rules)
    return float(row["fill_fraction"]), str(row["named"])


def fill_of(duct: Duct, wires: tuple[Led, ...]) -> Fill:
    """Where a duct is fullest, and by what."""
    stretches = [(low, high, led) for led in wires for low, high in _stretches(duct, led)]
    marks = sorted({mark for low, high, _ in stretches for mark in (low, high)})
    best = Fill(duct, duct.box.middle, 0.0, inside_mm2(duct.width, duct.height), ())
    for low, high in zip(marks, marks[1:], strict=False):
        here = [led for start, end, led in stretches if start <= low and high <= end]
        used = sum(bundle_mm2([led.link.cord.diameter_mm] * led.link.cord.count) for led in here)
        if used > best.used:
            middle = (low + high) / 2
            spot = (middle, duct.line) if duct.way == "level" else (duct.line, middle)
            best = Fill(duct, spot, used, best.inside, tuple(led.name for led in here))
    return best


def _stretches(duct: Duct, led: Led) -> list[tuple[float, float]]:
    """Where a wire lies along the middle line of a duct."""
    along, across = (0, 1) if duct.way == "level" else (1, 0)
    found = []
    for one, other in zip(led.spots, led.spots[1:], strict=False):
        if abs(one[across] - duct.line) < 1e-3 and abs(other[across] - duct.line) < 1e-3:
            low, high = sorted((one[along], other[along]))
            low, high = max(low, duct.ends[0]), min(high, duct.ends[1])
            if high > low:
                found.append((low, high))
    return found
