"""One view a power run."""

from collections.abc import Iterator

from ..network.corner import system_v
from ..network.operate import Operation
from ..network.points import Way
from ..wiring.ampacity import Ampacity, Laid, ampacity_a, stated_ampacity
from .chain import Chain
from .faults import FaultTable, battery_fault, limited_fault
from .protect import guards, own_fuse, unfused_m
from .tally import Figure, Tally
from .views import FaultView, FuseView, Pulse, RunView, Worst


def run_views(operation: Operation, chain: Chain, tally: Tally, table: FaultTable) -> tuple[RunView, ...]:
    """Views of all power runs, in the order of the file."""
    fuses = {number: own_fuse(operation.site, way) for number, way in chain.ways.items()}
    protecting = guards(chain, fuses)
    return tuple(
        _view(operation, chain, tally, table, (way, fuses[number], protecting[number]))
        for number, way in chain.ways.items()
    )


def _view(
    operation: Operation,
    chain: Chain,
    tally: Tally,
    table: FaultTable,
    protection: tuple[Way, FuseView | None, FuseView | None],
) -> RunView:
    way, own, guard = protection
    run, number = way.run, way.run.number
    path = operation.circuit.paths[number]
    feeder = operation.circuit.map.feeder[way.near]
    cold, hot = path.most_ohm(path.air.low), path.most_ohm(_working_c(operation, number))
    sustained = tally.most_lasting(tally.run_a(number))
    drop = tally.highest_lasting(_lost_v(operation, way, hot))
    lost = sustained.value**2 * hot
    least = tally.lowest(tally.run_a(number), lambda case, point: case.lasts)
    feeding = feeder.kind != "nothing"
    low = tally.lowest(tally.volts(way.near), lambda case, point: feeding and case.battery == "low")
    return RunView(
        run=run,
        name=run.name,
        place=run.place,
        wire=path.wire if run.origin_of("wire") != "choose" else None,
        ampacity=_ampacity(operation, number),
        ambient_c=path.air.high,
        coldest_c=path.air.low,
        loop_cold_ohm=cold,
        loop_hot_ohm=hot,
        joint_ohm=path.joint_ohm + path.fuse_hot_ohm,
        current=tally.most(tally.run_a(number)),
        sustained=sustained,
        lowest_a=least.value if least else 0.0,
        drop=drop,
        lost_w=lost,
        source_low=low or Worst(0.0, ""),
        source_high=tally.highest(tally.volts(way.near)),
        pulses=tuple(pulses(tally, number, sustained.value)),
        own_fuse=own,
        guard=guard,
        upstream=tuple(chain.name_of[n] for n in operation.circuit.map.upstream[number]),
        downstream=tuple(chain.name_of[n] for n, up in operation.circuit.map.upstream.items() if number in up),
        feeds=chain.behind(number),
        fed_by=feeder.name,
        fed_kind=feeder.kind,
        supply_v=chain.supply_v(feeder, system_v(operation.known)),
        fault_near=_fault(operation, chain, table, way, "near"),
        fault_far=_fault(operation, chain, table, way, "far"),
        unfused_m=unfused_m(way, own),
    )


def _lost_v(operation: Operation, way: Way, hot_ohm: float) -> Figure:
    """Voltage lost along a run; where it holds one conductor only, in that one."""
    if way.run.wires != "both":
        return lambda point: abs(operation.run_a(point, way.run.number)) * hot_ohm
    return lambda point: abs(operation.voltage_v(point, way.near) - operation.voltage_v(point, way.far))


def _working_c(operation: Operation, number: int) -> float:
    path = operation.circuit.paths[number]
    return min(path.air.high + operation.rise_k.get(number, 0.0), max(path.limit_c, path.air.high))


def _ampacity(operation: Operation, number: int) -> Ampacity | None:
    path = operation.circuit.paths[number]
    run = path.run
    if run.ampacity_a is not None:
        return stated_ampacity(run.ampacity_a)
    if path.wire is None:
        return None
    return ampacity_a(path.wire, Laid(run.laid.method, run.laid.circuits), path.air.high, operation.site.about.rules)


def _fault(operation: Operation, chain: Chain, table: FaultTable, way: Way, end: str) -> FaultView | None:
    point = way.near if end == "near" else way.far
    number = way.run.number
    feeder = operation.circuit.map.feeder[way.near]
    if feeder.kind == "battery":
        return battery_fault(operation, table, number, point, end)
    path = operation.circuit.paths[number]
    whole = [operation.circuit.paths[n] for n in operation.circuit.map.upstream[number]] + [path]
    loop = (sum(p.least_ohm(p.air.low) for p in whole), sum(p.most_ohm(p.limit_c) for p in whole))
    return limited_fault(chain, number, feeder.name, end, loop)


def pulses(tally: Tally, number: int, sustained_a: float) -> Iterator[Pulse]:
    """Start-up currents through a run that exceed what it carries for hours."""
    figure = tally.run_a(number)
    for case, point, seconds in tally.starts:
        current = figure(point)
        if current > sustained_a * 1.02:
            yield Pulse(case.starting or "everything at once", current, seconds, case.name)
