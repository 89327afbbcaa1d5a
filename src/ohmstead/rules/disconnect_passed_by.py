"""What draws past the low-voltage disconnect empties the battery after it has opened."""

from collections.abc import Iterator

from ..evidence.banks import Bank, banks, daily_wh, empty_v, ends_by_itself, listed
from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence

RULE = Rule("disconnect-passed-by", Source("common-practice", "all that draws lies behind the disconnect"))
# What a disconnect leaves in the battery when it opens, and how long somebody may be away: common practice, no source.
LEFT_FRACTION = 0.1
AWAY_DAYS = 90.0
DAY_S = 86400.0
WORDS = Words(
    "{subject} does not cut off {passing}: when it has opened, {daily} a day go on flowing out of {bank}; the last "
    "{left} are gone in {value}, and {then}",
    "move {passing} behind {subject}, or take what stops by itself (`cut-off`, `lockout`) above {empty}",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    for bank in banks(evidence):
        passing = passing_by(evidence, bank)
        if not bank.disconnects or not passing:
            continue
        daily = daily_wh(evidence, bank, passing)
        left_wh = LEFT_FRACTION * bank.energy_wh
        if daily <= 0 or left_wh / daily > AWAY_DAYS:
            continue
        last = min(bank.disconnects, key=lambda view: view.part.off_v)
        texts = {
            "bank": bank.name,
            "passing": listed(passing),
            "then": "only its own protection ends it" if bank.has_board else "nothing ends it",
        }
        numbers = {
            "daily": Number(daily, "energy"),
            "left": Number(LEFT_FRACTION, "share", "assumed"),
            "empty": Number(max(empty_v(view) for view in bank.batteries), "voltage"),
        }
        yield RULE.find(
            Severity.TIGHT if bank.has_board else Severity.FAILS,
            Subject(last.name, last.place),
            WORDS,
            Measure(left_wh / daily * DAY_S, AWAY_DAYS * DAY_S, "time", "least"),
            numbers,
            texts,
        )


def passing_by(evidence: Evidence, bank: Bank) -> tuple[str, ...]:
    """What draws on when all disconnects of a bank are open, and does not stop by itself before it is empty."""
    least_v = max(empty_v(view) for view in bank.batteries)
    return tuple(name for name in bank.passing if not ends_by_itself(evidence, name, least_v))
