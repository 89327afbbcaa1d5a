"""Constant-power loads behind too much resistance leave the supply no operating point: it collapses."""

from collections.abc import Iterator

from ..evidence.feeding import converter_named, place_of, way_to
from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence
from ..wiring.stability import largest_power_w

RULE = Rule("supply-collapses", Source("remote-powering-handbook", "greatest power through a line, U²/(4·R)"))
# A quarter more load, a quarter more resistance (joints age) or a tenth less voltage must not bring it down;
# common practice, no source.
LEAST_FACTOR = 1.25
COLLAPSES = Words(
    "the supply has no operating point: only {value} of what is asked for can pass; {subject} gives "
    "way{passes}",
    "less resistance on the way ({way}), a higher voltage for the long run, or less load at once",
)
CLOSE = Words(
    "with {value} times the present load the supply collapses; {subject} gives way first{passes}",
    "less resistance on the way ({way}), or a higher voltage for the long run: {limit} times is a fair least",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    margin = evidence.margin
    if margin is None or margin.factor >= LEAST_FACTOR:
        return
    collapses = margin.factor < 1
    if not collapses and _told_elsewhere(evidence, margin.element):
        return
    most_w = greatest_power_w(evidence, margin.element)
    way = way_to(evidence, margin.element)
    texts = {
        "passes": f", no more than {Number(most_w, 'power')} can pass to it" if most_w is not None else "",
        "way": max(way, key=lambda run: run.drop.value).name.replace("->", "to")
        if way
        else "thicker and shorter wire",
    }
    numbers = {} if most_w is None else {"greatest": Number(most_w, "power")}
    dimension = "share" if collapses else "number"
    measure = Measure(margin.factor, 1.0 if collapses else LEAST_FACTOR, dimension, "least")
    severity, words = (Severity.FAILS, COLLAPSES) if collapses else (Severity.TIGHT, CLOSE)
    subject = Subject(margin.element, place_of(evidence, margin.element), margin.case)
    yield RULE.find(severity, subject, words, measure, numbers, texts)


def _told_elsewhere(evidence: Evidence, name: str) -> bool:
    """True when it is already found locked out or browned out in an ordinary case."""
    converter = converter_named(evidence, name)
    if converter is not None:
        return converter.locked_out is not None or bool(converter.victim_of)
    return any(view.name == name and view.browned_out is not None for view in evidence.devices)


def greatest_power_w(evidence: Evidence, name: str) -> float | None:
    """What can pass to a part alone behind its wires: V_oc² / (4·R), battery low and copper hot. [W]"""
    converter = converter_named(evidence, name)
    if converter is not None:
        open_v, ohm = converter.source_v, converter.source_ohm
    else:
        way = way_to(evidence, name)
        battery = next((b for b in evidence.batteries if way and b.name == way[0].fed_by), None)
        if battery is None:
            return None
        open_v = battery.low_v
        ohm = battery.resistance_high_ohm + sum(run.loop_hot_ohm for run in way)
    return largest_power_w(open_v, ohm) if 0 < ohm < float("inf") and open_v > 0 else None
