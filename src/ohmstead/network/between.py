"""A moment that lies between the cases: any state of the battery, any warmth, any states of the devices.

The figures of the cases at both ends are mixed in straight lines, so that at the ends the moment is the case.
"""

from collections.abc import Mapping
from dataclasses import replace

from ..site.record import record
from .cases import Case
from .corner import corner_of
from .elements import ConverterState, Corner, OperatingPoint
from .operate import Operation
from .solve import solve

MIDDLE = 0.5


@record(frozen=True)
class Moment:
    """What can be chosen freely. `battery_fraction` runs from 0 (at its low end) over 0.5 (half full) to 1 (full),
    `warmth_fraction` from 0 (coldest air of each place) to 1 (hottest); `states` names each device's state, and
    devices left out draw nothing."""

    battery_fraction: float
    warmth_fraction: float
    states: Mapping[str, str]


@record(frozen=True)
class Flow:
    """What flows at a moment: volts between the wires at each point, amperes and lost volts of each run's number."""

    point: OperatingPoint
    volts: Mapping[str, float]
    current_a: Mapping[int, float]
    drop_v: Mapping[int, float]


def flow_at(operation: Operation, moment: Moment) -> Flow:
    """Solve one moment; about a millisecond for forty parts. Raises ValueError for shares outside 0..1."""
    if not (0.0 <= moment.battery_fraction <= 1.0 and 0.0 <= moment.warmth_fraction <= 1.0):
        raise ValueError("battery and warmth are shares from 0 to 1")
    point = solve(operation.circuit.network, corner_at(operation, moment))
    circuit = operation.circuit
    volts = {name: operation.voltage_v(point, name) for name in circuit.positive}
    current, drop = {}, {}
    for number in circuit.paths:
        current[number] = operation.run_a(point, number)
        wires = [circuit.network.branches[index] for index in circuit.run_branches[number]]
        drop[number] = sum(abs(point.voltage_v[wire.start] - point.voltage_v[wire.end]) for wire in wires)
    return Flow(point, volts, current, drop)


def corner_at(operation: Operation, moment: Moment) -> Corner:
    """The figures of a moment."""
    cold, hot = (_at_battery(operation, moment, temperature) for temperature in ("cold", "hot"))
    share = moment.warmth_fraction
    return replace(
        hot,
        name="moment",
        branch_ohm=_mixed(cold.branch_ohm, hot.branch_ohm, share),
        source_ohm=_mixed(cold.source_ohm, hot.source_ohm, share),
    )


def _at_battery(operation: Operation, moment: Moment, temperature: str) -> Corner:
    """Between low and half full, or between half full and full."""
    upper = moment.battery_fraction > MIDDLE
    pair = ("nominal", "full") if upper else ("low", "nominal")
    share = (moment.battery_fraction - (MIDDLE if upper else 0.0)) / (1.0 - MIDDLE)
    below, above = (
        corner_of(operation.known, Case("moment", battery, temperature, "busy", moment.states), operation.rise_k)
        for battery in pair
    )
    converters = tuple(
        _converter(low, high, share) for low, high in zip(below.converters, above.converters, strict=True)
    )
    return replace(above, source_v=_mixed(below.source_v, above.source_v, share), converters=converters)


def _converter(low: ConverterState, high: ConverterState, share: float) -> ConverterState:
    return replace(high, set_v=low.set_v + share * (high.set_v - low.set_v))


def _mixed(low: tuple[float, ...], high: tuple[float, ...], share: float) -> tuple[float, ...]:
    return tuple([a + share * (b - a) for a, b in zip(low, high, strict=True)])
