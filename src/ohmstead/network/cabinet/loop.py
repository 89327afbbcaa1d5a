"""The loop of network and heat: what the parts give off warms the box, and the box warms the copper.

The heat hardly depends on the air (copper gains 0.4 % of resistance a kelvin), so the loop closes in two or three
rounds.
"""

from collections.abc import Mapping
from dataclasses import replace

from ...heat.box import FixedSpeed
from ...heat.model import day
from ...quantity.span import Span
from ...site.kinds import Device, Part
from ...site.model import Site
from ...site.pieces import Air, DutyEntry
from ..compile import Circuit, compile_site
from ..corner import corner_of, figures
from ..duty import lasting
from ..elements import Corner, OperatingPoint
from ..solve import solve_all
from .around import around_of
from .climate import Climate, Day
from .described import box_of
from .hours import hour_cases
from .inside import Inside, inside_of
from .released import released_w

MOST_ROUNDS = 6
CLOSE_ENOUGH_K = 0.05
DAYS = ("hot", "cold")
LEAST_H = 0.01  # a duty of no hours would read as none


def settled(site: Site) -> tuple[Site, dict[str, Climate]]:
    """The site with the air of its cabinets worked out, and what is known of each of them."""
    zones = _by_depth(site)
    found: dict[str, Climate] = {}
    off_k, rounds = float("inf"), 0
    while off_k > CLOSE_ENOUGH_K and rounds < MOST_ROUNDS:
        rounds += 1
        circuit = compile_site(site)
        off_k = _would_move_k(site, circuit, found) if found else float("inf")
        if off_k < CLOSE_ENOUGH_K:
            break
        points = {name: _points(circuit, name) for name in DAYS}
        off_k = 0.0
        for zone in zones:
            climate = _climate(site, zone, circuit, points)
            off_k = max(off_k, _moved_k(found.get(zone), climate))
            found[zone] = climate
            site = with_air(site, climate)
    return site, {zone: replace(climate, rounds=rounds, off_k=off_k) for zone, climate in found.items()}


def _by_depth(site: Site) -> list[str]:
    """Cabinets, those that stand in another cabinet after it."""
    waiting, order = list(site.cabinets), []
    while waiting:
        ready = [zone for zone in waiting if site.zones[zone].inside not in waiting] or waiting
        order += ready
        waiting = [zone for zone in waiting if zone not in ready]
    return order


Solved = tuple[tuple[int, ...], tuple[Corner, ...], tuple[OperatingPoint, ...]]


def fans_of(site: Site) -> frozenset[str]:
    """Devices that are the fan of a cabinet and run by its air."""
    return frozenset(
        cabinet.fan.part for cabinet in site.cabinets.values() if cabinet.fan is not None and cabinet.fan.part
    )


def _points(circuit: Circuit, name: str) -> Solved:
    """Hours of a day as indices into the corners and operating points that differ."""
    known = figures(circuit)
    hours = hour_cases(circuit.site, name, fans_of(circuit.site))
    apart = list({case.name: case for case in hours}.values())
    corners = tuple(corner_of(known, case, {}) for case in apart)
    names = [case.name for case in apart]
    return tuple(names.index(case.name) for case in hours), corners, solve_all(circuit.network, corners)


def _climate(site: Site, zone: str, circuit: Circuit, points: Mapping[str, Solved]) -> Climate:
    """The climate of a cabinet for the heat at these operating points."""
    inside = inside_of(site, zone, dict(circuit.paths))
    heats = {name: by_hour(circuit, inside, points[name], fans_of(site)) for name in DAYS}
    arounds = {name: around_of(site, zone, name) for name in DAYS}
    box = box_of(site, zone, inside)
    days = {name: Day(arounds[name], heats[name], day(box, arounds[name], heats[name])) for name in DAYS}
    hot, cold = days["hot"].trace, days["cold"].trace
    box_m = box.height_m

    def span(height_m: float) -> Span:
        low = min(cold.coldest(height_m)[1], hot.coldest(height_m)[1])
        high = max(hot.hottest(height_m)[1], cold.hottest(height_m)[1])
        return Span(low, (low + high) / 2, high)

    ends = [span(0.0), span(box_m)]
    low, high = min(end.low for end in ends), max(end.high for end in ends)
    local = {name: span(height_m) for name, height_m in inside.own_m.items()}
    whole = Span(low, (low + high) / 2, high)
    return Climate(zone, site.cabinets[zone], box, inside, days["hot"], days["cold"], whole, local, 0, 0.0)


def _would_move_k(site: Site, circuit: Circuit, found: Mapping[str, Climate]) -> float:
    """By how much another round would move the air. [K]

    The hour with most heat tells: there copper has most to gain. What the box loses for each kelvin is its heat over
    its rise. Infinite when the air around a box has moved, as that of a box within a box does.
    """
    known, moved_k = figures(circuit), 0.0
    for name in DAYS:
        cases = hour_cases(site, name, fans_of(site))
        for zone, climate in found.items():
            before = climate.hot if name == "hot" else climate.cold
            if around_of(site, zone, name) != before.around:
                return float("inf")
            total = before.total_w
            hour = total.index(max(total))
            corner = corner_of(known, cases[hour], {})
            (point,) = solve_all(circuit.network, (corner,))
            heat = released_w(circuit, corner, point, climate.inside, fans_of(site))
            rise_k = max(roof - air for roof, air in zip(before.trace.upper_c, before.around.air_c, strict=True))
            moved_k = max(moved_k, abs(sum(heat.values()) - total[hour]) * max(rise_k, 0.0) / max(total[hour], 1e-9))
    return moved_k


def by_hour(circuit: Circuit, inside: Inside, solved: Solved, fans: frozenset[str]) -> dict[str, tuple[float, ...]]:
    """Heat of each gear in each hour. [W]"""
    hours, corners, points = solved
    apart = [released_w(circuit, corner, point, inside, fans) for corner, point in zip(corners, points, strict=True)]
    return {name: tuple(apart[index][name] for index in hours) for name in apart[0]}


def _moved_k(before: Climate | None, after: Climate) -> float:
    if before is None:
        return float("inf")
    pairs = [(before.air, after.air), *((before.local_air[name], span) for name, span in after.local_air.items())]
    return max(max(abs(a.low - b.low), abs(a.high - b.high)) for a, b in pairs)


def with_air(site: Site, climate: Climate) -> Site:
    """The site in which the air of a cabinet is as worked out, and its fan runs as long as its thermostat lets it."""
    zone = replace(site.zones[climate.zone], air=Air(climate.air.low, climate.air.high))
    return replace(
        site,
        parts={**site.parts, **_switched(site, climate)},
        zones={**site.zones, climate.zone: zone},
        local_air={**site.local_air, **climate.local_air},
    )


def _switched(site: Site, climate: Climate) -> dict[str, Part]:
    """The fan with the hours a day that its thermostat lets it run, in the mean of hottest and coldest day."""
    fan = climate.cabinet.fan
    part = site.parts.get(fan.part) if fan is not None else None
    if not isinstance(part, Device) or climate.box.fan is None or isinstance(climate.box.control, FixedSpeed):
        return {}
    hours = (sum(climate.hot.trace.fan_fraction) + sum(climate.cold.trace.fan_fraction)) / 2
    heaviest = max(lasting(part), key=lambda draw: draw.power_w.nominal, default=None)
    if heaviest is None:
        return {}
    return {part.name: replace(part, duty=(DutyEntry(heaviest.state, "daily hours", hours=max(hours, LEAST_H)),))}
