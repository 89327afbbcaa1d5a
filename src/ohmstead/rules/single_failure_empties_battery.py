"""One failure must not empty a battery: something else has to end the discharge then."""

from collections.abc import Iterator

from ..evidence.banks import banks, listed
from ..evidence.finding import Finding, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence
from .no_disconnect import DAY_S, never_ending, runtime, voltages

RULE = Rule("single-failure-empties-battery", Source("common-practice", "which single failure empties the battery"))
NOTICED_AFTER_DAYS = 90.0  # a season: by then somebody has been there; common practice, no source
DISCONNECT = Words(
    "only {guard} ends a discharge of {subject}: should it not open, {use} in {value} without charge",
    "add a low-voltage alarm that somebody hears, or a `lockout` or `cut-off` above {empty} in what draws; try "
    "once a year that {guard} opens",
)
BOARD = Words(
    "only the protection inside {subject} ends a discharge: should it fail, {use} in {value} without charge",
    "add a low-voltage disconnect before all that draws, opening at about {off}, before the battery's own protection",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    for bank in banks(evidence):
        cut = bool(bank.disconnects) and not bank.passing
        if cut == bank.has_board or bank.passing and bank.disconnects or not never_ending(evidence, bank):
            continue
        found = runtime(evidence, bank)
        if found is None or found[1] > NOTICED_AFTER_DAYS:
            continue
        use, days = found
        yield RULE.find(
            Severity.TIGHT,
            Subject(bank.name, bank.batteries[0].place),
            DISCONNECT if cut else BOARD,
            Measure(days * DAY_S, NOTICED_AFTER_DAYS * DAY_S, "time", "least"),
            voltages(bank),
            {"use": use, "guard": listed(view.name for view in bank.disconnects)},
        )
