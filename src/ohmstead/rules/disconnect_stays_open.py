"""A disconnect that closes only above what the battery ever reaches, or that cuts off the charger, stays open."""

from collections.abc import Iterator

from ..evidence.banks import Bank, banks, listed
from ..evidence.finding import Finding, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence

RULE = Rule("disconnect-stays-open", Source("common-practice", "reconnect setting below the charging voltage"))
SMALL_MARGIN_FRACTION = 0.01  # what a set-point is easily off; common practice, no source
NEVER = Words(
    "once {subject} has opened it closes again only above {value}, and {battery} never gets beyond {limit}",
    "let it close again below {limit}, with its gap above `off`",
)
CLOSE = Words(
    "once {subject} has opened it closes again only above {value}, and {battery} gets to {limit} at most: set-points "
    "are off by more than what lies between",
    "let it close again at a lower voltage, with its gap above `off`",
)
CUT_OFF = Words(
    "once {subject} has opened, {chargers} cannot charge {battery} any more: nothing brings it back by itself",
    "bring {chargers} to the battery's side of {subject}, with a fuse at the battery",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    for bank in banks(evidence):
        if bank.disconnects and bank.chargers and not bank.charging:
            yield _cut_off(bank)
        high_v = max(battery.high_v for battery in bank.batteries)
        for view in bank.disconnects:
            on_v = view.part.on_v
            if on_v <= high_v * (1 - SMALL_MARGIN_FRACTION):
                continue
            yield RULE.find(
                Severity.FAILS if on_v > high_v else Severity.TIGHT,
                Subject(view.name, view.place),
                NEVER if on_v > high_v else CLOSE,
                Measure(on_v, high_v, "voltage"),
                texts={"battery": bank.name},
            )


def _cut_off(bank: Bank) -> Finding:
    """A disconnect with every charger behind it."""
    view = bank.disconnects[0]
    texts = {"battery": bank.name, "chargers": listed(charger.name for charger in bank.chargers)}
    return RULE.find(Severity.FAILS, Subject(view.name, view.place), CUT_OFF, texts=texts)
