"""An array that needs a week of sun to refill the battery after a cloudy spell meets the next one half empty."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject

if TYPE_CHECKING:
    from ..season.view import SeasonView

ASKS = "season"
RULE = Rule("array-slow-to-refill", Source("common-practice", "refill within two to four sunny days"))
MOST_DAYS = 7.0  # common practice says two to four; judged when it is a week
DAY_S = 86400.0
SLOW = Words(
    "{subject}: after {cloudy} without sun in {month} it takes {value} of sunny days to fill the battery again beside "
    "the load: {sunny} a day against {load}",
    "add panels, or lower the load in {month}: {least} of harvest on a sunny day would refill it in four",
)
NEVER = Words(
    "{subject}: a sunny day in {month} brings {sunny} at the battery, less than the {load} that the load takes: after "
    "{cloudy} without sun it is never filled again",
    "add panels, or lower the load in {month}: {least} of harvest on a sunny day would refill it in four",
)


def check(season: "SeasonView") -> Iterator[Finding]:
    found = season.summary
    if found.verdict == "missed" or found.asked_wh_a_day <= 0.0:
        return  # that the worst month lacks is told by its own rule
    spell = season.refill
    numbers = {
        "sunny": Number(spell.sunny_wh, "energy"),
        "load": Number(spell.asked_wh, "energy"),
        "least": Number(spell.asked_wh + spell.usable_wh / 4.0, "energy"),
        "cloudy": Number(found.autonomy_days * DAY_S, "time"),
    }
    subject, texts = Subject(*season.arrays), {"month": spell.month}
    surplus = spell.sunny_wh - spell.asked_wh
    if surplus <= 0.0:
        measure = Measure(spell.sunny_wh, spell.asked_wh, "energy", "least")
        yield RULE.find(Severity.TIGHT, subject, NEVER, measure, numbers, texts)
    elif spell.usable_wh / surplus > MOST_DAYS:
        measure = Measure(spell.usable_wh / surplus * DAY_S, MOST_DAYS * DAY_S, "time")
        yield RULE.find(Severity.TIGHT, subject, SLOW, measure, numbers, texts)
