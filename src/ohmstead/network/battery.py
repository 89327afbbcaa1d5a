"""A battery's figures for the cases: voltages by state and resistance by temperature and age."""

from collections.abc import Mapping

from ..parts.cell import chemistry
from ..site.kinds import Charger, Converter, Device, Disconnect, EthernetSource, Switch
from ..site.model import Battery, Site
from ..site.record import record
from ..storage.cells import fresh_resistance_ohm, open_circuit_v, working_resistance_ohm
from .points import Map, end_point, power_runs, start_point


@record(frozen=True)
class BatteryFigures:
    """Open-circuit voltages [V] and resistances [Ω] of a whole battery."""

    cells: int
    full_v: float
    nominal_v: float
    low_v: float
    charging_v: float
    equalising_v: float
    least_ohm: float  # fresh, for the largest fault
    most_hot_ohm: float
    most_cold_ohm: float

    def source_v(self, state: str) -> float:
        """Electromotive force in a battery state of a case."""
        return {
            "full": self.full_v,
            "nominal": self.nominal_v,
            "low": self.low_v,
            "bulk": self.nominal_v,
            "charging": self.charging_v,
            "equalising": self.equalising_v,
        }[state]


def figures_of(site: Site, found: Map) -> dict[str, BatteryFigures]:
    """Figures of every battery."""
    return {name: _figures(site, found, battery) for name, battery in site.batteries.items()}


def cells_of(battery: Battery) -> int:
    """Cells in series: as stated, or from the nominal voltage."""
    if battery.cells:
        return battery.cells
    return max(1, round((battery.voltage_v or 12.8) / chemistry(battery.chemistry).nominal_v))


def _figures(site: Site, found: Map, battery: Battery) -> BatteryFigures:
    kind = chemistry(battery.chemistry)
    cells = cells_of(battery)
    stated = battery.open_circuit
    full = stated.full_v if stated else cells * open_circuit_v(kind, 1.0)
    nominal = stated.nominal_v if stated else cells * open_circuit_v(kind, 0.5)
    empty = battery.cutoff_v or (stated.cutoff_v if stated else cells * kind.empty_v)
    charging = max([battery.charging_v or 0.0] + [c.voltage_v for c in _chargers(site)]) or cells * kind.charging_v
    equalising = max([battery.equalising_v or 0.0] + [c.equalising_v or 0.0 for c in _chargers(site)]) or charging
    air = site.air_at(battery.name)
    if battery.resistance_ohm is not None:
        least = most_hot = most_cold = battery.resistance_ohm
    else:
        capacity = battery.capacity_ah
        least = fresh_resistance_ohm(kind, cells, capacity)
        most_hot = working_resistance_ohm(kind, cells, capacity, air.high)
        most_cold = working_resistance_ohm(kind, cells, capacity, air.low)
    low = _low_v(site, found, battery, empty)
    return BatteryFigures(
        cells,
        full,
        nominal,
        low,
        charging,
        equalising,
        least,
        most_hot + battery.slow_ohm,
        most_cold + battery.slow_ohm,
    )


def _chargers(site: Site) -> list[Charger]:
    return [part for part in site.parts.values() if isinstance(part, Charger)]


def beside(site: Site, name: str) -> set[str]:
    """The batteries that wire, closed switches and disconnects join to one, itself included."""
    return _joined(site, set(), name) & set(site.batteries)


def watchers(site: Site, name: str) -> list[Disconnect]:
    """Low-voltage disconnects that watch a battery or one in parallel with it.

    One that names nothing watches what feeds it, which is taken to be this battery.
    """
    joined = beside(site, name)
    return [
        part
        for part in site.parts.values()
        if isinstance(part, Disconnect) and (not part.senses or part.senses in joined)
    ]


def _low_v(site: Site, found: Map, battery: Battery, empty_v: float) -> float:
    """The voltage of the battery-low cases: the disconnect's, when all load lies behind it; else empty."""
    watching = watchers(site, battery.name)
    if not watching or drains_without(site, battery.name, {part.name for part in watching}):
        return empty_v
    return max(min(part.off_v for part in watching), empty_v)


def drains_without(site: Site, name: str, opened: set[str]) -> tuple[str, ...]:
    """Parts that still draw from a battery when the named disconnects are open."""
    return tuple(_drawing(site, _joined(site, opened, name)))


def _joined(site: Site, opened: set[str], name: str) -> set[str]:
    """Points that both a positive and a negative wire join to a battery.

    A disconnect breaks the positive wire; the negative one goes on through it, unless only negative runs meet it.
    """
    met = {end.part for run in power_runs(site) if run.wires != "negative" for end in (run.start, run.end)}
    positive = _reach(_links(site, "negative", opened), name)
    return positive & _reach(_links(site, "positive", opened - met), name)


def _links(site: Site, without: str, opened: set[str]) -> dict[str, list[str]]:
    """What wire, closed switches and disconnects join, the opened ones and runs of one wire left out."""
    links: dict[str, list[str]] = {}
    met = {end.part for run in power_runs(site) if run.wires != "negative" for end in (run.start, run.end)}
    for run in power_runs(site):
        if run.wires != without:
            a, b = start_point(site, run.start), end_point(site, run.end)
            links.setdefault(a, []).append(b)
            links.setdefault(b, []).append(a)
    for part_name, part in site.parts.items():
        closed = isinstance(part, Disconnect) or isinstance(part, Switch) and part.set_to == "closed"
        through = without == "positive" and part_name in met and isinstance(part, Disconnect | Switch)
        if (closed or through) and part_name not in opened:
            links.setdefault(f"{part_name} in", []).append(f"{part_name} out")
            links.setdefault(f"{part_name} out", []).append(f"{part_name} in")
    return links


def _reach(links: Mapping[str, list[str]], start: str) -> set[str]:
    seen, queue = {start}, [start]
    while queue:
        for other in links.get(queue.pop(), ()):
            if other not in seen:
                seen.add(other)
                queue.append(other)
    return seen


def _drawing(site: Site, points: set[str]) -> list[str]:
    drawing = []
    for name, part in site.parts.items():
        draws = isinstance(part, Device | Converter | EthernetSource)
        if draws and (name if isinstance(part, Device) else f"{name} in") in points:
            drawing.append(name)
    return drawing
