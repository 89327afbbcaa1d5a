"""A converter whose input springs back above its restart voltage when it locks out starts over and over."""

from collections.abc import Iterator
from math import isnan

from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import ConverterView, Evidence
from ..wiring.ethernet import device_voltage_v
from .supply_collapses import collapses_at

RULE = Rule("lockout-hunting", Source("common-practice", "clean start: V_oc - I·R above the restart voltage"))
HUNTS = Words(
    "the input of {subject} falls to {lowest} and it locks out; its input then springs back by {value}, more than "
    "the {limit} between off ({off}) and on ({on}), and it starts again, over and over",
    "bring the resistance towards the battery down ({ohm} now), take a converter with more than {value} between "
    "off and on, or a low-voltage disconnect that opens before",
)
WILL_HUNT = Words(
    "nothing stops the discharge before {subject} locks out; its input then springs back by {value}, more than the "
    "{limit} between off and on, and it starts again, over and over",
    "fit a low-voltage disconnect that opens above {off}, or bring the resistance towards the battery down ({ohm} now)",
)
STARTS_AGAIN = Words(
    "with the battery low {subject} cannot get going: the start takes {start}, the input falls to {value}, and "
    "below {limit} it stops and tries again",
    "bring the resistance towards the battery down ({ohm} now), or let it start before the battery is low",
)


def hunts(view: ConverterView) -> bool:
    """True when it locks out in some case and its input then springs back above the restart voltage."""
    lockout = view.converter.lockout
    if lockout is None or view.locked_out is None or view.victim_of:
        return False
    return rebound_v(view) > lockout.on_v - lockout.off_v


def rebound_v(view: ConverterView) -> float:
    """By how much its input rises when it goes off: its current times the resistance back to the battery. [V]

    In a case in which it locked out no current is left to read: then what was asked of it, at its best
    efficiency and at the voltage where it gave up, counts; and never more than the battery has.
    """
    down = view.locked_out
    if down is None or down.value <= 0:
        return view.rebound_v
    asked = view.output_peak_w if down.case == view.output_peak_w.case else view.output_w
    best = max((efficiency for _, efficiency in view.converter.efficiency), default=1.0)
    current_a = asked.value / best / down.value
    return max(view.rebound_v, min(current_a * view.source_ohm, view.source_v - down.value))


def start_input_v(view: ConverterView) -> float | None:
    """Its input voltage while it starts with the battery low; 0 when the start has no operating point."""
    power_w = view.converter.start_w
    if power_w is None or view.source_v <= 0 or view.source_ohm == float("inf"):
        return None
    start_v = device_voltage_v(view.source_v, power_w, view.source_ohm)
    return 0.0 if isnan(start_v) else start_v


def check(evidence: Evidence) -> Iterator[Finding]:
    stopped = any(battery.guarded for battery in evidence.batteries)
    for view in evidence.converters:
        lockout = view.converter.lockout
        if lockout is None or view.victim_of or collapses_at(evidence, view.name):
            continue
        gap_v = lockout.on_v - lockout.off_v
        numbers = {
            "off": Number(lockout.off_v, "voltage", "stated"),
            "on": Number(lockout.on_v, "voltage", "stated"),
            "ohm": Number(view.source_ohm, "resistance"),
        }
        rebound = Measure(rebound_v(view), gap_v, "voltage")
        start_v = start_input_v(view)
        if hunts(view) and view.locked_out is not None:
            numbers["lowest"] = Number(view.locked_out.value, "voltage")
            subject = Subject(view.name, view.place, view.locked_out.case)
            yield RULE.find(Severity.FAILS, subject, HUNTS, rebound, numbers)
        elif view.locked_out is None and start_v is not None and start_v < lockout.off_v < view.source_v:
            numbers["start"] = Number(view.converter.start_w or 0.0, "power", "stated")
            measure = Measure(start_v, lockout.off_v, "voltage", "least")
            yield RULE.find(Severity.FAILS, Subject(view.name, view.place), STARTS_AGAIN, measure, numbers)
        elif view.locked_out is None and not stopped and rebound.value > gap_v:
            yield RULE.find(Severity.TIGHT, Subject(view.name, view.place), WILL_HUNT, rebound, numbers)
