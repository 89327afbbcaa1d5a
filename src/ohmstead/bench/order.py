"""In which order circuits come on, and which runs bring what its power."""

from collections.abc import Iterator, Mapping

from ..network.compile import Circuit
from ..network.points import TWO_SIDED, Way
from ..site.kinds import Charger, Device, Distribution
from ..site.model import Run, Site
from ..site.record import record


@record(frozen=True)
class Feeding:
    """Ways by run number, with the chain of runs that brings each its power, nearest first, to the battery."""

    circuit: Circuit
    ways: Mapping[int, Way]
    chains: Mapping[int, tuple[int, ...]]

    def supply_run(self, name: str) -> int | None:
        """The run that brings a part its power, None where none does."""
        part = self.circuit.site.parts.get(name)
        return self.circuit.map.supply.get(f"{name} in" if isinstance(part, TWO_SIDED) else name)

    def run(self, number: int) -> Run:
        """The run of a number."""
        return self.ways[number].run


def feeding_of(circuit: Circuit) -> Feeding:
    """Follow every run back through converters to a battery or charger."""
    ways = {way.run.number: way for way in circuit.map.ways if way.run.wires != "negative"}
    chains: dict[int, tuple[int, ...]] = {}
    for number, way in ways.items():
        chain, feeder, seen = list(circuit.map.upstream[number]), circuit.map.feeder[way.near], set[str]()
        while feeder.kind in ("converter", "ethernet power source") and feeder.name not in seen:
            seen.add(feeder.name)
            supply = circuit.map.supply.get(f"{feeder.name} in")
            if supply is None:
                break
            chain += [supply, *circuit.map.upstream[supply]]
            feeder = circuit.map.feeder[f"{feeder.name} in"]
        chains[number] = tuple(dict.fromkeys(chain))
    return Feeding(circuit, ways, chains)


def is_fused(site: Site, run: Run) -> bool:
    """True for a run that a fuse, a breaker or a numbered way of a block can open."""
    on_way = any(
        end.way is not None and isinstance(site.parts.get(end.part), Distribution) for end in (run.start, run.end)
    )
    return run.fuse is not None or on_way or run.origin_of("fuse") == "choose"


def fused_in_order(feeding: Feeding) -> tuple[int, ...]:
    """Numbers of the fused runs, nearest to the battery first, then the smaller fuse first; chargers last."""
    site = feeding.circuit.site
    fused = [number for number in feeding.ways if is_fused(site, feeding.run(number))]

    def rank(number: int) -> tuple[int, int, float, int]:
        run = feeding.run(number)
        above = sum(other in fused for other in feeding.chains[number])
        rating_a = run.fuse.rating_a if run.fuse else 0.0
        return int(from_charger(site, run) != ""), above, rating_a, number

    return tuple(sorted(fused, key=rank))


def from_charger(site: Site, run: Run) -> str:
    """The charger at an end of a run, empty when there is none."""
    return next((end.part for end in (run.start, run.end) if isinstance(site.parts.get(end.part), Charger)), "")


def devices_in_order(feeding: Feeding, fused: tuple[int, ...]) -> tuple[Device, ...]:
    """Devices as their circuits come on; those that nothing feeds are left out."""
    place = {number: k for k, number in enumerate(fused)}

    def rank(device: Device) -> tuple[int, str]:
        number = feeding.supply_run(device.name)
        chain = () if number is None else (number, *feeding.chains[number])
        return max((place[n] for n in chain if n in place), default=-1), device.name

    fed = [p for p in feeding.circuit.site.parts.values() if isinstance(p, Device) and feeding.supply_run(p.name)]
    return tuple(sorted(fed, key=rank))


def behind(feeding: Feeding, number: int) -> Iterator[str]:
    """Parts that come alive when a run is closed, all other fuses behind it still out."""
    site = feeding.circuit.site
    points = [feeding.ways[number].far]
    seen = set(points)
    while points:
        point = points.pop(0)
        name = point.removesuffix(" in").removesuffix(" out") if point not in site.parts else point
        if name in site.parts:
            yield name
        for way in feeding.ways.values():
            if way.near == point and not is_fused(site, way.run) and way.far not in seen:
                seen.add(way.far)
                points.append(way.far)
        if point.endswith(" in") and isinstance(site.parts.get(name), TWO_SIDED):
            out = f"{name} out"
            if out not in seen:
                seen.add(out)
                points.append(out)
