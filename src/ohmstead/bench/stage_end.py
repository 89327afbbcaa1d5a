"""Steps with everything on: drops, warmth after an hour, battery low, and what closes the work."""

from collections.abc import Iterator

from ..network.duty import coincidences, lasting, lightest, may_be_off
from ..quantity.show import show
from ..site.kinds import Converter, Device, Disconnect, Distribution
from ..site.record import record
from . import words
from .band import half_width
from .making import CLAMP_FROM_A, Making, filled, slug
from .parameters import SET_POINT_FRACTION, Surroundings
from .points import Point
from .situation import Situation
from .stage_fuses import current_of
from .step import Step

LEAST_LEG_A = 0.2  # below this a drop tells nothing that a handheld meter can show
JOINT_FROM_A = 8.0  # 25 mΩ at 8 A are 1.6 W in one lug; below this joints are read with their leg
WARM_FROM_A = 4.0
WARM_K = 30.0  # above the air, on a joint: stop; common practice, no source
MOST_WARM = 12


@record(frozen=True)
class Busy:
    """The heaviest coincidence, solved through `situation`."""

    situation: Situation
    states: str


def busy_of(making: Making) -> Busy:
    """Everything busy that may be busy together, and what that is in words."""
    parts = [part for part in making.bench.circuit.site.parts.values() if isinstance(part, Device) and part.draws]
    states = dict(coincidences(parts, making.site.about.latitude)[0].states) if parts else {}
    text = ", ".join(f"{name} {state}" for name, state in states.items())
    return Busy(Situation("everything busy", states), text)


def load(making: Making) -> Iterator[Step]:
    """All idle, all busy: battery current, voltage at every device, drop along every wire."""
    parts = [part for part in making.site.parts.values() if isinstance(part, Device) and part.draws]
    idle = Situation("everything idle", {p.name: lightest(p).state for p in parts if lasting(p) and not may_be_off(p)})
    busy = busy_of(making)
    for situation, title, act in (
        (idle, "together-idle", words.ACTS["together-idle"]),
        (busy.situation, "together", words.ACTS["together"].format(states=busy.states)),
    ):
        for name in making.site.batteries:
            current_a = making.solve(situation).point.source_a[making.bench.circuit.source_of[name]]
            step = Step(
                f"load.{title}.{slug(name)}", "load", words.TITLES[title].format(name=name), act,
                cautions=(words.CAUTIONS["smell"],), basis=words.BASIS["function"],
            )  # fmt: skip
            method = "clamp" if abs(current_a) >= CLAMP_FROM_A else "amps"
            yield making.read(step, situation, Point("current", name, method=method), ("draw-low", "draw-high"))
    for name, found in making.site.parts.items():
        at = f"{name} in" if isinstance(found, Converter) else name
        if isinstance(found, Distribution | Converter) and at in making.bench.circuit.map.supply:
            step = Step(
                f"load.bus.{slug(name)}", "load", words.TITLES["bus-busy"].format(name=at), words.ACTS["bus-busy"],
                basis=words.BASIS["drop"],
            )  # fmt: skip
            yield making.read(step, busy.situation, Point("voltage", at), ("far-low", "far-high"))
    for part in parts:
        if part.name in busy.situation.states and part.over != "ethernet" and making.feeding.supply_run(part.name):
            step = Step(
                f"load.device.{slug(part.name)}", "load", words.TITLES["device-busy"].format(device=part.name),
                words.ACTS["device-busy"], basis=words.BASIS["drop"],
            )  # fmt: skip
            yield making.read(step, busy.situation, Point("voltage", part.name), ("far-low", "far-high"))
    for number, run in making.bench.runs.items():
        current_a = abs(current_of(making, making.solve(busy.situation), number)) if run.branches else 0.0
        if current_a >= LEAST_LEG_A and run.run.cable is None:
            yield from _drops(making, busy.situation, number, current_a)


def _drops(making: Making, situation: Situation, number: int, current_a: float) -> Iterator[Step]:
    run = making.bench.runs[number]
    name = run.run.name
    for pole in run.poles:
        place = f"leg {pole}"
        step = Step(
            f"load.leg.{slug(name)}.{'plus' if pole == '+' else 'minus'}", "load",
            words.TITLES["leg"].format(pole=pole, run=name), words.ACTS["leg"].format(pole=pole),
            basis=words.BASIS["drop"],
        )  # fmt: skip
        yield making.read(step, situation, Point("drop", name, place), ("drop-low", "drop-high"))
    if current_a < JOINT_FROM_A:
        return
    for place in run.resistors:
        step = Step(
            f"load.joint.{slug(name)}.{slug(place.replace('+', 'plus').replace('-', 'minus'))}", "load",
            words.TITLES["joint"].format(run=name, place=place), words.ACTS["joint"], basis=words.BASIS["drop"],
        )  # fmt: skip
        yield making.read(step, situation, Point("drop", name, place), ("drop-low", "drop-high"))


def hour(making: Making) -> Iterator[Step]:
    """Warmth where most current flows, and the air around converters."""
    busy = busy_of(making).situation
    found = []
    for number, run in making.bench.runs.items():
        current_a = abs(current_of(making, making.solve(busy), number)) if run.branches else 0.0
        if current_a >= WARM_FROM_A:
            found.append((current_a, number))
    for _, number in sorted(found, reverse=True)[:MOST_WARM]:
        name = making.run(number).name
        yield Step(
            f"hour.warm.{slug(name)}", "hour", words.TITLES["warm"].format(run=name), words.ACTS["warm"],
            marks=(making.marks.runs[number],), dimension="temperature difference", high=WARM_K,
            causes_high=words.CAUSES["warm"], cautions=(words.CAUTIONS["smell"],), basis=words.BASIS["practice"],
        )  # fmt: skip
    zones: dict[str, float] = {}
    for part in making.site.parts.values():
        if isinstance(part, Converter) and part.zone:
            zones[part.zone] = min(zones.get(part.zone, part.full_until_c), part.full_until_c)
    for zone, limit_c in zones.items():
        yield Step(
            f"hour.air.{slug(zone)}", "hour", words.TITLES["air"].format(zone=zone), words.ACTS["air"],
            dimension="temperature", high=limit_c, causes_high=words.CAUSES["air"], basis=words.BASIS["practice"],
        )  # fmt: skip


def low(making: Making) -> Iterator[Step]:
    """What opens when the battery is low, and what every device still gets just before."""
    meter = making.bench.meter.volts
    for name, part in making.site.parts.items():
        if isinstance(part, Disconnect):
            for key, volts in (("cut", part.off_v), ("again", part.on_v)):
                share = SET_POINT_FRACTION * volts
                half = half_width([share, meter.accuracy_fraction * volts, meter.counts(volts)], 0.0)
                yield Step(
                    f"low.{key}.{slug(name)}", "low", words.TITLES[key].format(name=name),
                    words.ACTS[key].format(name=name),
                    words.PROBES["voltage"].format(name=f"{name} in", mark=making.marks.points[f"{name} in"]),
                    (making.marks.points[f"{name} in"],), dimension="voltage", value=volts, low=volts - half,
                    high=volts + half, causes_low=words.CAUSES["cut"], causes_high=words.CAUSES["cut"],
                    basis=words.BASIS["function"],
                )  # fmt: skip
    known = making.operation.known.batteries
    volts_now = {name: figures.low_v for name, figures in known.items()}
    if not volts_now:
        return
    sunk = Making(making.operation, Surroundings(battery_v=volts_now), making.bench.meter)
    busy = busy_of(sunk).situation
    for name in busy.states:
        part = making.site.parts[name]
        if not isinstance(part, Device) or part.over == "ethernet" or making.feeding.supply_run(name) is None:
            continue
        step = Step(
            f"low.device.{slug(name)}", "low", words.TITLES["low-device"].format(device=name),
            words.ACTS["low-device"].format(device=name, volts=show(min(volts_now.values()), "voltage")),
            basis=words.BASIS["drop"],
        )  # fmt: skip
        read = sunk.read(step, busy, Point("voltage", name), ("low-device", "far-high"))
        if part.input_v is not None and read.low is not None and read.high is not None:
            least = max(read.low, part.input_v.low)
            read = filled(read, low=least, high=read.high if read.high > least else None)
        yield read


def close(_making: Making) -> Iterator[Step]:
    """What makes it readable for the next person."""
    for key in ("labels", "retighten"):
        yield Step(
            f"close.{key}", "close", words.TITLES[key], words.ACTS[key], asks="tick", causes_high=words.CAUSES["tick"],
            basis=words.BASIS["practice"],
        )  # fmt: skip
