"""Fuse blocks left open: the smallest usual ones that carry what is chosen, with a way to spare."""

from collections.abc import Iterator
from dataclasses import replace

from ..evidence.finding import Finding
from ..evidence.views import DistributionView, Evidence
from ..quantity.show import show
from ..site.kinds import Distribution
from ..site.model import Site
from ..site.place import Origin, Place
from ..site.record import record
from ..tables.reader import rows
from .collide import Clash
from .explain import Reason
from .local import run_some
from .trial import GRAVE, Trial

SPARE_WAYS = 1  # at least; what is added later needs a way of its own. Common practice, no source.
RULES = {
    "ways": "ways-missing",
    "total_a": "block-overloaded",
    "per_way_a": "way-overloaded",
    "voltage_v": "block-voltage-low",
}
KEYS = {"ways": "ways", "total_a": "total", "per_way_a": "per way", "voltage_v": "voltage"}
DIMENSIONS = {"total_a": "current", "per_way_a": "current", "voltage_v": "voltage"}
IN_USE = "{used} ways are needed, {spare} is kept for what comes later"
FUSE = "the {fuse} of {run} sits in a way made for {limit}; the holder melts before the fuse does"
NONE = "{reason}; blocks are commonly sold up to {most}"


@record(frozen=True)
class Sized:
    """One open figure of a block with what was chosen for it, or the clash when nothing sold is enough."""

    subject: str
    attribute: str
    value: float
    text: str
    place: Place
    reason: Reason
    clash: Clash | None = None


def open_blocks(site: Site) -> Iterator[tuple[Distribution, str]]:
    """Every figure of a block that is left open."""
    for part in site.parts.values():
        if isinstance(part, Distribution):
            for attribute in KEYS:
                if attribute in part.origin and part.origin[attribute].how == "choose":
                    yield part, attribute


def sized(site: Site, trial: Trial) -> Iterator[Sized]:
    """What a solved and judged site asks of its open blocks."""
    views = {view.name: view for view in trial.evidence.blocks}
    for block, attribute in open_blocks(site):
        if block.name in views:
            yield _sized(trial.evidence, views[block.name], attribute)


def _sized(evidence: Evidence, view: DistributionView, attribute: str) -> Sized:
    """The smallest usual size of which the rules say nothing; else the smallest that is only tight."""
    sizes = sorted(float(row["value"]) for row in rows("block_sizes") if row["attribute"] == attribute)
    place = view.block.origin[attribute].place or view.place
    told = {size: list(_against(evidence, view, attribute, size)) for size in sizes}
    quiet = [size for size in sizes if not told[size]]
    passing = quiet or [size for size in sizes if not any(grave == "grave" for grave, _ in told[size])]
    if not passing:
        words = NONE.format(reason=told[sizes[-1]][0][1], most=_text(attribute, sizes[-1]))
        return Sized(view.name, attribute, sizes[-1], "", place, Reason(), Clash(RULES[attribute], view.name, words))
    chosen = passing[0]
    below = [size for size in sizes if size < chosen]
    reason = Reason(how="smallest")
    if below:
        reason = Reason(_text(attribute, below[-1]), RULES[attribute], told[below[-1]][0][1], "tried")
    return Sized(view.name, attribute, chosen, _text(attribute, chosen), place, reason)


def _text(attribute: str, value: float) -> str:
    return f"{value:g}" if attribute == "ways" else show(value, DIMENSIONS[attribute])


def _against(evidence: Evidence, view: DistributionView, attribute: str, size: float) -> Iterator[tuple[str, str]]:
    """What speaks against a size: "grave" or "tight", and the words."""
    if attribute == "ways":
        used = _ways_needed(evidence, view)
        if size < used + SPARE_WAYS:
            yield "grave", IN_USE.format(used=used, spare=SPARE_WAYS)
        return
    block = with_figure(view.block, attribute, size)
    found: list[Finding] = list(run_some([RULES[attribute]], replace(evidence, blocks=(replace(view, block=block),))))
    for finding in found:
        yield "grave" if finding.severity in GRAVE else "tight", finding.message
    if attribute == "per_way_a":
        for run in evidence.runs:
            on_way = any(end.part == view.name and end.way is not None for end in (run.run.start, run.run.end))
            if on_way and run.own_fuse is not None and run.own_fuse.rating_a > size:
                yield "grave", FUSE.format(fuse=run.own_fuse.fuse, run=run.name, limit=show(size, "current"))


def _ways_needed(evidence: Evidence, view: DistributionView) -> int:
    """As many as runs that leave by a way or a fuse, and no fewer than the highest number in use."""
    ends = [(run, end) for run in evidence.runs for end in (run.run.start, run.run.end) if end.part == view.name]
    numbers = {end.way for _, end in ends if end.way is not None}
    loose = sum(run.run.start is end and end.way is None and run.own_fuse is not None for run, end in ends)
    return max(len(numbers) + loose, max(numbers, default=0))


def with_figure(block: Distribution, attribute: str, value: float) -> Distribution:
    """A block with one figure stated."""
    origin = {**block.origin, attribute: Origin("stated", "", block.origin[attribute].place)}
    if attribute == "ways":
        return replace(block, ways=round(value), origin=origin)
    figures: dict[str, float] = {attribute: value}
    return replace(block, origin=origin, **figures)  # type: ignore[arg-type]
