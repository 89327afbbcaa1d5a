"""What flows at the moment before something stops: the cases with a brown-out, solved once more with it on.

A device that comes below its cut-off is taken off, and its current with it; wire, fuse and battery carried that
current until then. Here it stays on as the resistance that takes its power at its cut-off, a converter stays on
below its lockout. Where even that has no operating point, the case stays as it was.
"""

from dataclasses import replace

from ..network.elements import ConverterState, Corner, LoadState, OperatingPoint
from ..network.operate import Operation
from ..network.solve import solve


def asked_points(operation: Operation) -> tuple[OperatingPoint, ...]:
    """An operating point for every case, in their order; those without a brown-out as they are."""
    pairs = zip(operation.points, operation.corners, strict=True)
    return tuple(_asked(operation, point, corner) if point.events else point for point, corner in pairs)


def _asked(operation: Operation, point: OperatingPoint, corner: Corner) -> OperatingPoint:
    network, stopped = operation.circuit.network, {event.element for event in point.events}
    loads = zip(network.loads, corner.loads, strict=True)
    converters = zip(network.converters, corner.converters, strict=True)
    kept_on = replace(
        corner,
        loads=tuple([_held(law) if load.name in stopped else law for load, law in loads]),
        converters=tuple([_awake(law) if part.name in stopped else law for part, law in converters]),
    )
    found = solve(network, kept_on)
    return point if found.events else found


def _held(law: LoadState) -> LoadState:
    """A load that takes at its cut-off what it did, and less below: it stops there."""
    if law.cutoff_v <= 0:
        return law
    return LoadState(0.0, law.current_a, law.conductance_s + law.power_w / law.cutoff_v**2, law.floor_v, 0.0)


def _awake(law: ConverterState) -> ConverterState:
    return replace(law, lockout_v=0.0)
