"""A switch that cannot break the voltage of its place lets an arc stand between its contacts."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence

RULE = Rule("switch-voltage-low", Source("stokes-oppenlander-1991", "arc voltage over gap and current"))
WORDS = Words(
    "up to {value} stand at {subject}, made to break {limit} of direct voltage",
    "fit a switch rated for at least {ample} DC (a rating for alternating voltage does not count), or never open "
    "this one under load and say so on its label",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    for view in evidence.switches:
        limit_v = view.part.voltage_v
        if limit_v is not None and view.high_v > limit_v:
            measure = Measure(view.high_v, limit_v, "voltage")
            yield RULE.find(Severity.DANGER, Subject(view.name, view.place), WORDS, measure)
