"""The coldest air at a battery, read from its cabinet or from the runs around it."""

from collections.abc import Iterator

from .views import BatteryView, Evidence, RunView


def coldest_c(evidence: Evidence, battery: BatteryView) -> float | None:
    """The coldest air of the zone where a battery stands; None where no run tells it for certain. [°C]

    A run within one zone has the air of that zone. One between two zones has the colder of both: it tells about
    the battery's when the other one is known to be warmer.
    """
    for cabinet in evidence.cabinets:
        if battery.name in cabinet.climate.local_air:
            return cabinet.climate.local_air[battery.name].low
    zones = _zones(evidence)
    known: dict[str, float] = {}
    for view in evidence.runs:
        found = _along(view, zones)
        if len(found) == 1:
            known[found.pop()] = view.coldest_c
    if battery.battery.zone in known:
        return known[battery.battery.zone]
    for view in evidence.runs:
        found = _along(view, zones)
        if battery.battery.zone in found:
            others = [known.get(zone) for zone in found - {battery.battery.zone}]
            if all(air_c is not None and air_c > view.coldest_c for air_c in others):
                return view.coldest_c
    return None


def _along(view: RunView, zones: dict[str, str]) -> set[str]:
    """The zones a run lies in: its own, or those of both ends."""
    if view.run.zone:
        return {view.run.zone}
    return {zones.get(view.run.start.part, ""), zones.get(view.run.end.part, "")}


def _zones(evidence: Evidence) -> dict[str, str]:
    """The zone of every part and battery."""
    return dict(_standing(evidence))


def _standing(evidence: Evidence) -> Iterator[tuple[str, str]]:
    for battery in evidence.batteries:
        yield battery.name, battery.battery.zone
    for device in evidence.devices:
        yield device.name, device.device.zone
    for converter in evidence.converters:
        yield converter.name, converter.converter.zone
    for source in evidence.ethernet:
        yield source.name, source.source.zone
    for block in evidence.blocks:
        yield block.name, block.block.zone
    for disconnect in evidence.disconnects:
        yield disconnect.name, disconnect.part.zone
    for switch in evidence.switches:
        yield switch.name, switch.part.zone
    for busbar in evidence.busbars:
        yield busbar.name, busbar.part.zone
    for charger in evidence.chargers:
        yield charger.name, charger.part.zone
