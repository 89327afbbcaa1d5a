"""Steps for each device in each of its states, and for the charging side."""

from collections.abc import Iterator, Mapping

from ..network.corner import system_v
from ..network.duty import lasting, lightest, may_be_off
from ..parts.plug import End
from ..quantity.show import show
from ..quantity.span import Span
from ..site.kinds import Charger, Device, EthernetSource
from ..site.pieces import Draw
from . import words
from .band import half_width
from .making import Making, filled, slug
from .order import devices_in_order, from_charger
from .parameters import CHARGER_FRACTION, around
from .points import Point
from .situation import Situation
from .stage_fuses import current_of
from .step import Step

MODULE_COLD_C, MODULE_HOT_C = 0.0, 60.0  # cells while somebody measures; common practice, no source
STANDARD_C = 25.0  # module figures are given at it: IEC 61215, from memory


def devices(making: Making) -> Iterator[Step]:
    """Ethernet sources first, then device by device; those before it stay in their least state."""
    running: dict[str, str] = {}
    asleep = set(making.sources)
    for name, part in making.site.parts.items():
        if isinstance(part, EthernetSource) and making.feeding.supply_run(name) is not None:
            yield _at_plug(making, name, part.inlet, Situation(f"{name} unplugged", unplugged=frozenset(asleep)))
            asleep.discard(name)
            if part.own_w > 0.0:
                yield from _boot(making, name, part, frozenset(asleep))
    for device in devices_in_order(making.feeding, making.fused):
        if not device.draws:
            continue
        if device.over != "ethernet":
            situation = Situation(f"{device.name} unplugged", dict(running))
            yield _at_plug(making, device.name, device.inlet, situation)
        for draw in sorted(device.draws, key=lambda draw: (draw.seconds is None, draw.power_w.nominal)):
            yield from _state(making, device, draw, running)
        if lasting(device) and not may_be_off(device):
            running[device.name] = lightest(device).state


def _boot(making: Making, name: str, part: EthernetSource, asleep: frozenset[str]) -> Iterator[Step]:
    number = making.feeding.supply_run(name)
    assert number is not None
    if part.start_w:
        booting = Situation(f"{name} boots", booting=frozenset((name,)), unplugged=asleep)
        step = Step(
            f"devices.boot.{slug(name)}", "devices", words.TITLES["boot"].format(name=name),
            words.ACTS["boot"].format(name=name), basis=words.BASIS["function"],
        )  # fmt: skip
        point = making.current_at(number, current_of(making, making.solve(booting), number))
        yield making.read(step, booting, point, ("draw-low", "draw-high"))
    awake = Situation(f"{name} awake", unplugged=asleep)
    step = Step(
        f"devices.awake.{slug(name)}", "devices", words.TITLES["awake"].format(name=name), words.ACTS["awake"],
        basis=words.BASIS["function"],
    )  # fmt: skip
    point = making.current_at(number, current_of(making, making.solve(awake), number))
    yield making.read(step, awake, point, ("draw-low", "draw-high"))


def _at_plug(making: Making, name: str, inlet: End | None, situation: Situation) -> Step:
    plug = f"{inlet.name}, {inlet.polarity}" if inlet and inlet.polarity else name
    step = Step(
        f"devices.plug.{slug(name)}", "devices", words.TITLES["at-plug"].format(device=name),
        words.ACTS["at-plug"].format(plug=plug), basis=words.BASIS["polarity"],
    )  # fmt: skip
    at = f"{name} in" if name in making.sources else name
    return making.read(step, situation, Point("voltage", at), ("far-low", "far-high"))


def _state(making: Making, device: Device, draw: Draw, running: Mapping[str, str]) -> Iterator[Step]:
    number = making.feeding.supply_run(device.name)
    assert number is not None
    how = words.ACTS["steady"]
    if draw.seconds is not None:
        how = words.ACTS["brief"].format(seconds=show(draw.seconds, "time", 2))
    if device.over == "ethernet":
        source = making.bench.circuit.map.feeder[device.name].name
        feed = making.feeding.supply_run(source)
        if feed is not None:
            number, how = feed, f"{how} {words.ACTS['ethernet'].format(source=source)}"
    situation = Situation(f"{device.name} {draw.state}", {**running, device.name: draw.state})
    step = Step(
        f"devices.draw.{slug(device.name, draw.state)}", "devices",
        words.TITLES["draw"].format(device=device.name, state=draw.state),
        words.ACTS["draw"].format(device=device.name, how=how), basis=words.BASIS["function"],
    )  # fmt: skip
    point = making.current_at(number, current_of(making, making.solve(situation), number))
    yield making.read(step, situation, point, ("draw-low", "draw-high"))
    if device.over != "ethernet":
        yield making.read(
            filled(
                step, id=step.id.replace("draw", "volts", 1),
                title=words.TITLES["volts"].format(device=device.name, state=draw.state),
            ), situation, Point("voltage", device.name),
            ("far-low", "far-high"),
        )  # fmt: skip


def charging(making: Making) -> Iterator[Step]:
    """Array open, charger without sun, then the charging voltage."""
    meter = making.bench.meter.volts
    for name, array in making.site.arrays.items():
        if array.open_v is None:
            continue
        usual = array.open_v * array.series
        cold, hot = (
            usual * (1 + array.voltage_per_k * (air_c - STANDARD_C)) for air_c in (MODULE_COLD_C, MODULE_HOT_C)
        )
        half = half_width([(cold - hot) / 2, meter.accuracy_fraction * usual, meter.counts(usual)], 0.0)
        middle = (cold + hot) / 2
        yield Step(
            f"charging.array.{slug(name)}", "charging", words.TITLES["array"].format(name=name), words.ACTS["array"],
            dimension="voltage", value=middle, low=middle - half, high=middle + half,
            causes_low=words.CAUSES["array-low"], causes_high=words.CAUSES["array-high"],
            cautions=(words.CAUTIONS["panels"],),
            basis=f"{words.BASIS['array-polarity']}; {words.BASIS['array-voltage']}",
        )  # fmt: skip
    seen: set[str] = set()
    for number in making.fused:
        name = from_charger(making.site, making.run(number))
        part = making.site.parts.get(name)
        if not isinstance(part, Charger):
            continue
        first = name not in seen
        seen.add(name)
        night_a = part.night_w / system_v(making.operation.known)
        counts_a = making.bench.meter.amps.counts(night_a)
        yield Step(
            f"charging.night.{slug(making.run(number).name)}", "charging",
            words.TITLES["night"].format(name=name), words.ACTS["night"],
            words.PROBES["amps"].format(name=making.run(number).name, mark=making.marks.runs[number]),
            (making.marks.runs[number],), dimension="current", value=night_a, low=-2 * night_a - counts_a,
            high=2 * night_a + counts_a, causes_low=words.CAUSES["idle-high"], causes_high=words.CAUSES["idle-high"],
            cautions=(words.CAUTIONS["jack"],), basis=words.BASIS["practice"],
        )  # fmt: skip
        if not first:
            continue
        span: Span = around(part.voltage_v, CHARGER_FRACTION)
        half = half_width(
            [span.high - part.voltage_v, meter.accuracy_fraction * part.voltage_v, meter.counts(part.voltage_v)], 0.0
        )
        yield Step(
            f"charging.voltage.{slug(name)}", "charging", words.TITLES["charging"].format(name=name),
            words.ACTS["charging"], words.PROBES["voltage"].format(name=name, mark=making.marks.points[name]),
            (making.marks.points[name],), dimension="voltage", value=part.voltage_v, low=part.voltage_v - half,
            high=part.voltage_v + half, causes_low=words.CAUSES["charging-low"],
            causes_high=words.CAUSES["charging-high"], cautions=(words.CAUTIONS["cold"],),
            basis=words.BASIS["array-current"],
        )  # fmt: skip
