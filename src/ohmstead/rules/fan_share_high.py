"""A fan that runs day and night can cost more than what it cools is worth."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence

RULE = Rule("fan-share-high", Source("common-practice", "energy of the fan in the energy of a day"))
MOST_SHARE = 0.1  # a tenth of panel and battery bought for moving air; common practice, no source
WORDS = Words(
    "of the {total} of a day {energy} go to {fan}: {value}",
    "{cure}",
)
ALWAYS = "let a thermostat switch it (on and off), for it runs day and night: `ohmstead heat` tells from which air on"
LESS = "start it later, take a larger fan that runs slower, or larger vents: `ohmstead heat` compares them"


def check(evidence: Evidence) -> Iterator[Finding]:
    for view in evidence.cabinets:
        fan = view.fan
        total_wh = evidence.day.total_wh
        if fan is None or total_wh <= 0.0:
            continue
        energy_wh = evidence.day.by_part.get(view.climate.cabinet.fan.part, 0.0) if view.climate.cabinet.fan else 0.0
        if energy_wh <= MOST_SHARE * total_wh:
            continue
        yield RULE.find(
            Severity.TIGHT,
            Subject(view.subject, view.place),
            WORDS,
            Measure(energy_wh / total_wh, MOST_SHARE, "share"),
            {"energy": Number(energy_wh, "energy"), "total": Number(total_wh, "energy")},
            {"fan": view.fan_words, "cure": LESS if fan.share < 0.99 else ALWAYS},
        )
