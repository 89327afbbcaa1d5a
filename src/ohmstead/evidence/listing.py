"""Parts, runs, cases and findings as plain rows: one dictionary a row, SI units in the names."""

from collections.abc import Iterator
from typing import Any

from ..network.operate import Operation
from ..network.points import TWO_SIDED
from ..site.kinds import Part
from ..site.model import Battery
from .views import Evidence

Row = dict[str, Any]


def part_rows(operation: Operation) -> Iterator[Row]:
    """Batteries and parts with kind, zone, and the lowest and highest voltage where each takes its power."""
    everything: dict[str, Battery | Part] = {**operation.site.batteries, **operation.site.parts}
    for name, part in everything.items():
        point = f"{name} in" if isinstance(part, TWO_SIDED) else name
        values = [operation.voltage_v(found, point) for found in operation.points]
        yield {
            "name": name,
            "kind": getattr(part, "kind", "battery"),
            "zone": part.zone,
            "line": part.place.line,
            "lowest_v": min(values),
            "highest_v": max(values),
        }


def run_rows(operation: Operation, evidence: Evidence) -> Iterator[Row]:
    """Runs with resistance, currents, drop and fault currents, and how the conductor was known."""
    for view in evidence.runs:
        conductor = dict(operation.circuit.paths[view.run.number].origins)["conductor"]
        yield {
            "name": view.name,
            "line": view.place.line,
            "length_m": view.run.length_m,
            "wire": str(view.run.wire or view.run.cable or "choose"),
            "area_mm2": view.wire.area_mm2 if view.wire else None,
            "fuse": str(view.own_fuse.fuse) if view.own_fuse else None,
            "ampacity_a": view.ampacity.value_a if view.ampacity else None,
            "loop_hot_ohm": view.loop_hot_ohm,
            "sustained_a": view.sustained.value,
            "sustained_case": view.sustained.case,
            "peak_a": view.current.value,
            "drop_v": view.drop.value,
            "fault_far_largest_a": view.fault_far.largest_a if view.fault_far else None,
            "fault_far_smallest_a": view.fault_far.smallest_a if view.fault_far else None,
            "resistance_known": conductor.how,
            "resistance_note": conductor.note,
        }


def case_rows(operation: Operation) -> Iterator[Row]:
    """Cases with the current of all batteries together and what gave up in them."""
    for case, point in zip(operation.cases, operation.points, strict=True):
        yield {
            "name": case.name,
            "title": case.title,
            "battery_a": sum(point.source_a),
            "events": [f"{event.element} {event.kind}" for event in point.events],
        }
