"""The door sheet: how to switch everything off, what each fuse feeds, spares, and what never to pull under load."""

from collections.abc import Iterator

from ..evidence.views import Evidence, RunView
from ..quantity.show import show
from ..site.kinds import Charger
from .asked import Asked
from .buying.fuses import spare_rule, standard
from .document import Block, Caution, Document, Heading, Steps, Table, Terms, Text
from .owner import words
from .owner.fuses import ARC_V, batteries_own, fused, kept, not_under_load, seat

TITLE = "Door sheet"
PAPER = "upright"
ORDER = 50


def draw(asked: Asked, terms: Terms) -> Document:
    """The sheet for the inside of the door, in words for a helper without background."""
    evidence = asked.evidence
    blocks: list[Block] = [
        Caution(words.CAUTION_TITLE, words.CAUTION),
        Heading(words.OFF_TITLE),
        Steps(tuple(switch_off(evidence))),
        Heading(words.ON_TITLE),
    ]
    blocks += [Text(text) for text in words.ON_STEPS]
    blocks += [
        Heading(words.FEEDS_TITLE),
        _feeds(evidence),
        *_never(evidence),
        Heading(words.SPARES_TITLE),
        _spares(evidence),
        Text(spare_rule()),
        Heading(words.HELP_TITLE),
        _help(evidence),
    ]
    return Document("door", TITLE, tuple(blocks), PAPER)


def switch_off(evidence: Evidence) -> Iterator[str]:
    """The way to a dead supply, step by step: loads, panels and chargers, switches, fuses, measure."""
    busiest = sorted(evidence.devices, key=lambda view: -max((d.power_w.high for d in view.device.draws), default=0.0))
    if busiest:
        yield words.OFF_LOADS.format(names=", ".join(view.name for view in busiest[:6]))
    for view in evidence.chargers:
        text = words.OFF_SUN if _from_sun(view.part) else words.OFF_CHARGER
        yield text.format(name=view.name)
    closed = [view.name for view in evidence.switches if view.part.set_to == "closed"]
    for name in closed:
        yield words.OFF_SWITCH.format(name=name)
    if not closed:
        yield words.OFF_NO_SWITCH
    for battery, fuse in batteries_own(evidence):
        yield words.OFF_FUSE.format(fuse=fuse.fuse, battery=battery)
    places = [*(view.name for view in evidence.blocks), *(view.name for view in evidence.busbars)]
    yield words.OFF_WAIT.format(name=places[0] if places else words.OPEN_ITEM)
    yield words.OFF_LIVE


def _from_sun(part: Charger) -> bool:
    return part.supply == "sun"


def _feeds(evidence: Evidence) -> Table:
    rows = [
        (seat(view), str(fuse.fuse), str(view.run.end), _darkened(evidence, view)) for view, fuse in fused(evidence)
    ]
    return Table("door-fuses", words.FEEDS_HEAD, tuple(rows), "llll", widths=(0.26, 0.18, 0.22, 0.34))


def _darkened(evidence: Evidence, view: RunView) -> str:
    """What goes dark when the fuse of a run is out."""
    if len(view.feeds) == len(evidence.devices) > 1:
        return words.EVERYTHING
    return ", ".join(view.feeds) or "-"


def _never(evidence: Evidence) -> Iterator[Block]:
    yield Heading(words.NEVER_TITLE)
    arcing = not_under_load(evidence)
    if not arcing:
        yield Text(words.NEVER_NONE)
        return
    names = tuple(
        f"{seat(view)}: {', '.join(view.feeds) or view.run.end}, {show(view.source_high.value, 'voltage')}, "
        f"{show(view.sustained.value, 'current')}"
        for view in arcing
    )
    yield Caution(words.NEVER_LEAD.format(volts=show(ARC_V, "voltage")), names)


def _spares(evidence: Evidence) -> Table:
    rows = []
    for fuse, fitted, spare in kept(evidence):
        rows.append((str(fuse), str(fitted), str(spare), standard(fuse)))
    return Table("door-spares", words.SPARES_HEAD, tuple(rows), "lrrl", widths=(0.24, 0.1, 0.1, 0.56))


def _help(evidence: Evidence) -> Steps:
    switch = evidence.switches[0].name if evidence.switches else words.NO_SWITCH
    return Steps(tuple(text.format(switch=switch) for text in words.HELP), "number")
