"""A disconnect set below the battery's own cut-off never acts: the battery goes dark first, or is drained too far."""

from collections.abc import Iterator

from ..evidence.banks import Bank, banks, empty_v
from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import BatteryView, Evidence
from .no_disconnect import voltages

RULE = Rule("disconnect-below-battery-cut-off", Source("common-practice", "the disconnect acts first"))
OFF_FRACTION = 0.01  # what a set-point is easily off, here of both; common practice, no source
NEVER_ACTS = Words(
    "{subject} opens at {value}, but {battery} cuts itself off at {limit} already: it goes dark with all that hangs "
    "on it, and some need waking by a charger",
    "let it open at about {off}",
)
TOO_LOW = Words(
    "{subject} opens at {value}; {cells} must not be drawn below {limit}",
    "let it open at about {off}",
)
CLOSE = Words(
    "{subject} opens at {value} and {battery} cuts itself off at {limit}: set-points are off by more than what lies "
    "between, so either may act first",
    "let it open at about {off}",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    for bank in banks(evidence):
        # Of batteries in parallel the one that cuts off first decides.
        battery = max(bank.batteries, key=empty_v)
        for view in bank.disconnects:
            limit_v, off_v = empty_v(battery), view.part.off_v
            words = _words(battery, off_v, limit_v)
            if words is None:
                continue
            yield RULE.find(
                Severity.TIGHT if words is CLOSE else Severity.FAILS,
                Subject(view.name, view.place),
                words,
                Measure(off_v, limit_v, "voltage", "least"),
                {"off": _advised(bank)},
                {"battery": battery.name, "cells": f"the cells of {battery.name}"},
            )


def _words(battery: BatteryView, off_v: float, limit_v: float) -> Words | None:
    if not _stated(battery):
        return TOO_LOW if off_v < limit_v else None
    if off_v < limit_v:
        return NEVER_ACTS
    return CLOSE if off_v * (1 - OFF_FRACTION) < limit_v * (1 + OFF_FRACTION) else None


def _stated(battery: BatteryView) -> bool:
    """True when the battery says where it cuts itself off; else only its kind of cell is known."""
    return battery.battery.cutoff_v is not None or battery.battery.open_circuit is not None


def _advised(bank: Bank) -> Number:
    """A setting that leaves something in the battery and stays clear of its own cut-off."""
    known = voltages(bank)
    return Number(max(known["off"].value, known["empty"].value * (1 + 3 * OFF_FRACTION)), "voltage")
