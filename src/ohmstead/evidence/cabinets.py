"""Cabinets as the rules look at them: the air inside, what it does to parts, the fan as it is, choked and stopped.

Only loaded for a site with a cabinet.
"""

from collections.abc import Iterator, Mapping
from dataclasses import replace

from ..heat import limits as bearing
from ..heat.box import Box, FixedSpeed, Thermostat
from ..heat.model import day, steady
from ..heat.trace import Trace
from ..network.cabinet.climate import Climate
from ..network.operate import Operation
from ..site.kinds import Converter, Device
from ..site.place import Place
from ..site.record import record

AIR_KG_PER_M3 = 1.2
NEAR_K = 3.0  # nearer than this to a limit the whole day is gone through
NEVER = float("inf")


@record(frozen=True)
class Limit:
    """The hottest air a thing in a cabinet bears: by its own limit, or because a converter gives less when hot."""

    name: str
    limit_c: float
    height_m: float
    kind: str  # "warm limit" | "derating"
    place: Place


@record(frozen=True)
class Passed:
    """A limit that the air passes on some day: how hot, in which hour."""

    limit: Limit
    air_c: float
    hour: int

    @property
    def over_k(self) -> float:
        """By how much; negative while it holds. [K]"""
        return self.air_c - self.limit.limit_c


@record(frozen=True)
class FanView:
    """The fan of a cabinet on the hottest day: as it is, with its mat full of dust, and stopped."""

    power_w: float
    share: float  # of the hottest day that it runs
    energy_wh: float  # of that day
    n_switched: int  # most times in one hour
    flow_m3_per_s: float  # while it runs
    loaded_m3_per_s: float | None  # with the mat as it is when it is changed; None without a mat
    band_k: float | None  # between on and off of its thermostat
    choked: tuple[Passed, ...]  # limits passed with a full mat that hold with the mat as it is
    stopped: tuple[Passed, ...]  # limits passed once the fan has stopped in the hottest hour, were it to last
    stopped_c: float  # hottest air then
    passes_s: float  # from the failure in the hottest hour until the first of them is passed


@record(frozen=True)
class CabinetView:
    """One cabinet with everything the rules compare."""

    climate: Climate
    name: str
    place: Place
    limits: tuple[Limit, ...]
    around_c: float  # hottest air around it
    hottest_c: float  # hottest air in it, at its roof
    hottest_h: int
    coldest_c: float
    heat_w: float  # most that is given off in it
    low_m2: float  # free area of openings in its lower and upper half, filters and guards not counted
    high_m2: float
    fan: FanView | None
    damp_h: int | None  # hours of the coldest day in which its coldest wall is below the dew point; None: not known
    wall_c: float | None  # coldest wall
    dew_c: float | None
    subject: str  # the part that findings stand at: its fan, else what gives off most heat in it

    @property
    def fan_words(self) -> str:
        """The fan in words that hold the subject."""
        fan = self.climate.cabinet.fan
        if fan is not None and fan.part == self.subject:
            return f"{self.subject} in {self.name}"
        return f"the fan of {self.name}, where {self.subject} stands,"


def cabinet_views(operation: Operation, asked_w: Mapping[str, float]) -> tuple[CabinetView, ...]:
    """Every cabinet whose air was worked out; `asked_w`: most that is asked of each converter for hours."""
    return tuple(_view(operation, climate, asked_w) for climate in operation.climates.values())


def _view(operation: Operation, climate: Climate, asked_w: Mapping[str, float]) -> CabinetView:
    limits = tuple(limits_of(operation, climate, asked_w))
    box, hot, cold = climate.box, climate.hot, climate.cold
    hour, hottest = hot.trace.hottest(box.height_m)
    dew = cold.around.dew_point_c
    damp = None if dew is None else sum(wall < point for wall, point in zip(cold.trace.coldest_c, dew, strict=True))
    half = box.height_m / 2
    fan_area = [(box.fan.height_m, box.fan.area_m2)] if box.fan is not None else []
    openings = [(opening.height_m, opening.area_m2) for opening in box.openings] + fan_area
    return CabinetView(
        climate,
        climate.zone,
        climate.cabinet.place,
        limits,
        max(hot.around.air_c),
        hottest,
        hour,
        climate.air.low,
        max(hot.total_w),
        sum(area for height, area in openings if height < half),
        sum(area for height, area in openings if height >= half),
        _fan(climate, limits, hour) if box.fan is not None else None,
        damp,
        min(cold.trace.coldest_c) if dew is not None else None,
        max(dew) if dew is not None else None,
        _subject(operation, climate),
    )


def _subject(operation: Operation, climate: Climate) -> str:
    fan = climate.cabinet.fan
    if fan is not None and fan.part in operation.site.parts:
        return fan.part
    heat = {name: sum(hours) for name, hours in climate.hot.heat_w.items() if name in climate.inside.own_m}
    return max(heat, key=lambda name: heat[name], default=climate.zone)


def limits_of(operation: Operation, climate: Climate, asked_w: Mapping[str, float]) -> Iterator[Limit]:
    """Every limit of air that things in a cabinet have."""
    for name, height_m in climate.inside.own_m.items():
        part = operation.site.parts.get(name)
        if isinstance(part, Device) and part.warm_limit_c is not None:
            yield Limit(name, part.warm_limit_c, height_m, "warm limit", part.place)
        elif isinstance(part, Converter) and part.rating_w and 0.0 < asked_w.get(name, 0.0) <= part.rating_w:
            span_k = part.nothing_at_c - part.full_until_c
            bears_c = part.full_until_c + (1.0 - asked_w[name] / part.rating_w) * span_k
            yield Limit(name, bears_c, height_m, "derating", part.place)


def passed(trace: Trace, limits: tuple[Limit, ...]) -> tuple[Passed, ...]:
    """The limits that a day passes, furthest first."""
    found = []
    for limit in limits:
        hour, air_c = trace.hottest(limit.height_m)
        found.append(Passed(limit, air_c, hour))
    return tuple(sorted((p for p in found if p.over_k > 0), key=lambda p: -p.over_k))


def again(climate: Climate, box: Box) -> Trace:
    """The hottest day of a cabinet with another box."""
    return day(box, climate.hot.around, climate.hot.heat_w)


def with_full_mats(box: Box) -> Box:
    """The box with every mat as it is when it is to be changed."""

    def full(thing: object) -> object:
        mat = getattr(thing, "mat", None)
        return replace(thing, mat=replace(mat, loading_fraction=1.0)) if mat is not None else thing  # type: ignore[type-var]

    return replace(
        box,
        openings=tuple(full(opening) for opening in box.openings),  # type: ignore[misc]
        fan=full(box.fan),  # type: ignore[arg-type]
    )


def has_mat(box: Box) -> bool:
    """Is there a filter anywhere?"""
    return any(thing is not None and thing.mat is not None for thing in (*box.openings, box.fan))


def flow_m3_per_s(trace: Trace) -> float:
    """Air that passes while the fan runs, in the hour in which it runs most. [m³/s]"""
    running = [(share, air) for share, air in zip(trace.fan_fraction, trace.air_kg_per_s, strict=True)]
    share, air = max(running)
    return air / AIR_KG_PER_M3 if share > 0 else 0.0


def _fan(climate: Climate, limits: tuple[Limit, ...], hour: int) -> FanView:
    box, trace = climate.box, climate.hot.trace
    assert box.fan is not None
    held = {p.limit.name for p in passed(trace, limits)}
    others = tuple(limit for limit in limits if limit.name not in held)
    choked: tuple[Passed, ...] = ()
    loaded = None
    if has_mat(box):
        full = with_full_mats(box)
        choked = passed(again(climate, full), others) if _may_pass(climate, full, others, hour) else ()
        loaded = _running_m3_per_s(climate, full, hour)
    held_still = replace(box, control=FixedSpeed(0.0))
    stills = {h: steady(held_still, climate.hot.around, climate.hot.heat_w, h) for h in _worst_hours(climate, hour)}
    hour = max(stills, key=lambda h: stills[h].hottest(box.height_m)[1])
    still = stills[hour]
    stopped = tuple(replace(p, hour=hour) for p in passed(still, others))
    control = box.control
    return FanView(
        box.fan.power_w,
        sum(trace.fan_fraction) / len(trace.fan_fraction),
        sum(trace.fan_w),
        int(max(trace.n_switched)),
        _running_m3_per_s(climate, box, hour),
        loaded,
        control.on_c - control.off_c if isinstance(control, Thermostat) else None,
        choked,
        stopped,
        still.hottest(box.height_m)[1],
        _passes_s(climate, stopped, hour) if stopped else NEVER,
    )


def _may_pass(climate: Climate, box: Box, limits: tuple[Limit, ...], hour: int) -> bool:
    """Does a limit come near being passed when the hottest hour, or the one with most heat, lasts for ever?"""
    near = tuple(replace(limit, limit_c=limit.limit_c - NEAR_K) for limit in limits)
    hot = climate.hot
    return any(passed(steady(box, hot.around, hot.heat_w, each), near) for each in _worst_hours(climate, hour))


def _worst_hours(climate: Climate, hour: int) -> set[int]:
    """Hours in which a box without its fan may be hottest: hottest with it, hottest around, most sun, most heat."""
    hot = climate.hot
    sun = [sum(faces) for faces in zip(*hot.around.sun_w_per_m2.values(), strict=True)]
    series = [hot.around.air_c, hot.total_w, *([sun] if sun else [])]
    return {hour} | {max(range(len(values)), key=values.__getitem__) for values in series}


def _running_m3_per_s(climate: Climate, box: Box, hour: int) -> float:
    """Air that passes in an hour with the fan at full speed. [m³/s]"""
    found = steady(replace(box, control=FixedSpeed(1.0)), climate.hot.around, climate.hot.heat_w, hour)
    return found.air_kg_per_s[0] / AIR_KG_PER_M3


def _passes_s(climate: Climate, stopped: tuple[Passed, ...], hour: int) -> float:
    """From the failure of the fan in the hottest hour, held, until the first of these limits is passed. [s]"""
    found = [bearing.Limit(p.limit.name, p.limit.height_m, p.limit.limit_c) for p in stopped]
    hot = climate.hot
    return 60.0 * bearing.minutes_to(climate.box, hot.around, hot.heat_w, found, hour)[0]
