"""A device in air hotter than it bears fails early or shuts itself off."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence

RULE = Rule("device-too-warm", Source("common-practice", "limit of air on the device's own sheet"))
SMALL_MARGIN_K = 5.0  # what a thermometer in a cabinet may be off; common practice
WORDS = Words(
    "the air {where} reaches {value}; {limit} is the most for {subject}",
    "stand it in a cooler place, shade or ventilate this one, or take a device made for {ample} and more",
)
CLOSE = Words(
    "the air {where} reaches {value}, and {limit} is the most for {subject}: nothing is left for a hotter day",
    "leave it free air on all sides and watch a maximum thermometer there for a week",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    for view in evidence.devices:
        limit_c = view.device.warm_limit_c
        if limit_c is None or view.ambient_c <= limit_c - SMALL_MARGIN_K:
            continue
        over = view.ambient_c > limit_c
        yield RULE.find(
            Severity.FAILS if over else Severity.TIGHT,
            Subject(view.name, view.place),
            WORDS if over else CLOSE,
            Measure(view.ambient_c, limit_c, "temperature"),
            texts={"where": f"in {view.device.zone}" if view.device.zone else "around it"},
        )
