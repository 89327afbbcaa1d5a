"""Evidence made by hand, for rules whose logic is worth a test of its own. Only what a test names matters."""

from collections.abc import Mapping
from typing import Any

from ohmstead.evidence.finding import Finding
from ohmstead.evidence.views import (
    BatteryView,
    ConverterView,
    DayUse,
    DeviceView,
    EthernetView,
    Evidence,
    Margin,
    PortView,
    RunView,
    Worst,
)
from ohmstead.parts.cable import read_ethernet_cable
from ohmstead.parts.wire import read_wire
from ohmstead.quantity.span import Span
from ohmstead.rules.catalogue import module_of
from ohmstead.site.kinds import Converter, Device, EthernetSource
from ohmstead.site.model import Battery, Run
from ohmstead.site.pieces import Draw, Endpoint, Lockout
from ohmstead.site.place import Origin, Place

PLACE = Place("site.yaml", 7, 1, 0, 0)
CASE = "low-hot-busy"
NOTHING = Worst(0.0, "")


def at(value: float, case: str = CASE) -> Worst:
    """A worst value with its case."""
    return Worst(value, case)


def exact(value: float) -> Span:
    """A span without width."""
    return Span(value, value, value)


def window(low: float, high: float) -> Span:
    """A span from low to high."""
    return Span(low, (low + high) / 2, high)


def battery(**more: Any) -> BatteryView:
    """A 24 V battery that its protection board guards."""
    known: dict[str, Any] = dict(
        battery=Battery("bank", cells=8, capacity_ah=100.0, place=PLACE),
        name="bank",
        place=PLACE,
        nominal_v=26.4,
        full_v=27.2,
        low_v=24.6,
        high_v=28.8,
        resistance_ohm=3e-3,
        resistance_high_ohm=8e-3,
        discharge=at(10.0),
        peak=at(12.0),
        charge=NOTHING,
        pulses=(),
        short_circuit_a=9000.0,
        together_a=9000.0,
        shares={},
        idle_days=100.0,
        guarded="limits",
    )
    return BatteryView(**known | more)


def converter(part: Mapping[str, Any] = {}, **more: Any) -> ConverterView:
    """A 24 to 12 V buck of 100 W that has nothing to complain of. `part` changes the converter itself."""
    own: dict[str, Any] = dict(
        name="supply",
        type="buck",
        input_v=window(18, 36),
        output_v=exact(12.0),
        rating_w=100.0,
        place=PLACE,
        lockout=Lockout(18.0, 19.0),
    )
    made = Converter(**own | dict(part))
    known: dict[str, Any] = dict(
        converter=made,
        name=made.name,
        place=PLACE,
        input_lowest=at(23.0),
        input_highest=at(28.8, "charging-hot-bare"),
        output_w=at(40.0),
        output_peak_w=at(50.0),
        output_a=at(3.3),
        input_a=at(2.0),
        ambient_c=25.0,
        derated_w=made.rating_w,
        locked_out=None,
        victim_of="",
        limited="",
        passing="",
        idle_w=0.3,
        source_ohm=0.05,
        source_v=24.0,
        rebound_v=0.1,
        feeds=(),
    )
    return ConverterView(**known | more)


def device(name: str = "lamp", part: Mapping[str, Any] = {}, **more: Any) -> DeviceView:
    """A device fed by the battery, in order."""
    made = Device(name, **dict(draws=(Draw("on", exact(10.0)),), place=PLACE) | dict(part))
    known: dict[str, Any] = dict(
        device=made,
        name=name,
        place=PLACE,
        fed_by="bank",
        path=(),
        supply_v=24.0,
        low_v=made.input_v.low if made.input_v else None,
        high_v=made.input_v.high if made.input_v else None,
        lowest=at(23.0),
        highest=at(28.8),
        browned_out=None,
        victim_of="",
        path_drop=at(0.2),
        ambient_c=25.0,
        daily_wh=240.0,
        idle_w=10.0,
    )
    return DeviceView(**known | more)


def run(start: str, end: str, part: Mapping[str, Any] = {}, **more: Any) -> RunView:
    """A short run of 2.5 mm² (or of network cable when `part` names one)."""
    network = "cable" in part
    own: dict[str, Any] = dict(length_m=2.0, wire=None if network else read_wire("2.5 mm2"), place=PLACE)
    made = Run(1, _end(start), _end(end), **own | dict(part))
    known: dict[str, Any] = dict(
        run=made,
        name=made.name,
        place=PLACE,
        wire=made.wire,
        ampacity=None,
        ambient_c=30.0,
        coldest_c=0.0,
        loop_cold_ohm=0.03,
        loop_hot_ohm=0.04,
        joint_ohm=1e-3,
        current=at(5.0),
        sustained=at(5.0),
        lowest_a=0.0,
        drop=at(0.2),
        lost_w=1.0,
        source_low=at(24.0),
        source_high=at(28.8),
        pulses=(),
        own_fuse=None,
        guard=None,
        upstream=(),
        downstream=(),
        feeds=(),
        fed_by="bank",
        fed_kind="battery",
        supply_v=24.0,
        fault_near=None,
        fault_far=None,
        unfused_m=0.0,
    )
    return RunView(**known | more)


def cable(text: str = "Cat5e 24 AWG", length_m: float = 30.0, **more: Any) -> dict[str, Any]:
    """The part of a run that is network cable."""
    return dict(cable=read_ethernet_cable(text), length_m=length_m) | more


def _end(text: str) -> Endpoint:
    part, _, way = text.partition(" / ")
    return Endpoint(part, int(way) if way else None)


def port(number: int, made: Device, **more: Any) -> PortView:
    """A port with a device on 30 m of cable, in order."""
    watts = max(draw.power_w.high for draw in made.draws)
    known: dict[str, Any] = dict(
        port=number,
        run=f"switch / {number} -> {made.name}",
        device=made,
        loop_ohm=3.2,
        device_v=at(52.0),
        device_w=watts,
        port_w=watts + 0.5,
        reserved_w=15.4,
        port_v=at(53.5),
        current_a=watts / 52,
    )
    return PortView(**known | more)


def powered(name: str = "camera", over: str = "ethernet", watts: float = 8.0, **more: Any) -> Device:
    """A device that is powered over network cable."""
    return Device(name, over=over, draws=(Draw("on", exact(watts)),), place=PLACE, **more)


def ethernet(ports: tuple[PortView, ...], part: Mapping[str, Any] = {}, **more: Any) -> EthernetView:
    """A switch of type at that passes 54 V to its ports."""
    own: dict[str, Any] = dict(standard="at", ports=8, budget_w=60.0, input_v=window(44, 57), place=PLACE)
    made = EthernetSource("switch", **own | dict(part))
    known: dict[str, Any] = dict(
        source=made,
        name="switch",
        place=PLACE,
        input_lowest=at(53.6),
        input_highest=at(54.6),
        ports=ports,
        total_w=sum(p.port_w for p in ports),
        reserved_w=sum(p.reserved_w for p in ports),
    )
    return EthernetView(**known | more)


def evidence(**more: Any) -> Evidence:
    """Evidence with nothing in it but what is named."""
    known: dict[str, Any] = dict(
        rules="IEC",
        clear_within_s=5.0,
        drop_limit_fraction=0.05,
        touch="dry",
        system_v=26.4,
        highest_v=28.8,
        runs=(),
        data_runs=(),
        devices=(),
        converters=(),
        batteries=(battery(),),
        ethernet=(),
        blocks=(),
        disconnects=(),
        switches=(),
        busbars=(),
        chargers=(),
        joins=(),
        loose=(),
        unfed=(),
        open_choices=(),
        margin=None,
        day=DayUse(0.0, 0.0, {}, {}),
    )
    return Evidence(**known | more)


def told(slug: str, found: Evidence) -> list[Finding]:
    """What a rule says."""
    return list(module_of(slug).check(found))


def severities(slug: str, found: Evidence) -> list[str]:
    """How grave a rule's findings are."""
    return [finding.severity.value for finding in told(slug, found)]


def margin(factor: float, element: str) -> Margin:
    """A loading margin in the usual case."""
    return Margin(factor, element, CASE)


def stated(*names: str) -> dict[str, Origin]:
    """Origins of fields that the builder wrote."""
    return {name: Origin("stated") for name in names}
