"""What `ohmstead heat` says of a cabinet, in words and as JSON."""

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from ..choose.cabinet.allowed import MOST_FACTOR, allowed_factor
from ..choose.cabinet.decide import Decision
from ..choose.cabinet.ways import Way, ways
from ..evidence.assumed import unsaid
from ..evidence.cabinets import CabinetView
from ..network.cabinet.inside import WIRES
from ..quantity.show import show
from ..study import Study
from .as_json import VERSION
from .heat_texts import HEAT
from .paper import Paper, columns, wrapped

if TYPE_CHECKING:
    from ..choose.cabinet.years import Years

LABEL = 16
MAINS = 4  # of what gives off most heat, that many are told
DUST_G_PER_M3 = 1e-4


def lines(
    study: Study, view: CabinetView, decided: Sequence[Decision], years: "Years | None", sheet: Paper
) -> Iterator[str]:
    """One cabinet in words."""
    yield sheet.rule("━")
    yield sheet.ink(HEAT["title"].format(site=study.site.about.name, zone=view.name), "title")
    yield sheet.rule("━")
    for key, text in _facts(view):
        yield from labelled(HEAT[key], text)
    yield ""
    yield sheet.ink(HEAT["parts"], "strong")
    yield from columns(HEAT["parts-head"].split("|"), list(part_rows(view)), right=(2, 3, 4, 5, 6))
    yield ""
    yield sheet.ink(HEAT["ways"], "strong")
    yield from columns(HEAT["ways-head"].split("|"), [way_row(way) for way in ways(view)], right=(1, 2, 3, 4, 5))
    if decided:
        yield ""
        yield sheet.ink(HEAT["choices"], "strong")
        for decision in decided:
            chosen = decision.chosen or HEAT["choice-none"].format(because="")
            yield f"  {decision.key}: {sheet.ink(chosen.rstrip(': '), 'title')}"
            yield from wrapped(decision.because, 4)
    if years is not None:
        yield ""
        yield sheet.ink(HEAT["rest"], "strong")
        yield from wrapped(HEAT["years-text"].format(n=years.n_year), 0)
        for key, text in _year_facts(years):
            yield from labelled(HEAT[key], text)
    yield ""
    yield sheet.ink(HEAT["assumed"], "strong")
    for note in (*assumed(view), *HEAT["not-seen"].split("|")):
        first, *rest = wrapped(note, 4)
        yield f"  - {first.strip()}"
        yield from rest
    yield ""


def labelled(label: str, text: str) -> Iterator[str]:
    """A label and its text, wrapped beside it."""
    first, *rest = wrapped(text, LABEL)
    yield f"{label:<{LABEL}}{first.strip()}"
    yield from rest


def _facts(view: CabinetView) -> Iterator[tuple[str, str]]:
    climate, cabinet = view.climate, view.climate.cabinet
    width, height, depth = cabinet.size_mm
    yield "box", HEAT["box-text"].format(
        width=width, height=height, depth=depth, material=cabinet.material, colour=cabinet.colour,
        mounting=HEAT[f"mounted-{cabinet.mounting}"], stands=HEAT[f"stands-{cabinet.stands}"])  # fmt: skip
    heat = climate.hot.total_w
    yield "inside", HEAT["inside-text"].format(least=_w(min(heat)), most=_w(max(heat)), mains=_mains(view))
    around = climate.hot.around.air_c
    yield "around", HEAT["around-text"].format(low=_c(min(around)), high=_c(max(around)),
                                               cold=_c(min(climate.cold.around.air_c)))  # fmt: skip
    yield "air", HEAT["air-text"].format(high=_c(view.hottest_c), floor=_c(climate.hot.trace.hottest(0.0)[1]),
                                         hour=view.hottest_h, cold=_c(view.coldest_c))  # fmt: skip
    yield "allowed", _allowed(view)
    yield from _fan_facts(view)
    if view.damp_h is None or view.wall_c is None or view.dew_c is None:
        yield "damp", HEAT["damp-open"]
    else:
        key = "damp-text" if view.damp_h else "damp-fine"
        yield "damp", HEAT[key].format(hours=view.damp_h, wall=_c(view.wall_c), dew=_c(view.dew_c))


def _mains(view: CabinetView) -> str:
    mean = {name: sum(hours) / len(hours) for name, hours in view.climate.hot.heat_w.items()}
    most = sorted(mean, key=lambda name: -mean[name])[:MAINS]
    return ", ".join(f"{name} {_w(mean[name])}" for name in most if mean[name] > 0.05)


def _allowed(view: CabinetView) -> str:
    factor = allowed_factor(view)
    if factor is None:
        return HEAT["allowed-open"]
    if factor == 0.0:
        return HEAT["allowed-none"]
    if factor >= MOST_FACTOR / 2:
        return HEAT["allowed-much"].format(factor=factor)
    hottest = view.climate.hot.trace
    nearest = min(view.limits, key=lambda limit: limit.limit_c - hottest.hottest(limit.height_m)[1])
    return HEAT["allowed-text"].format(factor=factor, part=nearest.name)


def _fan_facts(view: CabinetView) -> Iterator[tuple[str, str]]:
    fan = view.fan
    if fan is None:
        return
    loaded = ""
    if fan.loaded_m3_per_s is not None:
        loaded = HEAT["fan-loaded"].format(flow=show(fan.loaded_m3_per_s, "air flow", 2))
    flow, share = show(fan.flow_m3_per_s, "air flow", 2), f"{100 * fan.share:.0f} %"
    yield "fan", HEAT["fan-text"].format(flow=flow, loaded=loaded, share=share, energy=show(fan.energy_wh, "energy", 2))
    if fan.stopped:
        minutes = show(max(60.0, round(fan.passes_s / 60.0) * 60.0), "time", 2)
        yield "fan-stopped", HEAT["fan-stopped-text"].format(hot=_c(fan.stopped_c), part=fan.stopped[0].limit.name,
                                                             minutes=minutes)  # fmt: skip
    else:
        yield "fan-stopped", HEAT["fan-stopped-fine"].format(hot=_c(fan.stopped_c))


def part_rows(view: CabinetView) -> Iterator[tuple[str, ...]]:
    """A row for each thing inside, the one with least left first."""
    climate = view.climate
    limits = {limit.name: limit for limit in view.limits}
    names = sorted(climate.inside.own_m, key=lambda name: _left(view, name))
    for name in names:
        hour, hottest = climate.hot.trace.hottest(climate.inside.heights_m[name])
        limit = limits.get(name)
        height = f"{climate.inside.heights_m[name] * 1000:.0f} mm" + ("*" if name in climate.inside.assumed else "")
        left = "" if limit is None else f"{limit.limit_c - hottest:+.1f} K"
        yield (name, height, _w(max(climate.hot.heat_w[name])), _c(hottest), f"{hour}:00",
               "" if limit is None else _c(limit.limit_c), left)  # fmt: skip
    if max(climate.hot.heat_w[WIRES]) > 0.05:
        yield WIRES, "", _w(max(climate.hot.heat_w[WIRES])), "", "", "", ""


def _left(view: CabinetView, name: str) -> float:
    found = [limit.limit_c - view.climate.local_air[name].high for limit in view.limits if limit.name == name]
    return found[0] if found else 1e6


def way_row(way: Way) -> tuple[str, ...]:
    """A row of the comparison."""
    left = "" if way.margin_k is None else f"{way.margin_k:+.1f} K"
    fan = f"{way.fan_wh:.0f} Wh" if way.fan_wh > 0.5 else ""
    return (way.name, _c(way.hottest_c), f"{way.gained_k:.1f} K", left, f"{way.flow_m3_per_s * 3600:.0f} m³/h", fan,
            way.words)  # fmt: skip


def _year_facts(years: "Years") -> Iterator[tuple[str, str]]:
    yield "years-air", HEAT["years-air-text"].format(cold=_c(years.coldest_c), hot=_c(years.hottest_c))
    above = ", ".join(f"{name} {hours:.0f} h a year" for name, hours in years.above_h.items() if hours > 0)
    yield "years-above", above or HEAT["years-above-none"]
    if years.fan_wh > 0:
        yield (
            "years-fan",
            HEAT["years-fan-text"].format(hours=round(years.fan_h), energy=show(years.fan_wh, "energy", 2)),
        )
    yield (
        "years-dust",
        HEAT["years-dust-text"].format(air=round(years.air_m3), dust=f"{years.air_m3 * DUST_G_PER_M3:.1f}"),
    )
    yield "years-age", HEAT["years-age-text"].format(times=years.ageing_ratio)


def assumed(view: CabinetView) -> Iterator[str]:
    """What stands for what the file does not say."""
    yield from unsaid(view.climate.cabinet)
    if view.climate.inside.assumed:
        yield "* in the middle of the box, where no `at` is stated"


def document(study: Study, decided: Mapping[str, Sequence[Decision]], years: "Mapping[str, Years]") -> dict[str, Any]:
    """Everything for other programs."""
    views = study.evidence.cabinets
    return {
        "ohmstead_json": VERSION,
        "site": study.site.about.name,
        "file": study.site.path,
        "cabinets": [_cabinet(view, decided[view.name], years.get(view.name)) for view in views],
    }


def _cabinet(view: CabinetView, decided: Sequence[Decision], years: "Years | None") -> dict[str, Any]:
    climate = view.climate
    limits = {limit.name: limit for limit in view.limits}
    days = {
        name: {
            "around_c": list(day.around.air_c),
            "heat_w": list(day.total_w),
            "lower_c": list(day.trace.lower_c),
            "upper_c": list(day.trace.upper_c),
            "coldest_wall_c": list(day.trace.coldest_c),
            "fan_fraction": list(day.trace.fan_fraction),
        }
        for name, day in (("hottest_day", climate.hot), ("coldest_day", climate.cold))
    }
    parts = [
        {
            "name": name,
            "height_m": height_m,
            "heat_w": max(climate.hot.heat_w[name]),
            "hottest_c": climate.local_air[name].high,
            "coldest_c": climate.local_air[name].low,
            "hour": climate.hot.trace.hottest(height_m)[0],
            "limit_c": limits[name].limit_c if name in limits else None,
        }
        for name, height_m in climate.inside.own_m.items()
    ]
    fan = view.fan
    return {
        "zone": view.name,
        "hottest_c": view.hottest_c,
        "coldest_c": view.coldest_c,
        "heat_w": view.heat_w,
        "allowed_factor": allowed_factor(view),
        "damp_h": view.damp_h,
        "rounds": climate.rounds,
        "parts": parts,
        "fan": None
        if fan is None
        else {
            "flow_m3_per_s": fan.flow_m3_per_s,
            "loaded_m3_per_s": fan.loaded_m3_per_s,
            "share": fan.share,
            "energy_wh": fan.energy_wh,
            "stopped_c": fan.stopped_c,
            "passes_s": fan.passes_s,
        },
        "ways": [
            {
                "name": way.name,
                "hottest_c": way.hottest_c,
                "cooler_k": way.gained_k,
                "margin_k": way.margin_k,
                "flow_m3_per_s": way.flow_m3_per_s,
                "fan_wh": way.fan_wh,
            }
            for way in ways(view)
        ],
        "decided": [
            {"key": decision.key, "chosen": decision.chosen, "because": decision.because} for decision in decided
        ],
        "years": None if years is None else {name: getattr(years, name) for name in years.__dataclass_fields__},
        **days,
    }


def _c(value: float) -> str:
    return f"{value:.1f} °C"


def _w(value: float) -> str:
    return f"{value:.1f} W"
