"""A fan that a mat full of dust chokes no longer cools what it was fitted for."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence

RULE = Rule("filter-chokes-fan", Source("common-practice", "fan curve against the drop of a mat when it is changed"))
WORDS = Words(
    "with the mat as full as when it is changed, {fan} moves {loaded} instead of {flow}: the air at "
    "{part} reaches {value} at {hour}, and {limit} is the most for it",
    "take a mat of more area or a coarser class, change it earlier (`change at`), or take a fan of more pressure: "
    "`ohmstead heat` tells which is enough",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    for view in evidence.cabinets:
        fan = view.fan
        if fan is None or not fan.choked or fan.loaded_m3_per_s is None:
            continue
        worst = fan.choked[0]
        yield RULE.find(
            Severity.FAILS,
            Subject(view.subject, view.place),
            WORDS,
            Measure(worst.air_c, worst.limit.limit_c, "temperature"),
            {"flow": Number(fan.flow_m3_per_s, "air flow"), "loaded": Number(fan.loaded_m3_per_s, "air flow")},
            {"fan": view.fan_words, "part": worst.limit.name, "hour": f"{worst.hour}:00"},
        )
