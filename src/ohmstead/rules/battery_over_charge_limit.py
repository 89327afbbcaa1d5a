"""A battery charged with more than it takes heats up, or switches its charger off."""

from collections.abc import Iterator

from ..evidence.banks import Bank, banks, listed
from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject, rounded
from ..evidence.views import BatteryView, Evidence
from ..parts.cell import chemistry
from .batteries_share_unequally import fair_shares

RULE = Rule("battery-over-charge-limit", Source("common-practice", "charge limit on the battery's own sheet"))
SMALL_MARGIN_FRACTION = 0.1  # boards are set to about this; common practice, no source
# Twice the usual rate is more than any cell of the kind is sold for; common practice, no source.
SURELY_TOO_MUCH = 2.0
OVER = Words(
    "up to {value} go from {chargers} into {subject}; {limit} is the most{assumed}",
    "set the charging current to {most} or less{together}, or take a larger battery",
)
CLOSE = Words(
    "up to {value} go from {chargers} into {subject}, next to the {limit} that are the most",
    "add no further charger; measure the current once with the battery half full and nothing else on",
)
ASSUMED = " (assumed, {rate} of its capacity, as it states no `limits`)"


def check(evidence: Evidence) -> Iterator[Finding]:
    for bank in banks(evidence):
        for view in bank.batteries:
            fair = fair_shares(bank)[view.name]
            stated_a = view.battery.limits.charge_a
            limit_a = stated_a if stated_a is not None else usual_a(view)
            charge_a = together_a(bank) * fair
            found = _severity(charge_a, limit_a, "stated" if stated_a is not None else "assumed")
            if found is None:
                continue
            rate = Number(chemistry(view.battery.chemistry).charge_c, "share", "assumed")
            names = [charger.name for charger in bank.chargers]
            yield RULE.find(
                found,
                Subject(view.name, view.place, view.charge.case),
                CLOSE if charge_a <= limit_a else OVER,
                Measure(charge_a, limit_a, "current"),
                {"most": Number(rounded(limit_a / fair, "down", 3), "current")},
                {
                    "chargers": listed(names),
                    "assumed": "" if stated_a is not None else ASSUMED.format(rate=rate),
                    "together": " together" if len(names) > 1 else "",
                },
            )


def together_a(bank: Bank) -> float:
    """What all chargers of a bank deliver at once at its nominal voltage. [A]"""
    nominal_v = bank.batteries[0].nominal_v
    parts = [view.part for view in bank.chargers]
    return sum(min(part.current_a, (part.power_w or float("inf")) / nominal_v) for part in parts)


def usual_a(view: BatteryView) -> float:
    """The charging current usual for the kind of cell. [A]"""
    return chemistry(view.battery.chemistry).charge_c * view.battery.capacity_ah


def _severity(charge_a: float, limit_a: float, how: str) -> Severity | None:
    """A stated limit is broken; an assumed one only tells to look, until it is passed twice over."""
    if how == "assumed":
        if charge_a <= limit_a:
            return None
        return Severity.FAILS if charge_a > SURELY_TOO_MUCH * limit_a else Severity.TIGHT
    if charge_a <= limit_a * (1 - SMALL_MARGIN_FRACTION):
        return None
    return Severity.FAILS if charge_a > limit_a else Severity.TIGHT
