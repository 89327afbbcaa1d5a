"""A battery that is down to 80 % of its capacity within a few years has to be paid for again and again."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject

if TYPE_CHECKING:
    from ..season.view import SeasonView

ASKS = "season"
RULE = Rule("battery-worn-soon", Source("common-practice", "a battery is bought for five years and more"))
LEAST_YEARS = 5.0
MOSTLY = 0.5  # of the loss: what makes more of it is named
WORDS = {
    "use": Words(
        "{subject}: down to 80 % of its capacity after {value} years, mostly by use: {cycles} full cycles a year, the "
        "deepest of {deepest}",
        "use a larger battery or less load, so that each cycle is shallower, or cells that bear more cycles",
    ),
    "age": Words(
        "{subject}: down to 80 % of its capacity after {value} years, mostly by age: its cells are at {warm} in "
        "the mean and {charged} charged",
        "keep it cooler: out of the sun, in the lowest and best aired place, apart from what gets warm",
    ),
}


def check(season: "SeasonView") -> Iterator[Finding]:
    wear = season.summary.wear
    if wear.life_years >= LEAST_YEARS or season.ledger.bank.full_wh <= 0.0:
        return
    cause = "age" if wear.calendar_fraction > MOSTLY else "use"
    numbers = {
        "cycles": Number(wear.n_full_cycle, "count"),
        "deepest": Number(wear.deepest_fraction, "share"),
        "warm": Number(float(season.ledger.cells_c.mean()), "temperature"),
        "charged": Number(float(season.ledger.state_fraction.mean()), "share"),
        "age": Number(wear.calendar_fraction, "share"),
    }
    measure = Measure(wear.life_years, LEAST_YEARS, "count", "least")
    yield RULE.find(Severity.TIGHT, Subject(*season.battery), WORDS[cause], measure, numbers)
