"""A cable that carries more than it can shed as heat cooks its insulation."""

from collections.abc import Iterator

from ..evidence.coverage import guarding_a, over_cable, wire_for_fuse
from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.remedy import smallest_wire_for_current, wire_words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence, Pulse, RunView
from ..parts.wire import Wire
from ..wiring.ampacity import Ampacity
from ..wiring.conductor import conductor_temperature_c
from ..wiring.short_load import brief_temperature_c, time_constant_s

RULE = Rule("cable-overloaded", Source("iec-60364-5-52", "523.1"))
# Current over rating at which a protective device opens for certain within hours. Source: iec-60364-4-43.
OPENS_AT = 1.45
SMALL_MARGIN_FRACTION = 0.05  # rounding between the published tables for one wire; ours
CONTINUOUS_FRACTION = 0.8  # continuous load under US rules, 1 / 125 %. Source: nec-210-19.
WORDS = Words(
    "{subject} carries up to {value} for long; {wire} {laid} in air of {air} may carry {limit}{because}",
    "{cure}",
)
CLOSE = Words(
    "{subject} carries up to {value} for long, close to the {limit} that {wire} {laid} in air of {air} may carry",
    "hang nothing more on it, or {cure}",
)
CONTINUOUS = Words(
    "{subject} carries up to {value} for long; of the {limit} that {wire} {laid} in air of {air} may "
    "carry, a load "
    "of three hours and more may take {share}",
    "{cure}",
)
START = Words(
    "at the start of {device}, the conductor of {subject} reaches {value} after {seconds} at {current}; "
    "its insulation "
    "bears {limit}",
    "{cure}",
)


def too_hot(view: RunView) -> bool:
    """True where the air alone is as hot as the insulation bears: told by insulation-below-place."""
    return view.wire is not None and view.ambient_c >= view.wire.insulation_c


def overloaded(view: RunView) -> bool:
    """True when a run carries more for long than its wire bears."""
    return view.ampacity is not None and not too_hot(view) and view.sustained.value > view.ampacity.value_a


def check(evidence: Evidence) -> Iterator[Finding]:
    for view in evidence.runs:
        ampacity = view.ampacity
        if ampacity is None or too_hot(view):
            continue  # network cable, left open, or no current allowed at all
        limit_a, load_a = ampacity.value_a, view.sustained.value
        us = evidence.rules == "US"
        if load_a > limit_a:
            yield _find(evidence, view, ampacity, _grave(view), WORDS)
        elif us and load_a > CONTINUOUS_FRACTION * limit_a:
            yield _find(evidence, view, ampacity, Severity.TIGHT, CONTINUOUS)
        elif not us and load_a > (1 - SMALL_MARGIN_FRACTION) * limit_a:
            yield _find(evidence, view, ampacity, Severity.TIGHT, CLOSE)
        else:
            yield from _starts(evidence, view, ampacity)


def _grave(view: RunView) -> Severity:
    """Danger unless a fuse is certain to open first."""
    opens = view.guard is not None and view.sustained.value > OPENS_AT * view.guard.rating_a
    return Severity.FAILS if opens else Severity.DANGER


def _find(evidence: Evidence, view: RunView, ampacity: Ampacity, severity: Severity, words: Words) -> Finding:
    needed_a = view.sustained.value / (CONTINUOUS_FRACTION if words is CONTINUOUS else 1.0)
    return RULE.find(
        severity,
        Subject(view.name, view.place, view.sustained.case),
        words,
        Measure(view.sustained.value, ampacity.value_a, "current"),
        numbers={
            "air": Number(view.ambient_c, "temperature", "stated"),
            "share": Number(CONTINUOUS_FRACTION, "share", "table"),
            "table_value": Number(ampacity.base_a, "current", "table"),
            "air_factor": Number(ampacity.ambient_factor, "number"),
            "grouping_factor": Number(ampacity.grouping_factor, "number", "table"),
            "metal_factor": Number(ampacity.metal_factor, "number"),
        },
        texts={
            "wire": wire_words(view.wire) if view.wire else "the wire",
            "laid": _laid(view),
            "because": _decides(ampacity),
            "cure": _cure(evidence, view, needed_a),
        },
    )


def _laid(view: RunView) -> str:
    others = view.run.laid.circuits - 1
    return view.run.laid.method + (f" beside {others} more" if others > 0 else "")


def _decides(ampacity: Ampacity) -> str:
    """Which of the factors takes most away."""
    least = min(ampacity.ambient_factor, ampacity.grouping_factor)
    if least >= 1 - SMALL_MARGIN_FRACTION:
        return ""
    what = "the warm air" if ampacity.ambient_factor == least else "the circuits beside it"
    return f" ({what} leaves {Number(least, 'share')} of its table value)"


def _cure(evidence: Evidence, view: RunView, needed_a: float) -> str:
    wire = smallest_wire_for_current(view, needed_a, evidence.rules)
    if wire is None:
        return "split the load over two runs, each with its own fuse, or lay it freer or cooler"
    if view.guard is not None and over_cable(evidence, view) is not None:
        behind = wire_for_fuse(view, guarding_a(evidence, view), evidence.rules)
        if behind is not None and behind.area_mm2 > wire.area_mm2:
            return (
                f"lay {wire_words(behind)} or thicker: {wire_words(wire)} would bear the load, but not stand behind "
                f"the {view.guard.fuse}"
            )
    return f"lay {wire_words(wire)} or thicker, or take load off it"


def _starts(evidence: Evidence, view: RunView, ampacity: Ampacity) -> Iterator[Finding]:
    """The start that heats the conductor most, when it passes what the insulation bears."""
    if view.wire is None or ampacity.value_a <= 0 or too_hot(view):
        return
    strong = [pulse for pulse in view.pulses if pulse.current_a > ampacity.value_a]
    ends = [(_end_c(view, view.wire, ampacity, pulse), pulse) for pulse in strong]
    if not ends:
        return
    hottest_c, pulse = max(ends, key=lambda pair: pair[0])
    if hottest_c <= view.wire.insulation_c:
        return
    yield RULE.find(
        Severity.DANGER if hottest_c > view.wire.fault_c else Severity.TIGHT,
        Subject(view.name, view.place, pulse.case),
        START,
        Measure(hottest_c, view.wire.insulation_c, "temperature"),
        numbers={
            "seconds": Number(pulse.seconds, "time", "stated"),
            "current": Number(pulse.current_a, "current"),
            "ampacity": Number(ampacity.value_a, "current"),
        },
        texts={"device": pulse.device, "cure": _cure(evidence, view, pulse.current_a)},
    )


def _end_c(view: RunView, wire: Wire, ampacity: Ampacity, pulse: Pulse) -> float:
    """Conductor at the end of a start that begins at the sustained load. [°C]"""
    air_c, limit_c, bears_a = view.ambient_c, ampacity.limit_c, ampacity.value_a
    before_c = conductor_temperature_c(view.sustained.value, bears_a, limit_c, air_c)
    settled_c = conductor_temperature_c(pulse.current_a, bears_a, limit_c, air_c)
    constant_s = time_constant_s(wire, bears_a, limit_c, air_c)
    return brief_temperature_c(before_c, settled_c, pulse.seconds, constant_s)
