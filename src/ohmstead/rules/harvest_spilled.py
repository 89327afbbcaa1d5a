"""Sun that is thrown away while the load lacks, or nearly all year, was paid for without use."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject

if TYPE_CHECKING:
    from ..season.view import SeasonView

ASKS = "season"
RULE = Rule("harvest-spilled", Source("common-practice", "what a supply sized for winter spills in summer"))
# Common practice, no source: a supply that must carry winter spills half its harvest of a year.
MOST_IN_LACK = 0.25
MOST_SHARE = 0.75
LEAST_USED = 0.7  # lowest state of a battery that is hardly used
LACKS = 0.01  # share of a month's energy
WHILE_LACKING = Words(
    "{subject}: in {month} {value} of the sun finds no room in the battery while {lacking} a day of the load is not "
    "served",
    "use a larger battery, or one that takes more current at the temperature it has; more panels would spill more",
)
ALL_YEAR = Words(
    "{subject}: {value} of the sun of a year finds neither load nor room in the battery, and the battery never "
    "falls below {lowest}",
    "take panels away, or give the surplus some use",
)


def check(season: "SeasonView") -> Iterator[Finding]:
    for month in season.summary.months:
        spilled = month.spilled_wh / month.harvest_wh if month.harvest_wh > 0.0 else 0.0
        if spilled > MOST_IN_LACK and month.unserved_wh > LACKS * (month.served_wh + month.unserved_wh):
            numbers = {
                "lacking": Number(month.unserved_wh, "energy"),
                "spilled": Number(month.spilled_wh, "energy"),
                "harvest": Number(month.harvest_wh, "energy"),
            }
            measure = Measure(spilled, MOST_IN_LACK, "share")
            subject = Subject(*season.arrays)
            yield RULE.find(Severity.TIGHT, subject, WHILE_LACKING, measure, numbers, {"month": month.name})
            return
    found = season.summary
    if found.spilled_fraction > MOST_SHARE and found.lowest_fraction > LEAST_USED:
        numbers = {"lowest": Number(found.lowest_fraction, "share")}
        measure = Measure(found.spilled_fraction, MOST_SHARE, "share")
        yield RULE.find(Severity.TIGHT, Subject(*season.arrays), ALL_YEAR, measure, numbers)
