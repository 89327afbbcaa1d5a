"""A supply reckoned from the mean of the year goes dark in its worst month."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject

if TYPE_CHECKING:
    from ..season.view import SeasonView

ASKS = "season"
RULE = Rule("worst-month-missed", Source("common-practice", "array and battery are sized for the worst month"))
FEW_YEARS = 4  # nothing is said of how sure fewer make it
MISSED = Words(
    "{subject}: {value} of what the load asks for in a year is not served, {limit} may be; in {month}, the worst "
    "month, {lacking} of {asked} a day",
    "add panels: {month} brings {harvest} a day at the battery; or take {lacking} a day off the load in {month}",
)
FULL_OF_SUN = Words(
    "{subject}: {value} of what the load asks for in a year is not served, {limit} may be; in {month}, the worst "
    "month, {lacking} of {asked} a day, though {harvest} of sun would cover it",
    "use a larger battery, one that charges at the temperature it has, or a controller for more current",
)
UNSURE = Words(
    "{subject}: {value} of what the load asks for in a year is not served; that keeps the goal of {limit}, but not "
    "as surely as asked over the years reckoned",
    "let more years be drawn, or add a little of panels or battery",
)


def check(season: "SeasonView") -> Iterator[Finding]:
    found = season.summary
    if found.verdict == "met" or (found.verdict == "open" and found.n_year < FEW_YEARS):
        return
    month = season.worst_month
    asked = month.served_wh + month.unserved_wh
    numbers = {
        "lacking": Number(month.unserved_wh, "energy"),
        "asked": Number(asked, "energy"),
        "harvest": Number(month.harvest_wh, "energy"),
    }
    measure = Measure(found.unserved_fraction, found.goal_fraction, "share")
    missed = found.verdict == "missed"
    words = UNSURE if not missed else FULL_OF_SUN if month.harvest_wh > 1.2 * asked else MISSED
    severity = Severity.FAILS if missed else Severity.TIGHT
    yield RULE.find(severity, Subject(*season.arrays), words, measure, numbers, {"month": month.name})
