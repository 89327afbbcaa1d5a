"""The states of each device hour by hour, as shares of the hour."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from zlib import crc32

import numpy as np

from ..network.duty import lasting, lightest, may_be_off
from ..site.kinds import Device
from ..site.model import Site
from ..site.pieces import DutyEntry
from ..sun.hours import FloatArray, Hours
from .clock import Wall, dark_share, wall_of, window_share
from .zone import zone_air_c

OFF = ""  # draws nothing
LOOSE = ("air", "random")  # kinds whose shares jump about from hour to hour


@dataclass(frozen=True, slots=True)
class Habit:
    """One device: share of each hour in each state, shape (n_hour,), summing to 1. OFF stands for no draw.

    manner: "set" when it keeps to times, "loose" when it follows the air or chance.
    """

    name: str
    shares: Mapping[str, FloatArray]
    manner: str = "set"


@dataclass(frozen=True, slots=True)
class Setting:
    """What an hour is like: clock and calendar, share of it in the dark, and the air where a device stands."""

    wall: Wall
    dark: FloatArray
    air_c: Callable[[str], FloatArray]
    seed: int


def habits(site: Site, hours: Hours) -> tuple[tuple[Habit, ...], tuple[str, ...]]:
    """Every device that draws, and what was taken for granted."""
    devices = [part for part in site.parts.values() if isinstance(part, Device) and lasting(part)]
    wall, note = wall_of(site, hours)
    timed = any(_is_timed(entry) for device in devices for entry in device.duty)
    seed = site.goal.seed if site.goal is not None else 1
    setting = Setting(wall, dark_share(hours), lambda zone: zone_air_c(site, zone, hours)[0], seed)
    return tuple(_habit(device, setting) for device in devices), _notes(devices, note if timed else "")


def _is_timed(entry: DutyEntry) -> bool:
    return entry.kind == "clock" or bool(entry.days) or (entry.start_h, entry.end_h) != (0.0, 24.0)


def _notes(devices: list[Device], zone: str) -> tuple[str, ...]:
    notes = [zone] if zone else []
    always = [device.name for device in devices if not device.duty and len(lasting(device)) > 1]
    if always:
        notes.append(f"no duty stated, so taken in its heaviest state day and night: {', '.join(always)}")
    told = {
        "any": "used now and then, so nothing of it is counted",
        "daily hours": "hours a day are spread evenly over day and night, or over their window",
        "random": "hours a day are drawn by chance",
        "air": "runs as the air of its zone asks",
    }
    for kind, words in told.items():
        names = [device.name for device in devices if any(entry.kind == kind for entry in device.duty)]
        if names:
            notes.append(f"{words}: {', '.join(names)}")
    return tuple(notes)


def _share(entry: DutyEntry, device: Device, setting: Setting) -> FloatArray:
    """Share of each hour that one entry of a duty asks for, on the days on which it holds."""
    wall = setting.wall
    if entry.kind == "clock":
        return _window(entry, wall)
    held = wall.holds(entry.days, entry.months)
    if entry.kind in ("dark", "light"):
        return held * (setting.dark if entry.kind == "dark" else 1.0 - setting.dark)
    if entry.kind == "air":
        points = np.array(entry.points)
        found: FloatArray = np.interp(setting.air_c(device.zone), points[:, 0], points[:, 1])
        return found
    length_h = (entry.end_h - entry.start_h) % 24.0 or 24.0
    if entry.kind == "daily hours":
        return _window(entry, wall) * entry.hours / length_h
    return _drawn(entry, setting, device.name, length_h)


def _window(entry: DutyEntry, wall: Wall) -> FloatArray:
    """Share of each hour in a window of the clock; what of it lies after midnight belongs to the day before."""
    if not entry.days and not entry.months:
        return window_share(wall.hour, entry.start_h, entry.end_h)
    start_h, end_h = entry.start_h % 24.0, entry.end_h % 24.0 or 24.0
    if start_h < end_h:
        return window_share(wall.hour, start_h, end_h) * wall.holds(entry.days, entry.months)
    evening = window_share(wall.hour, start_h, 24.0) * wall.holds(entry.days, entry.months)
    return evening + window_share(wall.hour, 0.0, end_h) * wall.yesterday().holds(entry.days, entry.months)


def _drawn(entry: DutyEntry, setting: Setting, name: str, length_h: float) -> FloatArray:
    """Uses by chance: in each hour of the window one of an hour, or of the hours a day where those are less."""
    use_h = min(1.0, entry.hours)
    dice = np.random.default_rng([setting.seed, crc32(f"{name}/{entry.state}".encode())])
    hit = dice.random(setting.dark.size) < entry.hours / use_h / length_h
    return _window(entry, setting.wall) * np.where(hit, use_h, 0.0)


def _habit(device: Device, setting: Setting) -> Habit:
    """Windows of the clock stand first, then dark and light, then the air, chance and hours a day; the rest rests."""
    states = lasting(device)
    nothing, whole = np.zeros(setting.dark.shape), np.ones(setting.dark.shape)
    if not device.duty:
        heaviest = max(states, key=lambda draw: draw.power_w.nominal)
        return Habit(device.name, {heaviest.state: whole})
    shares: dict[str, FloatArray] = {}
    left = whole.copy()
    for kinds in (("clock",), ("dark", "light"), ("air",), ("random",), ("daily hours",)):
        wanted: dict[str, FloatArray] = {}
        for entry in (entry for entry in device.duty if entry.kind in kinds):
            wanted[entry.state] = wanted.get(entry.state, nothing) + _share(entry, device, setting)
        total = sum(wanted.values(), nothing)
        fits = np.minimum(1.0, left / np.maximum(total, 1e-12))
        for state, share in wanted.items():
            shares[state] = shares.get(state, nothing) + share * fits
        left = np.maximum(0.0, left - total * fits)
    rest = OFF
    if not may_be_off(device):
        rest = next((entry.state for entry in device.duty if entry.kind == "rest"), lightest(device).state)
    shares[rest] = shares.get(rest, nothing) + left
    named = {(states[0].state if state == "" and len(states) == 1 and state != rest else state): share
             for state, share in shares.items()}  # fmt: skip
    manner = "loose" if any(entry.kind in LOOSE for entry in device.duty) else "set"
    return Habit(device.name, {state: share for state, share in named.items() if bool(share.any())}, manner)
