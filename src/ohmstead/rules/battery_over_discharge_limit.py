"""A battery asked for more than its protection allows for long switches off, and everything is dark."""

from collections.abc import Iterator

from ..evidence.banks import banks
from ..evidence.finding import Finding, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence
from .batteries_share_unequally import shared_badly

RULE = Rule("battery-over-discharge-limit", Source("common-practice", "discharge limit on the battery's own sheet"))
SMALL_MARGIN_FRACTION = 0.1  # boards are set to about this; common practice, no source
OVER = Words(
    "up to {value} flow from {subject} for long; above {limit} the protection opens, and everything is dark",
    "run less at once, put another battery of the same kind in parallel, or take one that allows {ample} or more",
)
CLOSE = Words(
    "up to {value} flow from {subject} for long, next to the {limit} above which the protection opens",
    "let nothing more run at the same time; for a further load take a battery that allows more",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    for bank in banks(evidence):
        total_a = sum(view.discharge.value for view in bank.batteries)
        for view in bank.batteries:
            limit_a = view.battery.limits.discharge_a
            if limit_a is None or view.discharge.value <= limit_a * (1 - SMALL_MARGIN_FRACTION):
                continue
            if shared_badly(bank, view, total_a, limit_a) == "yes":
                continue  # one cause: told as batteries-share-unequally
            over = view.discharge.value > limit_a
            yield RULE.find(
                Severity.FAILS if over else Severity.TIGHT,
                Subject(view.name, view.place, view.discharge.case),
                OVER if over else CLOSE,
                Measure(view.discharge.value, limit_a, "current"),
            )
