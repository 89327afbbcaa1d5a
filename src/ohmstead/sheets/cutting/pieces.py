"""Every piece of wire and every network cable of a site, with its tag, its length, its colour and its ends."""

from collections.abc import Iterator
from math import ceil

from ...evidence.protect import block_of
from ...network.points import Way
from ...parts.wire import Wire
from ...site.model import Run, Site
from ...site.record import record
from ...tables.reader import rows
from .colours import Colours
from .ends import Termination, termination
from .packing import STEP_M

OPEN = "not yet chosen"
NEAR_LABEL = "{tag} {here} -> {there}"
FAR_LABEL = "{tag} {here} <- {there}"
HOLDER = "{fuse} fuse holder"
OPEN_HOLDER = "fuse holder"
SIGNS = {"+": "positive", "-": "negative"}


@record(frozen=True)
class Piece:
    """One wire, cut once. `sign` is "+" or "-", empty for a network cable. `wire` None: cable, or left open.

    `route_m` is what it has to span, `length_m` what is cut.
    """

    tag: str
    run: Run
    sign: str
    route_m: float
    length_m: float
    wire: Wire | None
    colour: str
    start: Termination
    end: Termination

    @property
    def labels(self) -> tuple[str, str]:
        """What the tag at each end says, its own end first."""
        here, there = self.start.at, self.end.at
        return (
            NEAR_LABEL.format(tag=self.tag, here=here, there=there),
            FAR_LABEL.format(tag=self.tag, here=there, there=here),
        )

    @property
    def steps(self) -> int:
        """Length in whole steps of the cutting plan."""
        return round(self.length_m / STEP_M)


def slack_m(route_m: float) -> float:
    """What is cut for a route: bends and both ends added, rounded up to whole steps. [m]"""
    rule = {name: float(value) for name, value in rows("wire_slack")[0].items()}
    end_m = min(rule["end_m"], rule["end_fraction"] * route_m)
    return round(ceil((route_m * (1 + rule["route_fraction"]) + 2 * end_m) / STEP_M - 1e-9) * STEP_M, 6)


def tag_of(site: Site, run: Run) -> str:
    """Tag of a run: W and its place in the file for wire, N for network and data cable."""
    number = next(index for index, known in enumerate(site.runs, 1) if known.number == run.number)
    letter = "N" if run.cable is not None or run.carries == "data" else "W"
    return f"{letter}{number:0{max(2, len(str(len(site.runs))))}}"


def wire_pieces(site: Site, colours: Colours) -> tuple[Piece, ...]:
    """Every piece of single wire, in the order of the file, positive first."""
    return tuple(
        piece
        for run in site.runs
        if run.cable is None and run.carries == "power"
        for piece in _of_run(site, run, colours)
    )


def cable_pieces(site: Site) -> tuple[Piece, ...]:
    """Every network or data cable."""
    found = []
    for run in site.runs:
        if run.cable is not None or run.carries == "data":
            start, end = termination(site, run, 0), termination(site, run, 1)
            found.append(Piece(tag_of(site, run), run, "", run.length_m, slack_m(run.length_m), None, "", start, end))
    return tuple(found)


def fuse_cuts(site: Site, run: Run) -> float | None:
    """Where a fuse cuts the positive wire in two, from its written start; None when it does not. [m]"""
    if run.fuse is None and run.origin_of("fuse") != "choose":
        return None
    if run.fuse_at_m is None or run.wires == "negative":
        return None
    if block_of(site, Way(run, "", "", False)) is not None or not 0 < run.fuse_at_m < run.length_m:
        return None
    return run.fuse_at_m


def _of_run(site: Site, run: Run, colours: Colours) -> Iterator[Piece]:
    tag = tag_of(site, run)
    start, end = termination(site, run, 0), termination(site, run, 1)
    for sign, word in SIGNS.items():
        if run.wires not in ("both", word):
            continue
        colour = colours.positive if sign == "+" else colours.negative
        at_m = fuse_cuts(site, run) if sign == "+" else None
        if at_m is None:
            yield _piece(run, tag + sign, run.length_m, colour, (start, end))
            continue
        holder = Termination(HOLDER.format(fuse=run.fuse) if run.fuse else OPEN_HOLDER, "holder", None, run.wire)
        yield _piece(run, f"{tag}{sign}a", at_m, colour, (start, holder))
        yield _piece(run, f"{tag}{sign}b", run.length_m - at_m, colour, (holder, end))


def _piece(run: Run, tag: str, route_m: float, colour: str, ends: tuple[Termination, Termination]) -> Piece:
    sign = "+" if "+" in tag else "-"
    return Piece(tag, run, sign, route_m, slack_m(route_m), run.wire, colour, *ends)
