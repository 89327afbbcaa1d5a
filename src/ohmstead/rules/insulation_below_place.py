"""Insulation made for less heat than its place has bears no current at all there."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence

RULE = Rule("insulation-below-place", Source("iec-60364-5-52", "table 52.1 and B.52.14"))
SMALL_MARGIN_K = 5.0  # what a thermometer may be off; common practice
WORDS = Words(
    "the air along {subject} reaches {value} before any current flows; its {insulation} insulation bears {limit}",
    "lay it elsewhere, or take wire with insulation for at least {next_class}",
)
CLOSE = Words(
    "the air along {subject} reaches {value}, and its {insulation} insulation bears {limit}: it may hardly carry "
    "current",
    "lay it elsewhere, or take wire with insulation for at least {next_class}",
)
# Classes one can buy. [°C] Source: insulation table, and the columns of 33-cfr-183.
CLASSES_C = (60.0, 70.0, 75.0, 90.0, 105.0, 125.0, 150.0, 180.0, 200.0)
WANTED_ROOM_K = 20.0  # then 90 °C wire still bears sqrt(20/60) = 58 % of its current at 30 °C


def check(evidence: Evidence) -> Iterator[Finding]:
    for view in evidence.runs:
        if view.wire is None or view.ambient_c <= view.wire.insulation_c - SMALL_MARGIN_K:
            continue
        over = view.ambient_c >= view.wire.insulation_c
        wanted_c = view.ambient_c + WANTED_ROOM_K
        next_c = next((limit for limit in CLASSES_C if limit >= wanted_c), CLASSES_C[-1])
        yield RULE.find(
            Severity.FAILS if over else Severity.TIGHT,
            Subject(view.name, view.place),
            WORDS if over else CLOSE,
            Measure(view.ambient_c, view.wire.insulation_c, "temperature"),
            numbers={"next_class": Number(next_c, "temperature", "table")},
            texts={"insulation": view.wire.insulation},
        )
