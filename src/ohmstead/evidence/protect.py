"""Which fuse protects which run, and how much of a run lies in front of its fuse."""

from collections.abc import Mapping

from ..network.points import Way
from ..parts.fuse import with_window
from ..quantity.span import Span
from ..site.kinds import Distribution
from ..site.model import Run, Site
from ..wiring.fuse_time import continuous_a
from .chain import Chain
from .views import FuseView


def own_fuse(site: Site, way: Way) -> FuseView | None:
    """The fuse a run holds, where it sits."""
    run = way.run
    if run.fuse is None:
        return None
    fuse = with_window(run.fuse, run.fuse_window) if run.fuse_window else run.fuse
    block = block_of(site, way)
    ambient = _air_at_fuse(site, way, block).high
    limits = [a for a in (run.holder_a, block.per_way_a if block else None, fuse.family.holder_a) if a is not None]
    at = distance_to_fuse(site, way)
    return FuseView(
        fuse,
        run.name,
        fuse.rating_a,
        ambient,
        continuous_a(fuse, ambient),
        min(limits) if limits else None,
        at,
        run.place,
    )


def _air_at_fuse(site: Site, way: Way, block: Distribution | None) -> Span:
    """Air where a fuse sits: at its block, else in the zone of its run, else at the source end. [°C]"""
    if block is not None:
        return site.air_at(block.name)
    return site.air_of(way.run.zone) if way.run.zone else site.air_at(way.near_end.part)


def block_of(site: Site, way: Way) -> Distribution | None:
    """The fuse block on whose numbered way a run sits."""
    for end in (way.near_end, way.far_end):
        part = site.parts.get(end.part)
        if end.way is not None and isinstance(part, Distribution):
            return part
    return None


def distance_to_fuse(site: Site, way: Way) -> float:
    """Length of run between its source and its fuse; 0 in a fuse block, 0 assumed where nothing is said. [m]"""
    run = way.run
    at_block = next(
        (
            end
            for end in (way.near_end, way.far_end)
            if end.way is not None and isinstance(site.parts.get(end.part), Distribution)
        ),
        None,
    )
    if at_block is not None and run.fuse_at_m is None:
        return 0.0 if at_block is way.near_end else run.length_m
    if run.fuse_at_m is None:
        return 0.0
    return run.length_m - run.fuse_at_m if way.turned else run.fuse_at_m


def position_assumed(site: Site, way: Way) -> bool:
    """True when nobody said where the fuse of a run sits."""
    return way.run.fuse is not None and way.run.fuse_at_m is None and block_of(site, way) is None


def guards(chain: Chain, fuses: Mapping[int, FuseView | None]) -> dict[int, FuseView | None]:
    """For every run its own fuse, or the next one towards the source."""
    found: dict[int, FuseView | None] = {}
    for number in chain.ways:
        towards = (number, *chain.circuit.map.upstream[number])
        found[number] = next((fuse for n in towards if (fuse := fuses[n]) is not None), None)
    return found


def unfused_m(way: Way, fuse: FuseView | None) -> float:
    """Length between the source end and the run's own fuse; all of it when it has none. [m]"""
    run: Run = way.run
    return run.length_m if fuse is None else min(max(fuse.at_m, 0.0), run.length_m)
