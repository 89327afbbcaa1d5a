"""Puts picked options into a site, without going through its text."""

from collections.abc import Mapping
from dataclasses import replace

from ..parts.fuse import Fuse
from ..parts.wire import Wire
from ..site.kinds import Converter
from ..site.model import Run, Site
from ..site.place import Origin
from .ends import settled
from .options import Decision

Picks = Mapping[tuple[str, str], int]  # subject and attribute -> index of the option


def assigned(site: Site, decided: tuple[Decision, ...], picks: Picks) -> Site:
    """The site with every picked option in its place, and open ends fitted to the wires."""
    by_run: dict[int, list[Decision]] = {}
    parts = dict(site.parts)
    for decision in decided:
        if decision.key not in picks:
            continue
        if decision.number:
            by_run.setdefault(decision.number, []).append(decision)
        else:
            part, watts = parts[decision.subject], decision.options[picks[decision.key]].thing
            assert isinstance(part, Converter) and isinstance(watts, float)
            origin = {**part.origin, "rating_w": Origin("stated", "", decision.place)}
            parts[decision.subject] = replace(part, rating_w=watts, origin=origin)
    runs = tuple(_run(run, by_run[run.number], picks) if run.number in by_run else run for run in site.runs)
    return replace(site, runs=tuple(settled(site, run) for run in runs), parts=parts)


def _run(run: Run, decided: list[Decision], picks: Picks) -> Run:
    wire, fuse, origin = run.wire, run.fuse, dict(run.origin)
    for decision in decided:
        thing = decision.options[picks[decision.key]].thing
        origin[decision.attribute] = Origin("stated", "", decision.place)
        if isinstance(thing, Wire):
            wire = thing
        elif isinstance(thing, Fuse):
            fuse = thing
    return replace(run, wire=wire, fuse=fuse, origin=origin)
