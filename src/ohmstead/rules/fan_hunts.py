"""A thermostat with a narrow band switches the fan all the time, and wears both out."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence

RULE = Rule("fan-hunts", Source("common-practice", "switching of a two-point thermostat"))
MOST_AN_HOUR = 12.0  # six times on and six times off; common practice, no source
WIDE_K = 4.0  # a wider band is seldom to blame: the play of a thermostat adds to it; common practice, no source
WORDS = Words(
    "the thermostat switches {fan} {times} in one hour of the hottest day: {band} between on and off is too little "
    "for the heat that walls and gear store",
    "set on and off further apart, by {wider} or so, or let the speed follow the air (`speed`)",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    for view in evidence.cabinets:
        fan = view.fan
        if fan is None or fan.band_k is None or fan.n_switched < MOST_AN_HOUR or fan.band_k > WIDE_K:
            continue
        yield RULE.find(
            Severity.TIGHT,
            Subject(view.subject, view.place),
            WORDS,
            Measure(fan.n_switched, MOST_AN_HOUR, "count"),
            {
                "band": Number(fan.band_k, "temperature difference"),
                "wider": Number(max(4.0, 2.0 * fan.band_k), "temperature difference"),
            },
            {"fan": view.fan_words, "times": f"some {fan.n_switched} times"},
        )
