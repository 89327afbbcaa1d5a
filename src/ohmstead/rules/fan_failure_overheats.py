"""A fan is the one part of a cabinet that wears out; what happens when it stops is to be known before."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence

RULE = Rule("fan-failure-overheats", Source("common-practice", "the fan stopped in the hottest hour"))
LONGEST_S = 4 * 3600.0  # the hottest hours of a day do not last longer; common practice, no source
WORDS = Words(
    "should {fan} stop in the hottest hour, the air there goes to {hot}: {part} passes its {limit} within {minutes}",
    "let the parts shut down by themselves before that, cut vents that carry the heat without a fan, fit a second "
    "fan, or have an alarm at {part}",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    for view in evidence.cabinets:
        fan = view.fan
        if fan is None or not fan.stopped or fan.passes_s > LONGEST_S:
            continue
        worst = fan.stopped[0]
        yield RULE.find(
            Severity.TIGHT,
            Subject(view.subject, view.place),
            WORDS,
            Measure(worst.air_c, worst.limit.limit_c, "temperature"),
            {
                "minutes": Number(max(60.0, round(fan.passes_s / 60.0) * 60.0), "time", digits=2),
                "hot": Number(fan.stopped_c, "temperature"),
            },
            {"fan": view.fan_words, "part": worst.limit.name},
        )
