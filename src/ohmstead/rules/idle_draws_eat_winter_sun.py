"""Watts that flow with every device off take their share of the sun first, and most of it in the dark month."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject

if TYPE_CHECKING:
    from ..season.view import SeasonView

ASKS = "season"
RULE = Rule("idle-draws-eat-winter-sun", Source("common-practice", "idle watts run all day and all night"))
MOST_SHARE = 0.25  # of a mean day's harvest in the darkest month; common practice, no source
WORDS = Words(
    "{subject}: with every device off {idle} flows day and night, {daily} a day; that is {value} of what {month} "
    "brings ({harvest} a day at the battery)",
    "switch off the converters that feed nothing in {month}, or take some that idle on less; each watt less gives "
    "{watt} a day back",
)


def check(season: "SeasonView") -> Iterator[Finding]:
    idle_w = season.ledger.loads.idle_w
    month = min(season.summary.months, key=lambda month: month.harvest_wh)
    if month.harvest_wh <= 0.0 or 24.0 * idle_w <= MOST_SHARE * month.harvest_wh:
        return
    numbers = {
        "idle": Number(idle_w, "power"),
        "daily": Number(24.0 * idle_w, "energy"),
        "harvest": Number(month.harvest_wh, "energy"),
        "watt": Number(24.0, "energy"),
    }
    measure = Measure(24.0 * idle_w / month.harvest_wh, MOST_SHARE, "share")
    yield RULE.find(Severity.TIGHT, Subject(*season.battery), WORDS, measure, numbers, {"month": month.name})
