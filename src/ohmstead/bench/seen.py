"""Stored readings as observations of the network: of the plan's steps, or by the names of point and state."""

from collections.abc import Iterable, Sequence

from ..site.record import record
from .observation import Observation
from .points import Point
from .reading import Entry
from .situation import Bench, Situation
from .step import Plan

OTHER_BATTERY = ("low",)  # stages in which the battery is drained on purpose: another supply voltage than in the rest
METHODS = {" by clamp": "clamp", "": "amps"}


@record(frozen=True)
class Seen:
    """What can be used, and the readings that say nothing about the network (ticks, resistances, unknown points)."""

    observations: tuple[Observation, ...]
    left_out: tuple[Entry, ...]


def seen(bench: Bench, plan: Plan, entries: Iterable[Entry]) -> Seen:
    """The newest reading of each point in each state; older ones are of the supply as it was before."""
    steps = {step.id: step for step in plan.steps}
    aside = {step.id for step in plan.steps if step.stage in OTHER_BATTERY}
    situations = {step.situation.name: step.situation for step in plan.steps if step.situation}
    newest: dict[tuple[str, str], tuple[Entry, Point, Situation]] = {}
    left: list[Entry] = []
    for entry in entries:
        reading = entry.reading
        step = steps.get(reading.step)
        point = step.point if step is not None else point_of(bench, reading.point)
        situation = step.situation if step is not None else situations.get(reading.state)
        usable = (
            reading.step not in aside
            and point is not None
            and point.id == reading.point
            and point.dimension == reading.quantity
        )
        if not usable or point is None or situation is None or reading.value is None:
            left.append(entry)
            continue
        newest[point.id, situation.name] = (entry, point, situation)
    found = [
        Observation(point, situation, entry.reading.value or 0.0, entry.reading.uncertainty or 0.0, entry.number)
        for entry, point, situation in newest.values()
    ]
    return Seen(tuple(found), tuple(left))


def point_of(bench: Bench, name: str) -> Point | None:
    """The point that a reading names, such as "voltage at router"; None where the site has none of that name."""
    kind, _, rest = name.partition(" ")
    candidates: Sequence[Point] = ()
    if kind == "drop":
        at, _, place = rest.rpartition(": ")
        candidates = (Point("drop", at, place),)
    elif rest.startswith("at ") and kind == "voltage":
        candidates = (Point("voltage", rest[3:]),)
    elif rest.startswith("at ") and kind == "current":
        at = rest[3:]
        candidates = tuple(
            Point("current", at.removesuffix(word), method=method)
            for word, method in METHODS.items()
            if at.endswith(word)
        )
    return next((point for point in candidates if point.id == name and _is_there(bench, point)), None)


def _is_there(bench: Bench, point: Point) -> bool:
    circuit = bench.circuit
    if point.quantity == "voltage":
        return point.at in circuit.positive
    if point.quantity == "current" and point.at in circuit.source_of:
        return True
    run = bench.run_of.get(point.at)
    return run is not None and (point.quantity == "current" or point.place in ("run", "leg +", "leg -", *run.places()))
