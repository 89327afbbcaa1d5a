"""Who feeds whom: the chain from a part back to the battery, and what lies behind a run."""

from collections.abc import Mapping

from ..network.compile import Circuit
from ..network.points import TWO_SIDED, Feeder, Way
from ..site.kinds import Charger, Converter, Device, EthernetSource
from ..site.model import Site
from ..site.record import record


@record(frozen=True)
class Chain:
    """Lookups over one circuit."""

    circuit: Circuit
    ways: Mapping[int, Way]
    name_of: Mapping[int, str]
    supply: Mapping[str, int]  # point -> the run that brings power to it

    @property
    def site(self) -> Site:
        """The site."""
        return self.circuit.site

    def point_of(self, part: str) -> str:
        """Where a part takes its power: its only point, or its input."""
        return f"{part} in" if isinstance(self.site.parts.get(part), TWO_SIDED) else part

    def feeder_of(self, part: str) -> Feeder:
        """What feeds a part first."""
        return self.circuit.map.feeder[self.point_of(part)]

    def supply_run(self, point: str) -> int | None:
        """The run that brings power to a point: the last one on the way of least resistance."""
        return self.supply.get(point)

    def supplied(self) -> dict[str, str]:
        """Every part that a run brings power to, and that run's name."""
        found = {name: self.supply_run(self.point_of(name)) for name in self.site.parts}
        return {name: self.name_of[number] for name, number in found.items() if number is not None}

    def path_to(self, part: str) -> tuple[int, ...]:
        """Runs from the feeding source to a part, source first."""
        last = self.supply_run(self.point_of(part))
        if last is None:
            return ()
        return (*reversed(self.circuit.map.upstream[last]), last)

    def sources_above(self, part: str) -> tuple[str, ...]:
        """Converters and Ethernet sources between a part and the battery, nearest first."""
        found: list[str] = []
        feeder = self.feeder_of(part)
        while feeder.kind in ("converter", "ethernet power source") and feeder.name not in found:
            found.append(feeder.name)
            feeder = self.feeder_of(feeder.name)
        return tuple(found)

    def behind(self, number: int) -> tuple[str, ...]:
        """Devices fed through a run, across converters too."""
        return tuple(name for name in self.devices() if number in self.whole_path(name))

    def whole_path(self, part: str) -> tuple[int, ...]:
        """All runs between the battery and a part, across converters."""
        runs = list(self.path_to(part))
        for source in self.sources_above(part):
            runs = [*self.path_to(source), *runs]
        return tuple(runs)

    def devices(self) -> list[str]:
        """Names of all devices."""
        return [name for name, part in self.site.parts.items() if isinstance(part, Device)]

    def fed_by(self, source: str) -> tuple[str, ...]:
        """Devices that a converter or Ethernet source feeds, across further converters."""
        return tuple(name for name in self.devices() if source in self.sources_above(name))

    def supply_v(self, feeder: Feeder, system_v: float) -> float:
        """Nominal voltage of a feeder. [V]"""
        passed: set[str] = set()
        part = self.site.parts.get(feeder.name)
        while isinstance(part, EthernetSource) and part.output_v is None and part.name not in passed:
            passed.add(part.name)
            part = self.site.parts.get(self.feeder_of(part.name).name)
        if isinstance(part, Converter | EthernetSource) and part.output_v is not None:
            return part.output_v.nominal
        return part.voltage_v if isinstance(part, Charger) else system_v


def chain_of(circuit: Circuit) -> Chain:
    """The lookups of a circuit."""
    ways = {way.run.number: way for way in circuit.map.ways}
    return Chain(circuit, ways, {number: way.run.name for number, way in ways.items()}, circuit.map.supply)
