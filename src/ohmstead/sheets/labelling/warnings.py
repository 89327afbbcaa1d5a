"""Warning labels: voltage, arc, fuses, battery, two supplies. One of each where it belongs."""

from collections.abc import Iterator

from ...evidence.views import DistributionView, Evidence
from ...quantity.show import show
from ...site.kinds import Charger
from ...tables.reader import rows
from ..asked import Asked
from ..fuse_schedule import ARC_V, SURE_ARC_V
from ..owner.fuses import fused, not_under_load
from . import words
from .label import Label, Words

TOUCHABLE = "touchable without protection"


def warnings(asked: Asked) -> Iterator[Label]:
    """For each fuse block (the site when it has none) voltage, arc and fuses; one a battery; one for two supplies."""
    evidence = asked.evidence
    places = [(view.name, _highest_v(evidence, view)) for view in evidence.blocks]
    places = places or [(asked.site.about.name, evidence.highest_v)]
    for name, high_v in places:
        yield _label(
            f"{name}: voltage",
            "electricity",
            words.VOLTAGE.format(volts=show(high_v, "voltage")),
            (*words.VOLTAGE_LINES, *_touch(high_v)),
            name,
        )
    arcing = not_under_load(evidence)
    highest = max((view.source_high.value for view in arcing), default=0.0)
    for name, high_v in places:
        if high_v > ARC_V and arcing:
            yield _arc(name, high_v)
    if arcing and max(high_v for _, high_v in places) <= ARC_V:
        yield _arc(asked.site.about.name, highest)
    if next(fused(evidence), None) is not None:
        for name, _ in places:
            yield _label(f"{name}: fuses", "general", words.REPLACE, words.REPLACE_LINES, name)
    for battery in evidence.batteries:
        title = words.BATTERY.format(name=battery.name, current=show(battery.together_a, "current", 2))
        yield _label(f"{battery.name}: battery", "electricity", title, words.BATTERY_LINES, "")
    yield from _two(evidence)


def _highest_v(evidence: Evidence, block: DistributionView) -> float:
    """The highest voltage where a block stands: its own, or that of a converter beside it. [V]"""
    beside = (view.converter.output_v.high for view in evidence.converters if view.converter.zone == block.block.zone)
    return max([block.high_v, *beside])


def _label(tag: str, sign: str, title: str, lines: tuple[str, ...], place: str) -> Label:
    said = (Words(title, 1.5, "bold"), *(Words(line) for line in lines), Words(place, 0.8))
    return Label("warning", tag, said, sign=sign)


def _touch(high_v: float) -> Iterator[str]:
    limit = next(float(row["direct_v"]) for row in rows("voltage_limit") if row["name"] == TOUCHABLE)
    if high_v > limit:
        yield words.NOT_TOUCHED.format(limit=show(limit, "voltage"))


def _arc(place: str, high_v: float) -> Label:
    text = words.SURE_ARC_SITE if high_v >= SURE_ARC_V else words.ARC_SITE
    lines = (text.format(volts=show(high_v, "voltage")), words.ARC_FIRST)
    return _label(f"{place}: arc", "general", words.ARC, lines, place)


def _two(evidence: Evidence) -> Iterator[Label]:
    """A charger, a second battery: what stays live when one of them is switched off."""
    names = [*(view.name for view in evidence.batteries), *(view.name for view in evidence.chargers)]
    if len(names) < 2:
        return
    sources = ", ".join(names[:-1]) + words.AND + names[-1]
    sun = any(isinstance(view.part, Charger) and view.part.supply == "sun" for view in evidence.chargers)
    lines = (words.TWO_LINE.format(sources=sources), *(words.TWO_SUN,) * sun)
    yield _label("two supplies", "electricity", words.TWO, lines, "")
