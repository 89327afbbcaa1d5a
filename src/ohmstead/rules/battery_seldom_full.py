"""A battery that does not come to be full for weeks loses capacity, or drifts apart cell by cell."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject

if TYPE_CHECKING:
    from ..season.view import SeasonView

ASKS = "season"
RULE = Rule("battery-seldom-full", Source("common-practice", "full charge of lead each week, of lithium each month"))
# Lead sulphates when it is not full for weeks: a full charge a week is asked for, and judged when it is twice that.
# Lithium balances its cells at the top only; a month or two pass unseen. Common practice, no source.
MOST_DAYS = {"LFP": 60.0, "NMC": 90.0, "lead AGM": 14.0, "lead flooded": 14.0}
LEAD = ("lead AGM", "lead flooded")
DAY_S = 86400.0
SULPHATES = Words(
    "{subject} does not come to be full for {value} on end, and {limit} is long: lead kept below full sulphates",
    "add panels, lower the winter load, or charge it full from another source once a week",
)
DRIFTS = Words(
    "{subject} does not come to be full for {value} on end; its cells are balanced at the top only, and drift apart "
    "in the meantime",
    "bring it to full from another source once a month in the dark season, or add panels",
)


def check(season: "SeasonView") -> Iterator[Finding]:
    kind = season.ledger.bank.chemistry
    longest, most = float(season.summary.longest_not_full_days), MOST_DAYS.get(kind)
    if most is None or longest <= most or season.ledger.bank.full_wh <= 0.0:
        return
    numbers = {"full_days": Number(season.summary.full_days_a_year, "number")}
    words = SULPHATES if kind in LEAD else DRIFTS
    measure = Measure(longest * DAY_S, most * DAY_S, "time")
    yield RULE.find(Severity.TIGHT, Subject(*season.battery), words, measure, numbers)
