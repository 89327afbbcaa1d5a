"""A battery that holds little more than one night's load leaves no time for a dark day or a repair."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject

if TYPE_CHECKING:
    from ..season.view import SeasonView

ASKS = "season"
RULE = Rule("autonomy-too-short", Source("common-practice", "two to three days of load without sun"))
LEAST_DAYS = 2.0  # two to three with a back-up source, three to five without; the lower end is judged
DAY_S = 86400.0
WORDS = Words(
    "{subject}: the mean load of {load} lasts {value} without sun, and two days are the least usual",
    "use a battery of {needed} or more, or switch off part of the load: {half} of mean load would last two days",
)


def check(season: "SeasonView") -> Iterator[Finding]:
    found = season.summary
    if found.asked_wh_a_day <= 0.0 or found.autonomy_days >= LEAST_DAYS:
        return
    full_wh = season.ledger.bank.full_wh
    numbers = {
        "load": Number(found.asked_wh_a_day / 24.0, "power"),
        "needed": Number(full_wh * LEAST_DAYS / max(found.autonomy_days, 1e-3), "energy"),
        "half": Number(found.asked_wh_a_day / 24.0 * found.autonomy_days / LEAST_DAYS, "power"),
        "full": Number(full_wh, "energy"),
    }
    measure = Measure(found.autonomy_days * DAY_S, LEAST_DAYS * DAY_S, "time", "least")
    yield RULE.find(Severity.TIGHT, Subject(*season.battery), WORDS, measure, numbers)
