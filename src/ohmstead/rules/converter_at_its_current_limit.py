"""A converter that sits in its current limit no longer holds its voltage."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import ConverterView, Evidence, Worst
from .converter_overloaded import overloaded

RULE = Rule("converter-at-its-current-limit", Source("common-practice", "current limit on the converter's own sheet"))
WORDS = Words(
    "about {value} are asked of {subject}, which limits at {limit}: the output falls below {set}",
    "take one that limits above {value}, let things start one after the other, or move part of its load to another",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    with_budget = {view.name for view in evidence.ethernet}
    for view in evidence.converters:
        limit_a = view.converter.limit_a
        if limit_a is None or view.victim_of or view.name in with_budget or overloaded(view):
            continue
        asked = asked_of(view)
        # A load of constant power above the limit has no operating point and drops out: no case is left in
        # which the limit could be seen. What was asked for tells.
        if not over_limit(view) and not view.limited:
            continue
        case = asked.case if asked.value > limit_a else view.limited
        numbers = {"set": Number(view.converter.output_v.nominal, "voltage", "stated")}
        subject = Subject(view.name, view.place, case)
        measure = Measure(max(asked.value, limit_a), limit_a, "current")
        yield RULE.find(Severity.FAILS, subject, WORDS, measure, numbers)


def over_limit(view: ConverterView) -> bool:
    """True when more output current is asked of it, for hours or for a start, than its limit."""
    limit_a = view.converter.limit_a
    return limit_a is not None and asked_of(view).value > limit_a


def asked_of(view: ConverterView) -> Worst:
    """Output current that the most power asked for would take at the set voltage. [A]"""
    most = max(view.output_w, view.output_peak_w, key=lambda worst: worst.value)
    set_v = view.converter.output_v.nominal
    return Worst(most.value / set_v if set_v > 0 else 0.0, most.case)
