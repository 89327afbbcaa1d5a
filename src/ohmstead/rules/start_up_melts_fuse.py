"""A start-up that the fastest fuse of its kind does not outlast opens the fuse now or after some years."""

from collections.abc import Iterator
from dataclasses import dataclass

from ..evidence.coverage import allowed_behind, wires_behind
from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence, FuseView, Pulse, RunView
from ..parts.fuse import Fuse, with_rating
from ..wiring.fuse_time import melting_window_s
from ..wiring.inrush import pulse_share

RULE = Rule("start-up-melts-fuse", Source("fuse-pulse-chart", "fast side of the time window, pulses in a fuse's life"))
STARTS = 10_000.0  # a start a day for 27 years; common practice
SURE = Words(
    "at the start of {device}, {current} flow through the {fuse} in {subject} for {seconds}; it has opened after "
    "{slow} at latest",
    "{mend}",
)
MAY = Words(
    "at the start of {device}, {current} flow through the {fuse} in {subject} for {seconds}; it may open after {fast}, "
    "and need not{sure}",
    "{mend}",
)
WEARS = Words(
    "at the start of {device}, {current} flow through the {fuse} in {subject} for {seconds}, {value} of the time in "
    "which it may melt; a start a day wears it out above {limit}",
    "{mend}",
)


@dataclass(frozen=True, slots=True)
class Start:
    """A start-up through a fuse: share of the soonest melting time it lasts, and the window at its current."""

    pulse: Pulse
    share: float
    fast_s: float
    slow_s: float


def check(evidence: Evidence) -> Iterator[Finding]:
    limit = pulse_share(STARTS)
    for view in evidence.runs:
        own = view.own_fuse
        starts = [_start(own.fuse, own.ambient_c, pulse) for pulse in view.pulses] if own else []
        worst = max(starts, key=lambda start: start.share, default=None)
        if own is None or worst is None or not limit < worst.share < float("inf"):
            continue  # infinite: in air so hot that the fuse holds nothing, which fuse-overloaded says
        sure, wears = worst.pulse.seconds >= worst.slow_s, worst.share < 1
        texts = {
            "device": _device(worst.pulse),
            "fuse": str(own.fuse),
            "sure": ""
            if worst.slow_s == float("inf")
            else f": it opens within {Number(worst.slow_s, 'time')} at latest",
            "mend": _mend(evidence, view, own, worst.pulse, limit),
        }
        numbers = {
            "current": Number(worst.pulse.current_a, "current"),
            "seconds": Number(worst.pulse.seconds, "time", "stated"),
            "fast": Number(worst.fast_s, "time", "table"),
        }
        if worst.slow_s < float("inf"):
            numbers["slow"] = Number(worst.slow_s, "time", "table")
        subject = Subject(view.name, view.place, worst.pulse.case)
        severity, words = (Severity.FAILS, SURE) if sure else (Severity.TIGHT, WEARS if wears else MAY)
        yield RULE.find(severity, subject, words, Measure(worst.share, limit, "share"), numbers, texts)


def _start(fuse: Fuse, ambient_c: float, pulse: Pulse) -> Start:
    """At a steady current I²t goes with time, so the share of the melting I²t is the share of the melting time."""
    fast_s, slow_s = melting_window_s(fuse, pulse.current_a, ambient_c)
    return Start(pulse, pulse.seconds / fast_s if fast_s > 0 else float("inf"), fast_s, slow_s)


def _device(pulse: Pulse) -> str:
    """Who starts, as the subject of a sentence."""
    return "everything" if pulse.device.startswith("everything") else pulse.device


def _mend(evidence: Evidence, view: RunView, own: FuseView, pulse: Pulse, limit: float) -> str:
    """The smallest fuse of the kind that outlasts the start-up, and whether the wire allows it."""
    fuse = _outlasting(own, pulse, limit)
    if fuse is None:
        return "take a slower kind of fuse that the wire allows, or let the devices start one after another"
    if fuse.rating_a <= allowed_behind(evidence, view):
        return f"fit {fuse}, which outlasts it; the wire allows it"
    thicker = wires_behind(evidence, view, fuse.rating_a)
    slower = "take a slower kind of fuse of this rating"
    return f"{slower}, or {thicker} and fit {fuse}: the wire now laid does not allow it"


def _outlasting(own: FuseView, pulse: Pulse, limit: float) -> Fuse | None:
    """The smallest larger fuse of the kind of which the start-up takes no more than the lasting share."""
    for rating in own.fuse.family.ratings_a:
        fuse = with_rating(own.fuse, rating)
        if rating > own.rating_a and _start(fuse, own.ambient_c, pulse).share <= limit:
            return fuse
    return None
