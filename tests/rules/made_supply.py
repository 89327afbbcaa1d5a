"""Hand-made evidence for tests of wire, voltage, plug and block rules: a battery, some runs and devices."""

from dataclasses import replace

from ohmstead.evidence.views import (
    BatteryView,
    ConverterView,
    DayUse,
    DeviceView,
    DistributionView,
    Evidence,
    Pulse,
    RunView,
    Worst,
)
from ohmstead.parts.plug import End, read_end
from ohmstead.parts.wire import Wire, read_wire
from ohmstead.quantity.span import Span
from ohmstead.site.kinds import Converter, Device, Distribution
from ohmstead.site.model import Battery, Run
from ohmstead.site.pieces import Draw, Endpoint, LaidAs
from ohmstead.site.place import Place
from ohmstead.wiring.ampacity import Laid, ampacity_a
from ohmstead.wiring.conductor import wire_loop_ohm

PLACE = Place("skerry.yaml", 9, 5, 200, 260)
CASE = "battery low, hot, busy"


def endpoint(text: str) -> Endpoint:
    part, slash, way = text.partition(" / ")
    return Endpoint(part, int(way)) if slash else Endpoint(part)


def run(start: str, end: str, wire: str = "2.5 mm2", length_m: float = 2.0, ends: str = "", **more) -> RunView:
    """A run that carries `amps` for long; its drop follows from its resistance."""
    amps = more.pop("amps", 5.0)
    rules = more.pop("rules", "IEC")
    laid = more.pop("laid", LaidAs("in trunking", 1))
    air_c = more.pop("ambient_c", 30.0)
    kind: Wire = read_wire(wire)
    fitted: tuple[End, ...] = tuple(read_end(text) for text in ends.split(", ")) if ends else ()
    joints_ohm = 0.8e-3
    loop_ohm = wire_loop_ohm(kind, length_m, 50.0) + joints_ohm
    written = Run(
        1,
        endpoint(start),
        endpoint(end),
        length_m,
        kind,
        ends=fitted,
        laid=laid,
        sheathed=more.pop("sheathed", "no"),
    )
    made = RunView(
        run=written,
        name=f"{start} -> {end}",
        place=PLACE,
        wire=kind,
        ampacity=ampacity_a(kind, Laid(laid.method, laid.circuits), air_c, rules),
        ambient_c=air_c,
        coldest_c=0.0,
        loop_cold_ohm=loop_ohm * 0.85,
        loop_hot_ohm=loop_ohm,
        joint_ohm=joints_ohm,
        current=Worst(amps, CASE),
        sustained=Worst(amps, CASE),
        lowest_a=0.0,
        drop=Worst(amps * loop_ohm, CASE),
        lost_w=amps**2 * loop_ohm,
        source_low=Worst(24.0, CASE),
        source_high=Worst(28.4, "charging"),
        pulses=(),
        own_fuse=None,
        guard=None,
        upstream=(),
        downstream=(),
        feeds=(),
        fed_by="bank",
        fed_kind="battery",
        supply_v=25.6,
        fault_near=None,
        fault_far=None,
        unfused_m=length_m,
    )
    return replace(made, **more)


def device(name: str, path: tuple[RunView, ...], window: str = "", **more) -> DeviceView:
    """A device at the end of a path; `window` such as "18..32"."""
    low, _, high = window.partition("..")
    plug = more.pop("plug", "")
    span = Span(float(low), (float(low) + float(high)) / 2, float(high)) if window else None
    part = Device(
        name,
        place=PLACE,
        input_v=span,
        draws=(Draw("on", Span(50.0, 50.0, 50.0)),),
        inlet=read_end(plug) if plug else None,
        warm_limit_c=more.pop("warm_limit_c", None),
        over=more.pop("over", "wire"),
    )
    drop_v = sum(view.drop.value for view in path)
    made = DeviceView(
        device=part,
        name=name,
        place=PLACE,
        fed_by=path[0].fed_by if path else "",
        path=tuple(view.name for view in path),
        supply_v=25.6,
        low_v=span.low if span else None,
        high_v=span.high if span else None,
        lowest=Worst(24.0 - drop_v, CASE),
        highest=Worst(28.4, "charging"),
        browned_out=None,
        victim_of="",
        path_drop=Worst(drop_v, CASE),
        ambient_c=30.0,
        daily_wh=100.0,
        idle_w=1.0,
    )
    return replace(made, **more)


def converter(name: str, output_v: float, **more) -> ConverterView:
    part = Converter(
        name,
        place=PLACE,
        type=more.pop("type", "buck-boost"),
        input_v=Span(18.0, 25.0, 32.0),
        output_v=Span(output_v * 0.98, output_v, output_v * 1.02),
        rating_w=100.0,
    )
    made = ConverterView(
        converter=part,
        name=name,
        place=PLACE,
        input_lowest=Worst(23.0, CASE),
        input_highest=Worst(28.0, CASE),
        output_w=Worst(40.0, CASE),
        output_peak_w=Worst(40.0, CASE),
        output_a=Worst(2.0, CASE),
        input_a=Worst(2.0, CASE),
        ambient_c=30.0,
        derated_w=100.0,
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
    return replace(made, **more)


def battery(name: str = "bank", **more) -> BatteryView:
    part = Battery(name, "LFP", 8, capacity_ah=100.0, charging_v=28.4, equalising_v=more.pop("equalising_v", None))
    made = BatteryView(
        battery=part,
        name=name,
        place=PLACE,
        nominal_v=25.6,
        full_v=26.8,
        low_v=24.6,
        high_v=28.4,
        resistance_ohm=4e-3,
        resistance_high_ohm=12e-3,
        discharge=Worst(10.0, CASE),
        peak=Worst(12.0, CASE),
        charge=Worst(20.0, "charging"),
        pulses=(),
        short_circuit_a=6000.0,
        together_a=6000.0,
        shares={},
        idle_days=20.0,
        guarded="limits",
    )
    return replace(made, **more)


def block(name: str, ways: int, by_way: dict[int, float], **more) -> DistributionView:
    part = Distribution(
        name,
        place=PLACE,
        ways=ways,
        total_a=more.pop("total_a", None),
        per_way_a=more.pop("per_way_a", None),
        voltage_v=more.pop("voltage_v", None),
        stud_mm=more.pop("stud_mm", None),
    )
    used = {way: Worst(amps, CASE) for way, amps in by_way.items()}
    return DistributionView(
        part, name, PLACE, Worst(sum(by_way.values()), CASE), tuple(sorted(by_way)), used, 28.4, 30.0, None
    )


def start(device_name: str, amps: float, seconds: float) -> Pulse:
    return Pulse(device_name, amps, seconds, f"{device_name} starts")


def supply(runs=(), devices=(), **more) -> Evidence:
    """Evidence of a 24 V site with nothing in it but what is given."""
    filled = {
        "rules": "IEC",
        "clear_within_s": 5.0,
        "drop_limit_fraction": 0.05,
        "touch": "dry",
        "system_v": 25.6,
        "highest_v": 28.4,
        "runs": tuple(runs),
        "data_runs": (),
        "devices": tuple(devices),
        "converters": (),
        "batteries": (battery(),),
        "ethernet": (),
        "blocks": (),
        "disconnects": (),
        "switches": (),
        "busbars": (),
        "chargers": (),
        "joins": (),
        "loose": (),
        "unfed": (),
        "open_choices": (),
        "margin": None,
        "day": DayUse(0.0, 0.0, {}, {}),
    }
    return Evidence(**(filled | more))
