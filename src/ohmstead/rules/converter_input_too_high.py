"""A converter or Ethernet source whose input rises above its window while charging is destroyed."""

from collections.abc import Iterator

from ..evidence.feeding import converter_named, fed_by, inlets
from ..evidence.finding import Finding, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence
from .boost_passes_input import passed_v

RULE = Rule("converter-input-too-high", Source("common-practice", "input window on the part's own sheet"))
SMALL_MARGIN = 0.01  # set voltages of chargers are off by about 1 %; common practice, no source
OVER = Words(
    "up to {value} reach the input of {subject}; {limit} is the most",
    "take one whose window reaches above {value}, feed it through a converter that bears it, or lower the charging "
    "voltage",
)
CLOSE = Words(
    "up to {value} reach the input of {subject}, and {limit} is the most: less is left than a charger may be off",
    "measure the highest charging voltage at its input, or take one with a wider window",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    for inlet in inlets(evidence):
        if inlet.highest is None or _fed_by_passing_boost(evidence, inlet.name):
            continue
        limit_v = inlet.window.high
        subject = Subject(inlet.name, inlet.place, inlet.highest.case)
        measure = Measure(inlet.highest.value, limit_v, "voltage")
        if inlet.highest.value > limit_v:
            yield RULE.find(Severity.DANGER, subject, OVER, measure)
        elif inlet.highest.value > limit_v * (1 - SMALL_MARGIN):
            yield RULE.find(Severity.TIGHT, subject, CLOSE, measure)


def _fed_by_passing_boost(evidence: Evidence, name: str) -> bool:
    """True when the boost before it passes its own input through: told there, once."""
    feeder = converter_named(evidence, fed_by(evidence, name))
    return feeder is not None and passed_v(feeder) is not None
