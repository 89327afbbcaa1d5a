"""Which state every device is in, hour by hour, on the hottest and on the coldest day that the schedules allow."""

from math import ceil

from ...site.kinds import Charger, Device
from ...site.model import Site
from ...site.pieces import Draw, DutyEntry
from ..cases import Case
from ..duty import OBLIQUITY_DEG, day_length_h, lasting, lightest, may_be_off

HOTTEST_H = 15.5  # air is hottest then on a clear day; common practice
HOURS = range(24)
SUN_H = range(9, 16)  # hours in which a sun charger works
FULL_SUN_H = range(10, 14)  # hours in which it may give all it can


def hour_cases(site: Site, day: str, fans: frozenset[str] = frozenset()) -> tuple[Case, ...]:
    """One case for each hour of the "hot" or "cold" day; hours that are alike share one.

    On the hot day every device does what makes most heat, hours a day fall around the hottest hour; on the cold
    day the least. `fans` are devices whose running is reckoned with the air.
    """
    devices = [part for part in site.parts.values() if isinstance(part, Device) and lasting(part)]
    has_sun = any(isinstance(part, Charger) and part.supply == "sun" for part in site.parts.values())
    known: dict[tuple[object, ...], Case] = {}
    found = []
    for hour in HOURS:
        states = {device.name: state for device in devices if device.name not in fans
                  and (state := state_at(device, hour, day, site.about.latitude))}  # fmt: skip
        battery = "nominal"
        if day == "hot" and has_sun and hour in SUN_H:
            battery = "bulk" if hour in FULL_SUN_H else "charging"
        same = (battery, *sorted(states.items()))
        if same not in known:
            kind, temperature = ("busy", "hot") if day == "hot" else ("idle", "cold")
            known[same] = Case(f"{day}-day-{hour:02d}", battery, temperature, kind, states)
        found.append(known[same])
    return tuple(found)


def state_at(device: Device, hour: int, day: str, latitude_deg: float | None) -> str:
    """The state that makes most (or on the cold day least) heat of those it may be in; empty when it is off."""
    if not device.duty:
        return _extreme(lasting(device), day).state
    middle = hour + 0.5
    allowed: set[str] = set()
    for entry in device.duty:
        sure, maybe = _holds(entry, middle, day, latitude_deg)
        if sure:
            return entry.state
        if maybe:
            allowed.add(entry.state)
    rest = next((entry.state for entry in device.duty if entry.kind == "rest"), "")
    if day == "cold" or not allowed:
        if rest or (allowed and day != "cold"):
            return rest
        return "" if may_be_off(device) else lightest(device).state
    return _extreme([draw for draw in lasting(device) if draw.state in allowed], day).state


def _extreme(draws: list[Draw], day: str) -> Draw:
    if day == "hot":
        return max(draws, key=lambda draw: draw.power_w.high)
    return min(draws, key=lambda draw: draw.power_w.low)


def _holds(entry: DutyEntry, hour: float, day: str, latitude_deg: float | None) -> tuple[bool, bool]:
    """Whether an entry surely holds at an hour, and whether it may."""
    if entry.kind == "clock":
        holds = _between(hour, entry.start_h, entry.end_h)
        some_days = bool(entry.days or entry.months)
        return holds and not some_days, holds and some_days
    if entry.kind in ("dark", "light"):
        half = day_length_h(latitude_deg or 0.0, _declination(day, latitude_deg)) / 2
        return (abs(hour - 12.0) < half) == (entry.kind == "light"), False
    if entry.kind in ("daily hours", "random"):
        return day == "hot" and int(hour) in _nearest(_middle_h(entry), entry.hours), False
    return False, entry.kind in ("any", "air")


def _nearest(middle_h: float, hours: float) -> list[int]:
    """So many hours of the clock, begun ones counted whole, around a time."""
    return sorted(HOURS, key=lambda hour: abs(_wrapped(hour + 0.5 - middle_h)))[: ceil(hours)]


def _middle_h(entry: DutyEntry) -> float:
    """The middle of hours a day that lie as near to the hottest hour as their window allows."""
    length = (entry.end_h - entry.start_h) % 24 or 24.0
    if length == 24.0:
        return HOTTEST_H
    early, late = entry.start_h + entry.hours / 2, entry.start_h + length - entry.hours / 2
    nearest = min((HOTTEST_H - 24.0, HOTTEST_H, HOTTEST_H + 24.0), key=lambda h: abs(h - (early + late) / 2))
    return min(max(nearest, early), late)


def _declination(day: str, latitude_deg: float | None) -> float:
    """Of the sun in the hottest or coldest part of the year, in the hemisphere of the place. [°]"""
    north = (latitude_deg or 0.0) >= 0
    return OBLIQUITY_DEG if (day == "hot") == north else -OBLIQUITY_DEG


def _wrapped(hours: float) -> float:
    return (hours + 12.0) % 24.0 - 12.0


def _between(hour: float, start_h: float, end_h: float) -> bool:
    start, end = start_h % 24, end_h % 24
    if start == end:
        return True
    return start <= hour < end if start < end else hour >= start or hour < end
