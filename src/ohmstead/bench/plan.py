"""The switch-on plan of a site: each step uses only what an earlier step proved."""

from collections.abc import Callable, Iterable, Iterator

from ..network.operate import Operation
from .expect import CONFIDENCE_FRACTION
from .making import Making, filled
from .meter import HANDHELD, Meter
from .parameters import Surroundings
from .reading import revision_of
from .stage_dead import converters, dead, ready
from .stage_devices import charging, devices
from .stage_end import close, hour, load, low
from .stage_fuses import battery, fuses
from .step import Plan, Step

STAGES: tuple[Callable[[Making], Iterator[Step]], ...] = (
    ready, dead, converters, battery, fuses, devices, charging, load, hour, low, close,
)  # fmt: skip


def plan_of(operation: Operation, surroundings: Surroundings | None = None, meter: Meter = HANDHELD) -> Plan:
    """Every step in order. The state of the battery in `surroundings` tightens the bands once it was measured."""
    making = Making(operation, surroundings or Surroundings(), meter)
    steps = _told_apart(step for stage in STAGES for step in stage(making))
    return Plan(
        operation.site.about.name,
        revision_of(operation.site.text),
        CONFIDENCE_FRACTION,
        meter.sheet,
        making.marks.listed(making.bench.circuit),
        steps,
    )


def _told_apart(steps: Iterable[Step]) -> tuple[Step, ...]:
    """Ids stay apart where two names differ only in what an id leaves out."""
    taken: dict[str, int] = {}
    found = []
    for step in steps:
        taken[step.id] = count = taken.get(step.id, 0) + 1
        found.append(step if count == 1 else filled(step, id=f"{step.id}--{count}"))
    return tuple(found)
