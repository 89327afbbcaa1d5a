"""One view a battery."""

from ..network.battery import drains_without, watchers
from ..network.operate import Operation
from ..site.model import Battery
from .chain import Chain
from .faults import FaultTable
from .tally import NOTHING, Tally
from .views import BatteryView, Pulse, Worst


def battery_views(operation: Operation, chain: Chain, tally: Tally, table: FaultTable) -> tuple[BatteryView, ...]:
    """Views of all batteries, in the order of the file."""
    return tuple(_view(operation, tally, table, battery) for battery in operation.site.batteries.values())


def _view(operation: Operation, tally: Tally, table: FaultTable, battery: Battery) -> BatteryView:
    name, index = battery.name, operation.circuit.source_of[battery.name]
    figures = operation.known.batteries[name]
    discharge = tally.most_lasting(lambda point: point.source_a[index])
    charge = tally.highest_lasting(lambda point: -point.source_a[index])
    pulses = tuple(
        Pulse(case.starting or "everything at once", point.source_a[index], seconds, case.name)
        for case, point, seconds in tally.starts
    )
    idle = tally.named("nominal-hot-idle")
    idle_w = idle[1].source_a[index] * figures.nominal_v if idle else 0.0
    together = table.largest[name].current_a if name in table.largest else 0.0
    return BatteryView(
        battery=battery,
        name=name,
        place=battery.place,
        nominal_v=figures.nominal_v,
        full_v=figures.full_v,
        low_v=figures.low_v,
        high_v=max(figures.charging_v, figures.equalising_v),
        resistance_ohm=figures.least_ohm,
        resistance_high_ohm=max(figures.most_cold_ohm, figures.most_hot_ohm),
        discharge=discharge,
        peak=tally.most(lambda point: point.source_a[index]),
        charge=Worst(max(charge.value, 0.0), charge.case) if charge.value > 0 else NOTHING,
        pulses=pulses,
        short_circuit_a=figures.full_v / figures.least_ohm,
        together_a=together,
        shares=_shares(operation, tally),
        idle_days=battery.capacity_ah * figures.nominal_v / (24 * idle_w) if idle_w > 1e-6 else float("inf"),
        guarded=guard_of(operation, battery),
    )


def _shares(operation: Operation, tally: Tally) -> dict[str, float]:
    """Share of the total current by battery, in the busiest low case; nothing for a single battery."""
    sources = operation.circuit.network.sources
    heavy = tally.heaviest()
    if len(sources) < 2 or heavy is None:
        return {}
    total = sum(heavy[1].source_a)
    if total <= 1e-9:
        return {}
    return {source.name: current / total for source, current in zip(sources, heavy[1].source_a, strict=True)}


def guard_of(operation: Operation, battery: Battery) -> str:
    """What ends a draw that never stops: a disconnect before all load, the protection board, or nothing."""
    watching = {part.name for part in watchers(operation.site, battery.name)}
    if watching and not drains_without(operation.site, battery.name, watching):
        return ", ".join(sorted(watching))
    if battery.cutoff_v is not None or battery.limits.discharge_a is not None:
        return "limits"
    return ""
