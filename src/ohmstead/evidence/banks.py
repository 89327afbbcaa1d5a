"""Batteries in parallel as one bank: what cuts them off, what charges them, and what draws on past it."""

from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache

from ..network.battery import cells_of
from ..parts.cell import chemistry
from ..site.kinds import Charger
from ..site.pieces import Endpoint
from ..site.record import record
from .views import BatteryView, Carrier, DisconnectView, Evidence, RunView

Links = dict[str, list[str]]


@record(frozen=True)
class Bank:
    """Batteries that wire alone joins, and what hangs on them.

    `draws` names every part that takes current straight from the bank; `passing` those of them that still do
    when all its disconnects are open; `behind` what each of them feeds, itself included.
    """

    batteries: tuple[BatteryView, ...]
    disconnects: tuple[DisconnectView, ...]
    chargers: tuple[Carrier[Charger], ...]
    draws: tuple[str, ...]
    passing: tuple[str, ...]
    behind: Mapping[str, tuple[str, ...]]
    charging: tuple[str, ...] = ()  # chargers that still reach it when all its disconnects are open

    @property
    def name(self) -> str:
        """The names of its batteries."""
        return listed(battery.name for battery in self.batteries)

    @property
    def has_board(self) -> bool:
        """True when every battery has protection of its own that ends a discharge."""
        return all(stops_itself(view) for view in self.batteries)

    @property
    def energy_wh(self) -> float:
        """What it holds when full. [Wh]"""
        return sum(view.battery.capacity_ah * view.nominal_v for view in self.batteries)


def stops_itself(view: BatteryView) -> bool:
    """True when the battery's own protection ends a discharge: it states a cut-off or a discharge limit."""
    return view.battery.cutoff_v is not None or view.battery.limits.discharge_a is not None


def listed(names: Iterable[str]) -> str:
    """Names in words: "a", "a and b", "a, b and c"."""
    found = list(dict.fromkeys(names))
    return found[0] if len(found) == 1 else ", ".join(found[:-1]) + " and " + found[-1] if found else ""


@lru_cache(maxsize=4)
def banks(evidence: Evidence) -> tuple[Bank, ...]:
    """Every bank, in the order of the file."""
    return tuple(_banks(evidence))


def _banks(evidence: Evidence) -> Iterator[Bank]:
    closed = [view.name for view in evidence.switches if view.part.set_to == "closed"]
    cutting = [view.name for view in evidence.disconnects]
    seen: set[str] = set()
    for battery in evidence.batteries:
        if battery.name in seen:
            continue
        positive, negative = _wires(evidence, battery.name, [*closed, *cutting])
        reached, either = positive & negative, positive | negative
        members = tuple(view for view in evidence.batteries if view.name in reached)
        seen |= {view.name for view in members}
        names = {view.name for view in members}
        others = {view.name for view in evidence.batteries} - names
        opening = tuple(
            view for view in evidence.disconnects if _in(view.name) in either and view.part.senses not in others
        )
        still = [name for name in cutting if name not in {view.name for view in opening}]
        passing: set[str] = set()
        joined: set[str] = set()
        for view in members:
            positive, negative = _wires(evidence, view.name, [*closed, *still])
            joined |= positive & negative
            passing |= set(_drawing(evidence, positive & negative))
        draws = _drawing(evidence, reached)
        yield Bank(
            members,
            opening,
            tuple(view for view in evidence.chargers if view.name in reached),
            draws,
            tuple(name for name in draws if name in passing),
            {name: _behind(evidence, name) for name in draws},
            tuple(view.name for view in evidence.chargers if view.name in joined),
        )


def _in(name: str) -> str:
    return f"{name} in"


def _wires(evidence: Evidence, start: str, bridged: Iterable[str]) -> tuple[set[str], set[str]]:
    """Points that the positive and the negative wire join to a battery, through the named parts only.

    A switch breaks the positive wire; the negative one goes on through it, unless only negative runs meet it.
    """
    names = list(bridged)
    touched = {end.part for view in evidence.runs if view.run.wires != "negative" for end in _ends(view)}
    cutters = {view.name for view in evidence.switches} | {view.name for view in evidence.disconnects}
    positive = _spread(_links(evidence, "negative", names), start)
    return positive, _spread(_links(evidence, "positive", {*names, *(cutters & touched)}), start)


def _ends(view: RunView) -> tuple[Endpoint, Endpoint]:
    return view.run.start, view.run.end


def _links(evidence: Evidence, without: str, bridged: Iterable[str]) -> Links:
    """What one wire joins: all runs but those that hold only the other one."""
    two_sided = {view.name for view in evidence.switches} | {view.name for view in evidence.disconnects}
    two_sided |= _makers(evidence)
    links: Links = {}
    for view in evidence.runs:
        if view.run.wires == without:
            continue
        start, end = view.run.start.part, view.run.end.part
        _join(links, f"{start} out" if start in two_sided else start, _in(end) if end in two_sided else end)
    for name in bridged:
        _join(links, _in(name), f"{name} out")
    return links


def _makers(evidence: Evidence) -> set[str]:
    """Converters and Ethernet sources."""
    return {view.name for view in evidence.converters} | {view.name for view in evidence.ethernet}


def _join(links: Links, one: str, other: str) -> None:
    links.setdefault(one, []).append(other)
    links.setdefault(other, []).append(one)


def _spread(links: Links, start: str) -> set[str]:
    seen, queue = {start}, [start]
    while queue:
        for other in links.get(queue.pop(), ()):
            if other not in seen:
                seen.add(other)
                queue.append(other)
    return seen


def _drawing(evidence: Evidence, points: set[str]) -> tuple[str, ...]:
    """Devices, converters and Ethernet sources that take current at these points."""
    found = [view.name for view in evidence.devices if view.name in points]
    found += [view.name for view in evidence.converters if _in(view.name) in points]
    found += [view.name for view in evidence.ethernet if _in(view.name) in points]
    return tuple(dict.fromkeys(found))


def _behind(evidence: Evidence, name: str) -> tuple[str, ...]:
    """A part and everything that takes its power through it."""
    makers = _makers(evidence)
    bridged = {view.name for view in evidence.switches} | {view.name for view in evidence.disconnects}
    links = _links(evidence, "negative", bridged)
    found, queue = {name: None}, [name]
    while queue:
        maker = queue.pop()
        if maker not in makers:
            continue
        for other in _drawing(evidence, _spread(links, f"{maker} out")):
            if other not in found:
                found[other] = None
                queue.append(other)
    return tuple(found)


def daily_wh(evidence: Evidence, bank: Bank, names: Iterable[str]) -> float:
    """What parts and all that hangs on them take from the bank on a mean day. [Wh]"""
    taking = {part for name in names for part in bank.behind[name]}
    return sum(evidence.day.by_part.get(part, 0.0) for part in taking)


def idle_wh(evidence: Evidence, bank: Bank, names: Iterable[str]) -> float:
    """What parts and all that hangs on them take in a day on which nothing works. [Wh]"""
    taking = {part for name in names for part in bank.behind[name]}
    devices = {view.name: 24 * view.idle_w for view in evidence.devices}
    return sum(devices.get(part, evidence.day.idle_by_part.get(part, 0.0)) for part in taking)


def ends_by_itself(evidence: Evidence, name: str, least_v: float) -> bool:
    """True when a part stops drawing at or above a voltage: a stated cut-off, or a converter's lockout."""
    for view in evidence.converters:
        if view.name == name:
            return view.converter.lockout is not None and view.converter.lockout.off_v >= least_v
    device = next((view.device for view in evidence.devices if view.name == name), None)
    return device is not None and device.cutoff_v is not None and device.cutoff_v >= least_v


def empty_v(view: BatteryView) -> float:
    """The lowest voltage a battery may be drawn to: as stated, else that of its cells. [V]"""
    battery = view.battery
    if battery.cutoff_v is not None:
        return battery.cutoff_v
    if battery.open_circuit is not None:
        return battery.open_circuit.cutoff_v
    return cells_of(battery) * chemistry(battery.chemistry).empty_v
