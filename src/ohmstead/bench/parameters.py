"""What is not known exactly about a site: every parameter that moves a reading, with how far it may stray.

A limit of a maker or of a standard is a uniform distribution between its ends; what many small causes make
is a normal one. Source: JCGM 100:2008 (GUM), 4.3.7 and 4.3.4, from memory. How far things stray where the
builder states no tolerance is common practice, no source; every such figure stands below with its name.
"""

from collections.abc import Iterator, Mapping
from dataclasses import field
from math import sqrt

from ..network.battery import cells_of
from ..network.corner import converter_losses, system_v
from ..network.losses import Losses
from ..network.operate import Operation
from ..parts.cell import chemistry
from ..quantity.span import Span
from ..site.kinds import Charger, Converter, Device, Disconnect, EthernetSource, Switch
from ..site.model import Battery
from ..site.record import record
from ..storage.cells import open_circuit_v, pack_resistance_ohm
from .meter import Meter
from .wires import RunParts, run_parts

SET_POINT_FRACTION = 0.01  # an adjusted converter without a stated tolerance
IDLE_FRACTION = 0.2  # a stated no-load draw; one that was assumed may be half or half as much again
IDLE_ASSUMED_FRACTION = 0.5
EFFICIENCY_FRACTION = 0.01  # points of a stated efficiency
EFFICIENCY_ASSUMED_FRACTION = 0.03
DRAW_FRACTION = 0.15  # a device's draw given as one figure
OWN_USE_FRACTION = 0.2
CONTACT_FRACTION = 0.5
BATTERY_STATED_FRACTION = 0.2  # a stated battery resistance
REST_FRACTION = 0.005  # a resting voltage at a known state of charge
DRIFT_FRACTION = 0.002  # a resting voltage since it was measured
ALONE_FRACTION = 0.0005  # one battery from the others beside it
CHARGER_FRACTION = 0.01
CHARGER_LIMIT_FRACTION = 0.05


@record(frozen=True)
class Parameter:
    """One figure that is known only within bounds, in the unit of its dimension.

    kind: "charge" (of all batteries together: share of their voltage), "battery voltage", "battery resistance",
    "set-point", "idle", "efficiency" (points above the stated curve), "draw" (aspect: the state), "own use",
    "contact", "charger voltage", "charger limit", "wire" (aspect "ohm" at 20 °C whole run, "length",
    "temperature"), "joint" (aspect "near +", "far -", ...), "holder", "fuse",
    "meter" (aspect "volts gain", "amps gain", "clamp gain", "clamp zero").
    """

    kind: str
    subject: str
    aspect: str
    bounds: Span  # for a normal distribution the ends hold 95 %
    shape: str  # "uniform" | "normal"
    dimension: str
    how: str  # "stated" | "table" | "assumed"

    @property
    def id(self) -> str:
        """How it is called in changes and in a diagnosis: "draw idle of router"."""
        return " ".join(word for word in (self.kind, self.aspect, "of", self.subject) if word)

    @property
    def half(self) -> float:
        """Half the distance between its bounds."""
        return (self.bounds.high - self.bounds.low) / 2

    @property
    def sigma(self) -> float:
        """Standard deviation."""
        return self.half / sqrt(3.0) if self.shape == "uniform" else self.half / 1.959964


@record(frozen=True)
class Surroundings:
    """What is known about the hour of measuring.

    `state_fraction` is the battery's state of charge; `battery_v` the resting voltages already measured, which
    count instead; `air_c` the air at the wires, None for what the site says of its zones.
    """

    state_fraction: Span = Span.between(0.4, 1.0)
    battery_v: Mapping[str, float] = field(default_factory=dict)
    battery_c: float = 20.0
    air_c: Span | None = None


def parameters_of(
    operation: Operation, surroundings: Surroundings, meter: Meter
) -> tuple[tuple[Parameter, ...], tuple[RunParts, ...]]:
    """All parameters of a site, and which of them make up each run."""
    found: list[Parameter] = []
    found.append(_charge(operation.site.batteries, surroundings))
    for name, battery in operation.site.batteries.items():
        found += _battery(name, battery, surroundings)
    for name, part in operation.site.parts.items():
        if isinstance(part, Converter):
            found += _converter(name, part, converter_losses(part))
        elif isinstance(part, Device):
            found += _device(name, part)
        elif isinstance(part, EthernetSource):
            found += _ethernet(name, part)
        elif isinstance(part, Switch | Disconnect):
            found.append(_contact(name, part))
            if isinstance(part, Disconnect) and part.own_w > 0.0:
                found.append(_own_use(name, part.own_w))
        elif isinstance(part, Charger):
            found += _charger(name, part)
    runs = []
    for path in operation.circuit.paths.values():
        pieces, run = run_parts(operation, path, surroundings.air_c, len(found))
        found += [Parameter(*piece) for piece in pieces]
        runs.append(run)
    found += [Parameter("meter", meter.name, *rest) for rest in meter.parameters()]
    return tuple(found), tuple(runs)


def around(value: float, fraction: float) -> Span:
    """A value with a share of itself to each side."""
    return Span(value - abs(value) * fraction, value, value + abs(value) * fraction)


def _battery(name: str, battery: Battery, now: Surroundings) -> Iterator[Parameter]:
    kind, cells = chemistry(battery.chemistry), cells_of(battery)
    if name in now.battery_v:
        volts = around(now.battery_v[name], ALONE_FRACTION)
    else:
        volts = around(_rest_v(battery, now)[0], ALONE_FRACTION)
    yield Parameter(
        "battery voltage", name, "", volts, "uniform", "voltage", "stated" if battery.open_circuit else "table"
    )
    if battery.resistance_ohm is not None and battery.measured_fraction is not None:
        settled = around(battery.resistance_ohm + battery.slow_ohm, battery.measured_fraction)
        yield Parameter("battery resistance", name, "", settled, "uniform", "resistance", "stated")
        return
    if battery.resistance_ohm is not None:
        ohm, how = around(battery.resistance_ohm, BATTERY_STATED_FRACTION), "stated"
    else:
        least, most = (
            pack_resistance_ohm(kind, cells, 1, battery.capacity_ah, now.battery_c, bound)
            for bound in ("least", "most")
        )
        ohm, how = Span.between(least, most), "table"
    slow = Span.between(ohm.low, ohm.high + battery.slow_ohm)
    yield Parameter("battery resistance", name, "", slow, "uniform", "resistance", how)


def _rest_v(battery: Battery, now: Surroundings) -> tuple[float, float]:
    """Middle of the resting voltages that the state of charge allows, and the way from it to either end. [V]"""
    kind, cells, stated = chemistry(battery.chemistry), cells_of(battery), battery.open_circuit
    ends = []
    for fraction in (now.state_fraction.low, now.state_fraction.high):
        if stated is None:
            ends.append(cells * open_circuit_v(kind, fraction))
        elif fraction < 0.5:
            ends.append(stated.cutoff_v + (stated.nominal_v - stated.cutoff_v) * fraction / 0.5)
        else:
            ends.append(stated.nominal_v + (stated.full_v - stated.nominal_v) * (fraction - 0.5) / 0.5)
    return (ends[0] + ends[1]) / 2, (ends[1] - ends[0]) / 2


def _charge(batteries: Mapping[str, Battery], now: Surroundings) -> Parameter:
    """How far all batteries together stand above or below their middle: those side by side rest at one voltage."""
    spread = DRIFT_FRACTION
    for name, battery in batteries.items():
        if name not in now.battery_v:
            middle_v, half_v = _rest_v(battery, now)
            spread = max(spread, half_v / middle_v + REST_FRACTION)
    return Parameter("charge", "batteries", "", Span(-spread, 0.0, spread), "uniform", "share", "assumed")


def _how(origin: Mapping[str, object], attribute: str) -> str:
    found = origin.get(attribute)
    return "assumed" if found is None else str(getattr(found, "how", "assumed"))


def _converter(name: str, part: Converter, losses: Losses) -> Iterator[Parameter]:
    output = part.output_v
    set_v = around(output.nominal, SET_POINT_FRACTION) if output.is_exact else output
    yield Parameter("set-point", name, "", set_v, "uniform", "voltage", _how(part.origin, "output_v"))
    idle, eta = _how(part.origin, "idle"), _how(part.origin, "efficiency")
    spread = IDLE_ASSUMED_FRACTION
    if idle == "stated":
        spread = IDLE_FRACTION if part.measured_fraction is None else part.measured_fraction
    yield Parameter("idle", name, "", around(losses.idle_w, spread), "uniform", "power", idle)
    points = EFFICIENCY_FRACTION if eta == "stated" else EFFICIENCY_ASSUMED_FRACTION
    yield Parameter("efficiency", name, "", Span(-points, 0.0, points), "uniform", "share", eta)


def _device(name: str, part: Device) -> Iterator[Parameter]:
    for draw in part.draws:
        watts = around(draw.power_w.nominal, DRAW_FRACTION) if draw.power_w.is_exact else draw.power_w
        yield Parameter("draw", name, draw.state, watts, "uniform", "power", _how(part.origin, "draws"))


def _ethernet(name: str, part: EthernetSource) -> Iterator[Parameter]:
    if part.own_w > 0.0:
        yield _own_use(name, part.own_w)
    if part.start_w:
        yield Parameter(
            "own use", name, "start-up", around(part.start_w, OWN_USE_FRACTION), "uniform", "power", "stated"
        )
    if part.output_v is not None:
        volts = around(part.output_v.nominal, SET_POINT_FRACTION) if part.output_v.is_exact else part.output_v
        yield Parameter("set-point", name, "", volts, "uniform", "voltage", _how(part.origin, "output_v"))
        points = EFFICIENCY_ASSUMED_FRACTION
        yield Parameter("efficiency", name, "", Span(-points, 0.0, points), "uniform", "share", "assumed")


def _own_use(name: str, own_w: float) -> Parameter:
    return Parameter("own use", name, "", around(own_w, OWN_USE_FRACTION), "uniform", "power", "stated")


def _contact(name: str, part: Switch | Disconnect) -> Parameter:
    within, how = CONTACT_FRACTION, "assumed"
    if part.measured_fraction is not None and _how(part.origin, "contact_ohm") == "stated":
        within, how = part.measured_fraction, "stated"
    return Parameter("contact", name, "", around(part.contact_ohm, within), "uniform", "resistance", how)


def _charger(name: str, part: Charger) -> Iterator[Parameter]:
    volts, limit = around(part.voltage_v, CHARGER_FRACTION), around(part.current_a, CHARGER_LIMIT_FRACTION)
    yield Parameter("charger voltage", name, "", volts, "uniform", "voltage", "stated")
    yield Parameter("charger limit", name, "", limit, "uniform", "current", "stated")


def nominal_v(operation: Operation) -> float:
    """Nominal voltage of the main battery. [V]"""
    return system_v(operation.known)
