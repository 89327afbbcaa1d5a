"""A plan with some parts moved by hand: what it would be, and how it is written into the file."""

from collections.abc import Mapping
from dataclasses import replace

from ..plate.box import Spot
from ..site.model import Site
from ..site.plates import Mount
from ..site.problems import SiteError
from ..site.reshape import with_value
from .apply import written
from .layout import Layout
from .lengths import PLAN
from .place import stated
from .plan import Plan, fill_limit, plan_of
from .problem import problem_of


def moved(site: Site, plan: Plan, spots: Mapping[str, Spot]) -> Site:
    """The site with every part where its plan has it and some of them elsewhere; nothing is left to find.

    `spots` are upper left corners by name, in mm to the right and down. Raises KeyError for a part that does not
    stand on the plate, ValueError for a site without one.
    """
    if site.plate is None:
        raise ValueError("this site has no plate")
    for name in spots:
        plan.stand(name)
    mounts = dict(site.plate.mounts)
    for stand in plan.stands:
        known = mounts.get(stand.name) or Mount(stand.name)
        at = spots.get(stand.name, stand.corner)
        mounts[stand.name] = replace(known, at_mm=at, turned_deg=90.0 * stand.turns)
    layout = plan.layout
    runs = tuple(replace(run, length_m=0.0) if run.origin_of("length_m") == PLAN else run for run in site.runs)
    plate = replace(site.plate, mounts=mounts, across_mm=layout.across, upright_mm=layout.upright)
    return replace(site, plate=plate, runs=runs)


def freed(site: Site) -> Site:
    """The site with no part of its plate in a stated place, so that places are found for all of them."""
    if site.plate is None:
        raise ValueError("this site has no plate")
    mounts = {name: replace(mount, at_mm=None) for name, mount in site.plate.mounts.items()}
    return replace(site, plate=replace(site.plate, mounts=mounts))


def looked_at(site: Site) -> tuple[Plan, str]:
    """The plan of a site whose parts all have places, without wires where one finds no way; and what speaks against it.

    The second is empty when every wire finds its way.
    """
    try:
        return plan_of(site), ""
    except SiteError as fault:
        problem = problem_of(site)
        layout: Layout = stated(problem)
        told = "; ".join(f"{one.what}: {one.mend}" for one in fault.problems)
        return Plan(problem, layout, layout.stands(), layout.ducts(), (), (), *fill_limit(site)), told


def wire_m(plan: Plan) -> float:
    """All wires of the plate together, each counted once for its run. [m]"""
    return sum(led.length_m for led in plan.wires)


def written_moved(site: Site, spots: Mapping[str, Spot]) -> str:
    """The text with the moved parts in their places, and every other part of the plan where it is found to stand.

    Raises SiteError as `plan_of` does, KeyError for a part that does not stand on the plate, EditRefused.
    """
    plan = plan_of(site)
    text = written(site, plan)
    for name, (right, down) in spots.items():
        if plan.stand(name).corner != (right, down):
            text = with_value(text, site.path, ("plate", "parts", name, "at"), f"[{right:g} mm, {down:g} mm]")
    return text
