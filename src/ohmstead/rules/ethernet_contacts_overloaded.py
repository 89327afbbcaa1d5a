"""The contacts of a network jack are made for less than an ampere each: more chars them."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence, RunView
from ..parts.plug import read_end

RULE = Rule("ethernet-contacts-overloaded", Source("iec-60603-7", "current of a contact at 60 °C"))
WORDS = Words(
    "{current} flow through the jacks from {start} to {end}: over {pairs} pairs that is {value} a contact, "
    "made for {limit}",
    "{cure}",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    rating_a = read_end("rj45").rating_a
    for view in evidence.runs:
        if view.run.cable is None or rating_a is None or view.run.pairs < 1 or not _jacks(view):
            continue
        # Half the wires of the pairs in use go out, half come back: as many contacts a pole as pairs.
        each_a = view.sustained.value / view.run.pairs
        if each_a <= rating_a:
            continue
        texts = {
            "start": str(view.run.start),
            "end": str(view.run.end),
            "pairs": str(view.run.pairs),
            "cure": _cure(view, rating_a),
        }
        numbers = {"current": Number(view.sustained.value, "current")}
        subject = Subject(view.name, view.place, view.sustained.case)
        yield RULE.find(Severity.FAILS, subject, WORDS, Measure(each_a, rating_a, "current"), numbers, texts)


def _jacks(view: RunView) -> bool:
    """True unless both ends are stated to be something else."""
    ends = view.run.ends
    return len(ends) < 2 or any(end is None or end.kind == "rj45" for end in ends)


def _cure(view: RunView, rating_a: float) -> str:
    higher = "a higher voltage on this cable (half the amperes at twice the volts)"
    if view.run.pairs < 4 and view.sustained.value <= 4 * rating_a:
        return f"use all four pairs, or {higher}"
    return f"use {higher}, or two-core cable of its own"
