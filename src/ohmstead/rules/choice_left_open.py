"""What is still left to choose cannot be judged."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Severity, Source, Words
from ..evidence.state import Rule, Subject
from ..evidence.views import Evidence
from ..network.path import PLACEHOLDER

RULE = Rule("choice-left-open", Source("common-practice", "what is not known is not judged"))
WORDS = Words(
    "{what} of {subject} is not yet chosen: {meanwhile}",
    "write a value in its place and check again",
)
MEANWHILE = {
    "wire": f"{PLACEHOLDER} stands in for it, and neither its load nor its protection is judged",
    "fuse": "until then the run counts as having none",
    "rating": "any load is let through, and its rating is not judged",
    "ends": "a usual joint stands in for it, and what it takes, fits and bears is not judged",
    "ways": "how many runs leave it is not judged",
    "total_a": "what all its ways take together is not judged",
    "per_way_a": "what one way takes, and the fuse in it, is not judged",
    "voltage_v": "the voltage at it is not judged",
    "fan": "an ample one stands in for it; `ohmstead heat` decides it",
    "low vent": "an ample one stands in for it; `ohmstead heat` decides it",
    "high vent": "an ample one stands in for it; `ohmstead heat` decides it",
    "on": "the fan counts as always running; `ohmstead heat` decides it",
    "off": "the fan counts as always running; `ohmstead heat` decides it",
    "area": "an ample mat stands in for it; `ohmstead heat` decides it",
}
CALLED = {"total_a": "total", "per_way_a": "per way", "voltage_v": "voltage"}


def check(evidence: Evidence) -> Iterator[Finding]:
    for subject, what, place in evidence.open_choices:
        yield RULE.find(
            Severity.TIGHT,
            Subject(subject, place),
            WORDS,
            texts={
                "what": CALLED.get(what, what),
                "meanwhile": MEANWHILE.get(what, "nothing is judged that hangs on it"),
            },
        )
