"""Fuses by kind and rating with spares, their holders, and what is still to be chosen."""

from collections import defaultdict
from collections.abc import Iterator
from math import ceil

from ...evidence.protect import block_of
from ...network.points import Way
from ...parts.fuse import Fuse
from ...quantity.show import show
from ...site.model import Run, Site
from ...tables.sources import source
from ..cutting.pieces import OPEN, tag_of
from .item import Item

GROUP = "fuses"
HOLDERS = "fuse holders"
# Spares by common practice, no source: two of each small rating, or a fifth of those in use where that is more;
# one of each larger one; a breaker is closed again.
SMALL_A = 40.0
SMALL_SPARES = 2
SPARE_FRACTION = 0.2
LARGE_SPARES = 1
RULE = (
    "Spares: two of each fuse up to {small}, or a fifth of those in use where that is more; one of each larger one; "
    "none for breakers. Common practice, no source."
)
PRINTED = "standard and {volts} printed on the fuse; breaks at least {breaking} DC"
AC_PRINTED = (
    "standard printed on the fuse; good for {volts} DC and {breaking}, although {printed} is printed: that is for "
    "alternating current"
)
UNPRINTED = "{volts}; breaks at least {breaking}; this kind follows makers' sheets"
HOLDER = "holder for one {title}"
HOLDER_ASK = "at least {amps} and {volts}, covered"
MAKERS = ("fuse-sheet-stud", "fuse-sheet-strip", "common-practice")


def fuse_items(site: Site) -> Iterator[Item]:
    """Fuses and breakers, smallest rating of each kind first; then those still open."""
    runs: dict[tuple[str, float], list[Run]] = defaultdict(list)
    still_open = []
    for run in site.runs:
        if run.fuse is not None:
            runs[run.fuse.family.title, run.fuse.rating_a].append(run)
        elif run.origin_of("fuse") == "choose":
            still_open.append(tag_of(site, run))
    for _, group in sorted(runs.items(), key=lambda entry: entry[0]):
        fuse = group[0].fuse
        if fuse is not None:
            yield Item(
                GROUP,
                f"{fuse.rating_a:g} A {fuse.family.title}",
                len(group),
                spares(fuse, len(group)),
                None,
                standard(fuse),
                tuple(tag_of(site, run) for run in group),
                ask(fuse),
                fuse,
            )
    if still_open:
        yield Item(GROUP, f"fuse {OPEN}", len(still_open), 0, None, "", tuple(still_open))


def spares(fuse: Fuse, n_used: int) -> int:
    """How many spares the stated rule asks for."""
    if fuse.family.kind == "breaker":
        return 0
    if fuse.rating_a > SMALL_A:
        return LARGE_SPARES
    return max(SMALL_SPARES, ceil(SPARE_FRACTION * n_used - 1e-9))


def spare_rule() -> str:
    """The rule in words."""
    return RULE.format(small=show(SMALL_A, "current"))


def standard(fuse: Fuse) -> str:
    """The standard of its kind; empty where only makers' sheets describe it."""
    return "" if fuse.family.source in MAKERS else str(source(fuse.family.source))


def ask(fuse: Fuse) -> str:
    """What to look for in the shop."""
    family = fuse.family
    breaking = show(fuse.breaking_capacity_a(family.rated_v), "current")
    volts = show(family.rated_v, "voltage")
    if family.source in MAKERS:
        return UNPRINTED.format(volts=volts, breaking=breaking)
    if family.printed_ac_v is not None:
        return AC_PRINTED.format(volts=volts, breaking=breaking, printed=show(family.printed_ac_v, "voltage"))
    return PRINTED.format(volts=volts, breaking=breaking)


def holder_items(site: Site) -> Iterator[Item]:
    """A holder for each fuse that does not sit on the way of a block, by kind."""
    runs: dict[str, list[Run]] = defaultdict(list)
    for run in site.runs:
        if run.fuse is not None and block_of(site, Way(run, "", "", False)) is None:
            runs[run.fuse.family.title].append(run)
    for title, group in sorted(runs.items()):
        fuses = [run.fuse for run in group if run.fuse is not None]
        amps = max([fuse.rating_a for fuse in fuses] + [run.holder_a or 0.0 for run in group])
        volts = max(fuse.family.rated_v for fuse in fuses)
        yield Item(
            HOLDERS,
            HOLDER.format(title=title),
            len(group),
            0,
            None,
            "",
            tuple(tag_of(site, r) for r in group),
            HOLDER_ASK.format(amps=show(amps, "current"), volts=show(volts, "voltage")),
        )
