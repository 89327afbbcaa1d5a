"""A lithium battery too cold to charge throws away the sun of clear winter days."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject

if TYPE_CHECKING:
    from ..season.view import SeasonView

ASKS = "season"
RULE = Rule("cold-battery-refuses-sun", Source("lfp-cell-sheet", "charging temperature, from memory"))
MOST_H = 50.0  # a year; some ten short winter days. Common practice, no source
ROOM = 0.9  # above this share of full little was to be gained
WORDS = Words(
    "{subject} is below {freezing} in {value} hours a year with sun to spare and room for it: {refused} a year are "
    "refused",
    "keep it warm: insulate it, heat it with the first of the sun, or move it to where it does not freeze",
)


def check(season: "SeasonView") -> Iterator[Finding]:
    ledger = season.ledger
    if ledger.bank.chemistry not in ("LFP", "NMC"):
        return
    blocked = (ledger.cells_c < 0.0) & (ledger.spilled_w > 1.0) & (ledger.state_fraction < ROOM)
    blocked_h = float(blocked.sum()) / season.summary.n_year
    if blocked_h <= MOST_H:
        return
    refused = float(ledger.spilled_w[blocked].sum()) / season.summary.n_year
    numbers = {
        "refused": Number(refused, "energy"),
        "freezing": Number(0.0, "temperature"),
        "coldest": Number(float(ledger.cells_c.min()), "temperature"),
    }
    measure = Measure(round(blocked_h), MOST_H, "number")
    yield RULE.find(Severity.TIGHT, Subject(*season.battery), WORDS, measure, numbers)
