"""What can happen: battery state, charging, temperature and device states, as a list of cases."""

from collections.abc import Mapping
from dataclasses import field

from ..site.kinds import Charger, Device
from ..site.model import Site
from ..site.record import record
from .duty import coincidences, lasting, lightest, may_be_off, starting

BATTERY_WORDS = {
    "full": "battery full",
    "nominal": "battery half full",
    "low": "battery low",
    "charging": "charging, at its highest voltage",
    "bulk": "charging at full current",
    "equalising": "equalising",
}


@record(frozen=True)
class Case:
    """One operating case. `states` names each device's state; devices left out draw nothing.

    kind: "bare" (nothing connected), "idle", "busy", "start-up" (one device starts, the others busy),
    "all start" (power returns and everything starts at once).
    """

    name: str
    battery: str
    temperature: str  # "cold" | "hot"
    kind: str
    states: Mapping[str, str] = field(default_factory=dict)
    starting: str = ""
    when: str = ""

    @property
    def lasts(self) -> bool:
        """True when the case can go on for hours, so that heat and continuous limits apply."""
        return self.kind in ("bare", "idle", "busy")

    @property
    def title(self) -> str:
        """The case in words."""
        load = {
            "bare": "nothing connected",
            "idle": "everything idle",
            "busy": "everything busy",
            "start-up": f"{self.starting} starting, the rest busy",
            "all start": "everything starting at once",
        }[self.kind]
        when = f" ({self.when})" if self.when else ""
        return f"{BATTERY_WORDS[self.battery]}, {self.temperature}, {load}{when}"


def cases_of(site: Site) -> tuple[Case, ...]:
    """Every case worth solving, named; worst coincidences as the schedules allow."""
    devices = [part for part in site.parts.values() if isinstance(part, Device)]
    busy = coincidences(devices, site.about.latitude)
    idle = {device.name: lightest(device).state for device in devices if lasting(device) and not may_be_off(device)}
    found = [Case("nominal-hot-bare", "nominal", "hot", "bare")]
    for battery in ("full", "nominal", "low"):
        for temperature in ("cold", "hot"):
            found.append(Case(f"{battery}-{temperature}-idle", battery, temperature, "idle", idle))
            found += [
                _busy(battery, temperature, number, one.states, one.when if len(busy) > 1 else "")
                for number, one in enumerate(busy, 1)
            ]
    found += _charging(site, idle, busy[0].states)
    found += _starting(devices, busy[0].states)
    return tuple(found)


def _busy(battery: str, temperature: str, number: int, states: Mapping[str, str], when: str) -> Case:
    suffix = "" if number == 1 else f"-{number}"
    return Case(f"{battery}-{temperature}-busy{suffix}", battery, temperature, "busy", states, when=when)


def _charging(site: Site, idle: Mapping[str, str], busy: Mapping[str, str]) -> list[Case]:
    batteries = site.batteries.values()
    chargers = [part for part in site.parts.values() if isinstance(part, Charger)]
    found = []
    if chargers or any(battery.charging_v is not None for battery in batteries):
        for temperature in ("cold", "hot"):
            found.append(Case(f"charging-{temperature}-bare", "charging", temperature, "bare"))
            found.append(Case(f"charging-{temperature}-idle", "charging", temperature, "idle", idle))
            found.append(Case(f"charging-{temperature}-busy", "charging", temperature, "busy", busy))
    if chargers:
        found.append(Case("bulk-hot-idle", "bulk", "hot", "idle", idle))
        found.append(Case("bulk-hot-bare", "bulk", "hot", "bare"))
    equalises = [b.equalising_v for b in batteries] + [c.equalising_v for c in chargers]
    if any(voltage is not None for voltage in equalises):
        found.append(Case("equalising-cold-bare", "equalising", "cold", "bare"))
        found.append(Case("equalising-cold-busy", "equalising", "cold", "busy", busy))
    return found


def _starting(devices: list[Device], busy: Mapping[str, str]) -> list[Case]:
    """Each brief state alone, staggered, with the rest busy; then all of them at once."""
    found = []
    brief = [(device, draw) for device in devices for draw in starting(device)]
    for device, draw in brief:
        states = {**busy, device.name: draw.state}
        slug = device.name.replace(" ", "-")
        for temperature in ("cold", "hot"):
            name = f"low-{temperature}-{draw.state.replace(' ', '-')}-{slug}"
            found.append(Case(name, "low", temperature, "start-up", states, device.name))
    if len({device.name for device, _ in brief}) > 1:
        heaviest: dict[str, str] = {}
        for device, _ in brief:
            heaviest[device.name] = max(starting(device), key=lambda d: d.power_w.high).state
        found.append(Case("low-hot-all-start", "low", "hot", "all start", {**busy, **heaviest}))
    return found
