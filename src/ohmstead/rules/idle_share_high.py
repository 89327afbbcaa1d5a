"""Idle draws that take a large share of the day's energy cost panel and battery for nothing."""

from collections.abc import Iterator, Mapping

from ..evidence.feeding import place_of
from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import DeviceView, Evidence

RULE = Rule("idle-share-high", Source("common-practice", "idle watts run all day and all night"))
MOST_SHARE = 0.25  # a quarter of panel and battery bought for nothing; common practice, no source
MOST_TOLD = 3
# A device's lightest state counts as idle only when its name says so: a camera's day is no idling.
QUIET = {
    "off",
    "idle",
    "standby",
    "stand-by",
    "stand by",
    "sleep",
    "sleeping",
    "asleep",
    "waiting",
    "wait",
    "ready",
}
WORDS = Words(
    "{value} of the day's {total} goes into idling ({idle}), most of it in {worst}",
    "switch off what is not in use: {first} alone would give back {gain} a day; or take converters that idle on less",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    idle = idle_by_part(evidence)
    total_wh = evidence.day.total_wh
    idle_wh = sum(idle.values())
    if total_wh <= 0 or idle_wh <= MOST_SHARE * total_wh:
        return
    ranked = sorted(idle.items(), key=lambda entry: entry[1], reverse=True)
    first, gain_wh = ranked[0]
    worst = ", ".join(f"{name} {Number(energy, 'energy')}" for name, energy in ranked[:MOST_TOLD])
    numbers = {
        "total": Number(total_wh, "energy"),
        "idle": Number(idle_wh, "energy"),
        "gain": Number(gain_wh, "energy"),
    }
    subject = Subject(first, place_of(evidence, first))
    measure = Measure(idle_wh / total_wh, MOST_SHARE, "share")
    yield RULE.find(Severity.TIGHT, subject, WORDS, measure, numbers, {"worst": worst, "first": first})


def idle_by_part(evidence: Evidence) -> Mapping[str, float]:
    """Idle energy of a day by part: converters, and devices in a state that is called idle. [Wh]"""
    at_work = {view.name for view in evidence.devices if not _waits(view)}
    at_work |= {view.name for view in evidence.ethernet if view.ports}
    return {name: energy for name, energy in evidence.day.idle_by_part.items() if name not in at_work}


def _waits(view: DeviceView) -> bool:
    lasting = [draw for draw in view.device.draws if draw.seconds is None]
    if len(lasting) < 2:
        return False
    return min(lasting, key=lambda draw: draw.power_w.nominal).state.lower() in QUIET
