"""Constant-power loads behind too much resistance leave the supply no operating point: it collapses."""

from collections.abc import Iterator
from dataclasses import dataclass

from ..evidence.feeding import converter_named, feeders_of, place_of, way_to
from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import ConverterView, DeviceView, Evidence, Margin
from ..wiring.stability import largest_power_w
from .converter_at_its_current_limit import asked_of, over_limit

RULE = Rule("supply-collapses", Source("remote-powering-handbook", "greatest power through a line, U²/(4·R)"))
# A quarter more load, a quarter more resistance (joints age) or a tenth less voltage must not bring it down;
# common practice, no source.
LEAST_FACTOR = 1.25
NEAR = 0.05  # losses on the way to the devices are not in what is asked of a converter; a figure of ours
ASKS_TOO_MUCH = Words(
    "about {value} are asked for {subject}, and no more than {limit} can pass: the voltage collapses",
    "bring the resistance on the way down ({way}), use a higher voltage for the long run, or run less at once",
)
SHARES = Words(
    "about {value} are asked for {subject}; {limit} could pass alone, but the neighbours take their share on the "
    "same wires: the voltage collapses",
    "bring the resistance on the way down ({way}), use a higher voltage for the long run, or run less at once",
)
DROPS_OUT = Words(
    "{asked} are asked for {subject}, more than can pass: the voltage falls until it drops out",
    "bring the resistance on the way down ({way}), use a higher voltage for the long run, or run less at once",
)
COLLAPSES = Words(
    "the supply collapses: only {value} of what is asked for can pass; {subject} gives way{passes}",
    "bring the resistance on the way down ({way}), use a higher voltage for the long run, or run less at once",
)
CLOSE = Words(
    "with {value} times the present load the supply collapses; {subject} gives way first{passes}",
    "bring the resistance on the way down ({way}), or use a higher voltage for the long run: {limit} times is a "
    "fair least",
)


@dataclass(frozen=True, slots=True)
class Collapse:
    """A part that dropped out although its voltage had not yet fallen to its limit: no operating point."""

    name: str
    case: str
    asked_w: float


def collapses(evidence: Evidence) -> tuple[Collapse, ...]:
    """Every part that has no operating point in some case, each with what it asks for."""
    found = [_converter(view) for view in evidence.converters]
    found += [_device(evidence, view) for view in evidence.devices]
    return tuple(collapse for collapse in found if collapse is not None)


def _converter(view: ConverterView) -> Collapse | None:
    down = view.locked_out
    part = view.converter
    if down is None or view.victim_of or down.value < (part.lockout.off_v if part.lockout else part.input_v.low):
        return None
    asked = view.output_peak_w if down.case == view.output_peak_w.case else view.output_w
    best = max((efficiency for _, efficiency in part.efficiency), default=1.0)
    return Collapse(view.name, down.case, asked.value / best)


def _device(evidence: Evidence, view: DeviceView) -> Collapse | None:
    down = view.browned_out
    part = view.device
    floor_v = part.cutoff_v if part.cutoff_v is not None else part.input_v.low if part.input_v else None
    if down is None or floor_v is None or view.victim_of or down.value < floor_v:
        return None
    feeder = converter_named(evidence, view.fed_by)
    if feeder is not None and over_limit(feeder):
        return None
    return Collapse(view.name, down.case, max((draw.power_w.high for draw in part.draws), default=0.0))


def check(evidence: Evidence) -> Iterator[Finding]:
    found = collapses(evidence)
    for collapse in found:
        yield _told(evidence, collapse)
    margin = evidence.margin
    if found or margin is None or margin.factor >= LEAST_FACTOR:
        return
    beyond = margin.factor < 1
    if _limit_decides(evidence, margin) or (not beyond and _told_elsewhere(evidence, margin.element)):
        return
    most_w = greatest_power_w(evidence, margin.element)
    passes = f", no more than {Number(most_w, 'power')} can pass to it" if most_w is not None else ""
    numbers = {} if most_w is None else {"greatest": Number(most_w, "power")}
    limit, dimension = (1.0, "share") if beyond else (LEAST_FACTOR, "number")
    measure = Measure(margin.factor, limit, dimension, "least")
    severity, words = (Severity.FAILS, COLLAPSES) if beyond else (Severity.TIGHT, CLOSE)
    subject = Subject(margin.element, place_of(evidence, margin.element), margin.case)
    texts = {"passes": passes, "way": _lossiest(evidence, margin.element)}
    yield RULE.find(severity, subject, words, measure, numbers, texts)


def _told(evidence: Evidence, collapse: Collapse) -> Finding:
    subject = Subject(collapse.name, place_of(evidence, collapse.name), collapse.case)
    most_w = greatest_power_w(evidence, collapse.name)
    texts = {"way": _lossiest(evidence, collapse.name), "passes": ""}
    if most_w is None:
        asked = {"asked": Number(collapse.asked_w, "power")}
        return RULE.find(Severity.FAILS, subject, DROPS_OUT, None, asked, texts)
    words = ASKS_TOO_MUCH if collapse.asked_w > most_w else SHARES
    measure = Measure(collapse.asked_w, most_w, "power")
    return RULE.find(Severity.FAILS, subject, words, measure, {"greatest": Number(most_w, "power")}, texts)


def collapses_at(evidence: Evidence, name: str) -> bool:
    """True when there is no operating point with that part: whatever else it does follows from it."""
    margin = evidence.margin
    beyond = margin is not None and margin.factor < 1 and margin.element == name
    return beyond or any(collapse.name == name for collapse in collapses(evidence))


def _limit_decides(evidence: Evidence, margin: Margin) -> bool:
    """True when a source above the element meets its own limit at that load: no matter of the wires."""
    uses = (_use(evidence, name) for name in feeders_of(evidence, margin.element))
    return any(given * margin.factor >= limit * (1 - NEAR) for given, limit in uses)


def _use(evidence: Evidence, name: str) -> tuple[float, float]:
    """What is asked of a source and where it limits, in amperes or watts; no limit is infinite."""
    source = converter_named(evidence, name)
    if source is not None and source.converter.limit_a is not None:
        return asked_of(source).value, source.converter.limit_a
    powered = next((view for view in evidence.ethernet if view.name == name), None)
    if powered is not None and powered.source.output_v is not None and powered.source.budget_w is not None:
        return powered.total_w, powered.source.budget_w
    return 0.0, float("inf")


def _told_elsewhere(evidence: Evidence, name: str) -> bool:
    """True when it is already found locked out or browned out in an ordinary case."""
    converter = converter_named(evidence, name)
    if converter is not None:
        return converter.locked_out is not None or bool(converter.victim_of)
    return any(view.name == name and view.browned_out is not None for view in evidence.devices)


def _lossiest(evidence: Evidence, name: str) -> str:
    """The run on the way to a part that loses most."""
    way = way_to(evidence, name)
    if not way:
        return "thicker and shorter wire"
    return max(way, key=lambda run: run.loop_hot_ohm).name.replace("->", "to")


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
