"""Which states may coincide: the worst load that the schedules allow, and the mean of a day."""

import math
from collections.abc import Iterable, Mapping

from ..site.kinds import Device
from ..site.pieces import Draw, DutyEntry
from ..site.record import record

OBLIQUITY_DEG = 23.44  # tilt of the earth's axis, any almanac


@record(frozen=True)
class Coincidence:
    """A stretch of the day and the state each device may be in at worst."""

    when: str
    states: Mapping[str, str]


def day_length_h(latitude_deg: float, declination_deg: float) -> float:
    """Length of the day from sunrise to sunset, flat horizon, no refraction. [h]

    cos w = -tan(latitude)·tan(declination), day = 2·w/15°.
    """
    cosine = -math.tan(math.radians(latitude_deg)) * math.tan(math.radians(declination_deg))
    return 2 * math.degrees(math.acos(max(-1.0, min(1.0, cosine)))) / 15.0


def lasting(device: Device) -> list[Draw]:
    """The states that can last (no start-ups), in the order written."""
    return [draw for draw in device.draws if draw.seconds is None]


def starting(device: Device) -> list[Draw]:
    """The brief states: start-up and other peaks."""
    return [draw for draw in device.draws if draw.seconds is not None]


def coincidences(devices: Iterable[Device], latitude_deg: float | None) -> list[Coincidence]:
    """The stretches of a day with the largest draws that may coincide, dominated ones left out."""
    fed = [device for device in devices if lasting(device)]
    edges = {0.0, 24.0}
    for device in fed:
        for entry in device.duty:
            if entry.kind in ("clock", "daily hours", "random"):
                edges |= {entry.start_h % 24, entry.end_h % 24}
            elif entry.kind in ("dark", "light"):
                edges |= set(_possible_window(entry.kind, latitude_deg))
    hours = sorted(edges)
    found: list[tuple[Coincidence, list[float]]] = []
    for start, end in zip(hours, hours[1:], strict=False):
        worst = {device.name: _heaviest(device, (start + end) / 2, latitude_deg) for device in fed}
        powers = [draw.power_w.high for draw in worst.values()]
        if any(all(a >= b for a, b in zip(other, powers, strict=True)) for _, other in found):
            continue
        found = [(c, p) for c, p in found if not all(a <= b for a, b in zip(p, powers, strict=True))]
        when = f"{_clock(start)}-{_clock(end)}"
        found.append((Coincidence(when, {name: draw.state for name, draw in worst.items()}), powers))
    return [coincidence for coincidence, _ in found] or [Coincidence("any time", {})]


def lightest(device: Device) -> Draw:
    """The lasting state that takes least."""
    return min(lasting(device), key=lambda draw: draw.power_w.low)


def may_be_off(device: Device) -> bool:
    """True when the schedule names every state and still leaves time: then it draws nothing in between."""
    scheduled = {entry.state for entry in device.duty}
    covers = any(entry.kind == "rest" for entry in device.duty)
    return bool(device.duty) and not covers and all(draw.state in scheduled for draw in lasting(device))


def mean_hours(device: Device) -> dict[str, float]:
    """Hours of a mean day in each lasting state; a device without duty is in its heaviest state all day."""
    states = lasting(device)
    if not states:
        return {}
    heaviest = max(states, key=lambda draw: draw.power_w.nominal)
    if not device.duty:
        return {heaviest.state: 24.0}
    hours = {draw.state: 0.0 for draw in states}
    for entry in device.duty:
        hours[entry.state] = hours.get(entry.state, 0.0) + _hours(entry) * _of_the_year(entry)
    if not may_be_off(device):
        rest = next((entry.state for entry in device.duty if entry.kind == "rest"), lightest(device).state)
        hours[rest] = hours.get(rest, 0.0) + max(0.0, 24.0 - sum(hours.values()))
    return hours


def _hours(entry: DutyEntry) -> float:
    """Hours that an entry takes of a day on which it holds; the dark of a mean day, the middle of what air asks for."""
    if entry.kind == "clock":
        return (entry.end_h - entry.start_h) % 24 or 24.0
    if entry.kind in ("dark", "light"):
        return 12.0
    if entry.kind == "air":
        return 24.0 * sum(share for _, share in entry.points) / len(entry.points)
    return entry.hours if entry.kind in ("daily hours", "random") else 0.0


def _of_the_year(entry: DutyEntry) -> float:
    """Share of the days on which an entry holds."""
    return (len(entry.days) / 7 if entry.days else 1.0) * (len(entry.months) / 12 if entry.months else 1.0)


def _heaviest(device: Device, hour: float, latitude_deg: float | None) -> Draw:
    possible = _possible(device, hour, latitude_deg)
    return max(possible, key=lambda draw: draw.power_w.high)


def _possible(device: Device, hour: float, latitude_deg: float | None) -> list[Draw]:
    """States the device may be in at an hour of the day, any day of the year."""
    states = lasting(device)
    if not device.duty:
        return states
    allowed: set[str] = set()
    certain = False
    for entry in device.duty:
        if entry.kind == "clock" and _inside(hour, entry):
            allowed.add(entry.state)
            certain = certain or not (entry.days or entry.months)
        elif entry.kind in ("dark", "light"):
            start, end = _possible_window(entry.kind, latitude_deg)
            if _inside(hour, DutyEntry(entry.state, "clock", start, end)):
                allowed.add(entry.state)
        elif entry.kind in ("daily hours", "random") and _inside(hour, entry) or entry.kind in ("air", "any"):
            allowed.add(entry.state)
    if not certain:
        allowed |= {entry.state for entry in device.duty if entry.kind == "rest"}
        scheduled = {entry.state for entry in device.duty}
        if not any(entry.kind == "rest" for entry in device.duty):
            allowed |= {draw.state for draw in states if draw.state not in scheduled}
    return [draw for draw in states if draw.state in allowed] or states


def _inside(hour: float, entry: DutyEntry) -> bool:
    start, end = entry.start_h % 24, entry.end_h % 24
    if start == end:
        return True
    return start <= hour < end if start < end else hour >= start or hour < end


def _possible_window(kind: str, latitude_deg: float | None) -> tuple[float, float]:
    """Clock hours at which it may be dark (or light) at some time of the year, twilight left out."""
    shortest = day_length_h(abs(latitude_deg if latitude_deg is not None else 60.0), -OBLIQUITY_DEG)
    if kind == "dark":
        return 12.0 + shortest / 2, 12.0 - shortest / 2
    longest = 24.0 - shortest
    return 12.0 - longest / 2, (12.0 + longest / 2) % 24 if longest < 24 else 12.0 - longest / 2


def _clock(hour: float) -> str:
    minutes = round(hour * 60)
    return f"{minutes // 60:02d}:{minutes % 60:02d}"
