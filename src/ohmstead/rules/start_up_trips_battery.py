"""A start-up above what the battery's electronics allow switches everything off."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import BatteryView, Evidence, Pulse

RULE = Rule("start-up-trips-battery", Source("common-practice", "limits on the sheet of the battery's electronics"))
AT_ONCE = Words(
    "at the start of {device}, {value} flow from {subject}; the electronics cut off at once above {limit}",
    "{mend}",
)
AFTER = Words(
    "at the start of {device}, {value} flow from {subject} for {seconds}; the electronics allow {limit} and may cut "
    "off within that time",
    "{mend}",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    for view in evidence.batteries:
        worst = max(view.pulses, key=lambda pulse: pulse.current_a, default=None)
        if worst is None:
            continue
        limits = view.battery.limits
        if limits.short_trip_a is not None and worst.current_a >= limits.short_trip_a:
            yield _finding(view, worst, limits.short_trip_a, AT_ONCE)
        elif limits.discharge_a is not None and worst.current_a > limits.discharge_a >= view.discharge.value:
            yield _finding(view, worst, limits.discharge_a, AFTER)  # a lasting overload is another rule's


def _finding(view: BatteryView, pulse: Pulse, limit_a: float, words: Words) -> Finding:
    texts = {
        "device": "everything" if pulse.device.startswith("everything") else pulse.device,
        "mend": _mend(view, pulse, limit_a),
    }
    numbers = {"seconds": Number(pulse.seconds, "time", "stated")}
    measure = Measure(pulse.current_a, limit_a, "current")
    return RULE.find(Severity.FAILS, Subject(view.name, view.place, pulse.case), words, measure, numbers, texts)


def _mend(view: BatteryView, pulse: Pulse, limit_a: float) -> str:
    """Staggered starts when each alone would pass, else a battery that gives more."""
    alone = [p for p in view.pulses if not p.device.startswith("everything")]
    if pulse not in alone and alone and all(p.current_a <= limit_a for p in alone):
        return "let the devices start one after another (a delay of some seconds each): alone each one passes"
    return (
        "start it with less connected or with a soft start, or take a battery or a second one in parallel whose "
        "electronics allow more"
    )
