"""A disconnect that closes again only above what the battery ever reaches stays open for good."""

from collections.abc import Iterator

from ..evidence.banks import banks
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


def check(evidence: Evidence) -> Iterator[Finding]:
    for bank in banks(evidence):
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
