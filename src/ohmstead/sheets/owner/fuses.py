"""Fuses as a helper meets them: where they sit, what they feed, what to keep in reserve."""

from collections import Counter
from collections.abc import Iterator

from ...evidence.views import Evidence, FuseView, RunView
from ...parts.fuse import Fuse
from ..buying.fuses import spares

ARC_V = 20.0  # an arc of direct current in air may stay from about this voltage (Stokes and Oppenlander at no gap)
ARC_A = 1.0  # and from about this current (common practice, no source)


def fused(evidence: Evidence) -> Iterator[tuple[RunView, FuseView]]:
    """Every fuse with its run, mains first, then in the order of the file."""
    found = [(view, view.own_fuse) for view in evidence.runs if view.own_fuse is not None]
    return iter(sorted(found, key=lambda pair: pair[0].fed_kind != "battery" or bool(pair[0].upstream)))


def seat(view: RunView) -> str:
    """Where a fuse sits: the way of a block, or beside the part it starts from."""
    for end in (view.run.start, view.run.end):
        if end.way is not None:
            return str(end)
    return f"{view.run.start} (in the wire)"


def batteries_own(evidence: Evidence) -> Iterator[tuple[str, FuseView]]:
    """The fuse nearest to each battery, with the battery's name."""
    for view, fuse in fused(evidence):
        for battery in evidence.batteries:
            if battery.name in (view.run.start.part, view.run.end.part) and view.fed_kind == "battery":
                yield battery.name, fuse


def kept(evidence: Evidence) -> list[tuple[Fuse, int, int]]:
    """Each kind and rating of fuse with how many are fitted and how many to keep, as the parts list counts them."""
    first: dict[tuple[str, float], Fuse] = {}
    count: Counter[tuple[str, float]] = Counter()
    for _, fuse in fused(evidence):
        key = (fuse.fuse.family.name, fuse.rating_a)
        first.setdefault(key, fuse.fuse)
        count[key] += 1
    return [(first[key], n, spares(first[key], n)) for key, n in sorted(count.items())]


def not_under_load(evidence: Evidence) -> list[RunView]:
    """Fused runs whose fuse or plug would draw an arc when it is pulled while they carry current."""
    return [view for view, _ in fused(evidence) if view.source_high.value > ARC_V and view.sustained.value > ARC_A]
