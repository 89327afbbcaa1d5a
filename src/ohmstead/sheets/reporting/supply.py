"""The job and the supply in figures."""

from collections.abc import Iterator

from ...quantity.show import show
from ...site.kinds import Device
from ..asked import Asked
from ..document import Block, Heading, Table, Terms, Text
from ..render.frame import grave
from ..render.measure import figure, temperature
from .words import COUNTED, GRAVE, HEAD, JOB, JOB_ONE, SECTIONS, USE, VERDICT, ZONES


def job(asked: Asked, terms: Terms) -> Iterator[Block]:
    """What is to be built, by which tables it was judged, and the outcome."""
    site = asked.site
    devices = sum(1 for part in site.parts.values() if isinstance(part, Device))
    about = site.about
    yield Heading(SECTIONS["job"])
    yield Text(
        (JOB if len(site.batteries) > 1 else JOB_ONE).format(
            batteries=counted("battery", len(site.batteries)),
            devices=counted("device", devices),
            runs=counted("run", len(site.runs)),
            rules=about.rules,
            drop=show(about.drop_limit_fraction, "share"),
            clear=show(about.clear_within_s, "time"),
            touch=about.outlets_touchable,
        )
    )
    number = len(grave(asked.findings))
    count = GRAVE[0] if number == 1 else GRAVE[1].format(n=number)
    yield Text(VERDICT[asked.verdict].format(count=count))
    spans = [(name, asked.operation.site.air_of(name)) for name in site.zones]
    if spans:
        rows = tuple((name, temperature(span.low, terms), temperature(span.high, terms)) for name, span in spans)
        raw = tuple((name, span.low, span.high) for name, span in spans)
        yield Table("zones", HEAD["zones"], rows, "lrr", ZONES, raw_head=("zone", "coldest_c", "hottest_c"), raw=raw)


def counted(what: str, number: int) -> str:
    """ "one device", "23 devices"."""
    one, many = COUNTED[what]
    return one if number == 1 else many.format(n=number)


def supply(asked: Asked) -> Iterator[Block]:
    """Batteries at their terminals, and what a day takes."""
    views = asked.evidence.batteries
    yield Heading(SECTIONS["supply"])
    rows = tuple(
        (
            v.name,
            v.battery.chemistry,
            show(v.battery.capacity_ah, "charge"),
            show(v.full_v, "voltage"),
            show(v.low_v, "voltage"),
            show(v.high_v, "voltage"),
            f"{show(v.resistance_ohm, 'resistance')} / {show(v.resistance_high_ohm, 'resistance')}",
            show(v.short_circuit_a, "current"),
        )
        for v in views
    )
    raw = tuple(
        (
            v.name,
            v.battery.chemistry,
            v.battery.capacity_ah,
            v.full_v,
            v.low_v,
            v.high_v,
            v.resistance_ohm,
            v.resistance_high_ohm,
            v.short_circuit_a,
        )
        for v in views
    )
    yield Table(
        "batteries",
        HEAD["batteries"],
        rows,
        "llrrrrrr",
        raw_head=(
            "battery",
            "chemistry",
            "capacity_ah",
            "full_v",
            "low_v",
            "high_v",
            "resistance_fresh_ohm",
            "resistance_aged_ohm",
            "short_circuit_a",
        ),
        raw=raw,
    )
    yield Table("use", HEAD["use"], tuple(_use(asked)), "lrl", widths=(5, 2, 3))


def _use(asked: Asked) -> Iterator[tuple[str, str, str]]:
    evidence = asked.evidence
    for view in evidence.batteries:
        for what, worst in (("discharge", view.discharge), ("peak", view.peak), ("charge", view.charge)):
            yield USE[what].format(name=view.name), show(worst.value, "current"), worst.case
        yield USE["days"].format(name=view.name), figure(view.idle_days, "number"), ""
        guard = {"": USE["nothing"], "limits": USE["limits"]}.get(view.guarded, view.guarded)
        yield USE["guard"].format(name=view.name), guard, ""
    day = evidence.day
    yield USE["day"], show(day.total_wh, "energy"), ""
    share = f"{show(day.idle_wh / day.total_wh, 'share')}" if day.total_wh else ""
    yield USE["idle"], show(day.idle_wh, "energy"), share
    if evidence.margin is not None:
        first = USE["first"].format(element=evidence.margin.element)
        yield USE["margin"], figure(evidence.margin.factor, "number"), f"{first}, {evidence.margin.case}"
