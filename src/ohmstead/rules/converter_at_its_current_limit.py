"""A converter that sits in its current limit no longer holds its voltage."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import ConverterView, Evidence
from .converter_overloaded import overloaded

RULE = Rule(
    "converter-at-its-current-limit", Source("common-practice", "current limit on the converter's own sheet")
)
WORDS = Words(
    "{subject} is asked for about {value}; it limits at {limit}, and its output falls below {set}",
    "take one that limits above {value}, let things start one after the other, or move part of its load to "
    "another",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    with_budget = {view.name for view in evidence.ethernet}
    for view in evidence.converters:
        limit_a = view.converter.limit_a
        if (
            not view.limited
            or limit_a is None
            or view.victim_of
            or view.name in with_budget
            or overloaded(view)
        ):
            continue
        asked_a = _asked_a(view)
        if asked_a <= limit_a:
            asked_a = max(view.output_a.value, limit_a)
        numbers = {"set": Number(view.converter.output_v.nominal, "voltage", "stated")}
        subject = Subject(view.name, view.place, view.limited)
        yield RULE.find(Severity.FAILS, subject, WORDS, Measure(asked_a, limit_a, "current"), numbers)


def _asked_a(view: ConverterView) -> float:
    """Output current that the power asked for would take at the set voltage. [A]"""
    set_v = view.converter.output_v.nominal
    return max(view.output_w.value, view.output_peak_w.value) / set_v if set_v > 0 else 0.0
