"""Fills in the lengths that the file leaves to the plan. Nothing is loaded for a site that leaves none."""

from dataclasses import replace

from ..quantity.show import show
from ..site.model import Run, Site
from ..site.problems import Problem, SiteError
from . import words

PLAN = "plan"


def planned(site: Site) -> Site:
    """The same site with every length known. Raises SiteError when the plan cannot give one."""
    if not any(_open(run) for run in site.runs):
        return site
    from .plan import plan_of

    lengths = plan_of(site).lengths_m()
    runs = tuple(replace(run, length_m=round(lengths[run.number], 3)) if _open(run) else run for run in site.runs)
    faults = [problem for run in runs if (problem := _fuse_beyond(run)) is not None]
    if faults:
        raise SiteError(faults, site.text)
    return replace(site, runs=runs)


def _open(run: Run) -> bool:
    """Is its length still to be taken from the plan?"""
    return run.length_m == 0 and run.origin_of("length_m") == PLAN


def _fuse_beyond(run: Run) -> Problem | None:
    if run.origin_of("length_m") != PLAN or run.fuse_at_m is None or run.fuse_at_m <= run.length_m:
        return None
    at, length = show(run.fuse_at_m, "length"), show(run.length_m, "length")
    place = run.origin["fuse_at_m"].place or run.place
    told = words.FUSE_BEYOND.format(at=at, length=length)
    return Problem(place, told, words.FUSE_BEYOND_EXPECTED, words.FUSE_BEYOND_MEND)
