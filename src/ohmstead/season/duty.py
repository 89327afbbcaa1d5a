"""The states of each device hour by hour, as shares of the hour."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from ..network.duty import lasting, lightest, may_be_off
from ..site.kinds import Device
from ..site.model import Site
from ..site.pieces import DutyEntry
from ..sun.hours import FloatArray, Hours
from .clock import dark_share, wall_h, window_share

OFF = ""  # draws nothing


@dataclass(frozen=True, slots=True)
class Habit:
    """One device: share of each hour in each state, shape (n_hour,), summing to 1. OFF stands for no draw."""

    name: str
    shares: Mapping[str, FloatArray]


def habits(site: Site, hours: Hours) -> tuple[tuple[Habit, ...], tuple[str, ...]]:
    """Every device that draws, and what was taken for granted."""
    devices = [part for part in site.parts.values() if isinstance(part, Device) and lasting(part)]
    wall, note = wall_h(site, hours)
    timed = any(entry.kind == "clock" for device in devices for entry in device.duty)
    dark = dark_share(hours)
    return tuple(_habit(device, wall, dark) for device in devices), _notes(devices, note if timed else "")


def _notes(devices: list[Device], zone: str) -> tuple[str, ...]:
    notes = [zone] if zone else []
    always = [device.name for device in devices if not device.duty and len(lasting(device)) > 1]
    if always:
        notes.append(f"no duty stated, so taken in its heaviest state day and night: {', '.join(always)}")
    rare = [device.name for device in devices if any(entry.kind == "any" for entry in device.duty)]
    if rare:
        notes.append(f"used now and then, so nothing of it is counted: {', '.join(rare)}")
    spread = [device.name for device in devices if any(entry.kind == "daily hours" for entry in device.duty)]
    if spread:
        notes.append(f"hours a day are spread evenly over day and night: {', '.join(spread)}")
    return tuple(notes)


def _share(entry: DutyEntry, wall: FloatArray, dark: FloatArray) -> FloatArray:
    """Share of each hour that one entry of a duty asks for."""
    if entry.kind == "clock":
        return window_share(wall, entry.start_h, entry.end_h)
    if entry.kind == "daily hours":
        return np.full(wall.shape, entry.hours / 24.0)
    return dark if entry.kind == "dark" else 1.0 - dark


def _habit(device: Device, wall: FloatArray, dark: FloatArray) -> Habit:
    """Windows of the clock stand first, then dark and light, then hours a day; what is left rests."""
    states = lasting(device)
    nothing, whole = np.zeros(wall.shape), np.ones(wall.shape)
    if not device.duty:
        heaviest = max(states, key=lambda draw: draw.power_w.nominal)
        return Habit(device.name, {heaviest.state: whole})
    shares: dict[str, FloatArray] = {}
    left = whole.copy()
    for kinds in (("clock",), ("dark", "light"), ("daily hours",)):
        wanted: dict[str, FloatArray] = {}
        for entry in (entry for entry in device.duty if entry.kind in kinds):
            wanted[entry.state] = wanted.get(entry.state, nothing) + _share(entry, wall, dark)
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
    return Habit(device.name, {state: share for state, share in named.items() if bool(share.any())})
