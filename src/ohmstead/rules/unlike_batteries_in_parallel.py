"""Batteries of unlike voltage in parallel push current into each other without end."""

from collections.abc import Iterator

from ..evidence.banks import Bank, banks
from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import BatteryView, Evidence
from ..network.battery import cells_of

RULE = Rule("unlike-batteries-in-parallel", Source("battery-textbook", "two sources behind their resistances"))
WORDS = Words(
    "{high} ({high_kind}) and {low} ({low_kind}) are in parallel: full they stand {value} apart, up to {current} "
    "flow from one into the other, and no charger suits both",
    "keep them apart, and let a converter made for it charge one from the other",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    for bank in banks(evidence):
        if len(kinds(bank)) < 2:
            continue
        high = max(bank.batteries, key=lambda view: view.full_v)
        low = min(bank.batteries, key=lambda view: view.full_v)
        gap_v = high.full_v - low.full_v
        yield RULE.find(
            Severity.DANGER,
            Subject(low.name, low.place),
            WORDS,
            Measure(gap_v, 0.0, "voltage"),
            {"current": Number(gap_v / (high.resistance_ohm + low.resistance_ohm), "current")},
            {"high": high.name, "high_kind": _kind(high), "low": low.name, "low_kind": _kind(low)},
        )


def kinds(bank: Bank) -> set[str]:
    """The kinds of battery in a bank."""
    return {_kind(view) for view in bank.batteries}


def _kind(view: BatteryView) -> str:
    return f"{cells_of(view.battery)} cells {view.battery.chemistry}"
