"""What a run owes to what it joins: its number among runs between the same ends, and its powered pairs."""

from collections.abc import Iterable, Iterator

from .drafts import Draft
from .kinds import Device
from .model import run_name
from .place import Origin
from .walk import Drafts

FOUR_PAIR_CLASS = 5  # IEEE 802.3: devices of class 5 to 8 are fed over all four pairs
FOUR_PAIRS = Origin("assumed", "4 pairs, as a device of class 5 to 8 takes them")


def named_runs(runs: Iterable[Draft]) -> Iterator[tuple[Draft, int, str]]:
    """Every run with both ends, its twin number and its name, which no other run has."""
    taken: set[str] = set()
    for run in runs:
        start, end = run.value("start"), run.value("end")
        if start is None or end is None:
            continue
        twin = 1
        while (name := run_name(start, end, run.value("wires") or "both", twin)) in taken:
            twin += 1
        taken.add(name)
        yield run, twin, name


def power_over_four_pairs(drafts: Drafts) -> None:
    """Fills in the pairs of a network cable to a device that needs all four, where nothing is said."""
    for run in drafts.runs:
        ends = [end for end in (run.value("start"), run.value("end")) if end is not None]
        parts = [part for end in ends if (part := drafts.parts.get(end.part)) is not None and part.cls is Device]
        open_pairs = "cable" in run.nodes and "pairs" not in run.nodes
        if open_pairs and any((part.value("class_") or 0) >= FOUR_PAIR_CLASS for part in parts):
            run.values["pairs"], run.origin["pairs"] = 4, FOUR_PAIRS
