"""A case becomes numbers: every element's figures in it."""

from collections.abc import Mapping

from ..quantity.span import Span
from ..site.kinds import Charger, Converter, Device, Disconnect, EthernetSource, Switch
from ..site.record import record
from .battery import BatteryFigures, figures_of
from .cases import Case
from .compile import Circuit
from .demand import demand_w, drawn_w
from .elements import OPEN_OHM, ConverterState, Corner, FeedState, LoadState
from .losses import Losses, loss_curve

THROUGH_OHM = 1e-3  # an Ethernet source that passes its input to its ports: trace and switch, no source
HOLDS_HIGH = ("full", "charging", "equalising", "bulk")  # cases in which set voltages stand high
POWERED_OFF_V = 30.0  # IEEE 802.3: a powered device shall be off below 30 V (from memory)
PLACEHOLDER_W = 100.0  # stands in for a converter rating left open


@record(frozen=True)
class Figures:
    """What stays the same over the cases of a circuit."""

    circuit: Circuit
    batteries: Mapping[str, BatteryFigures]
    losses: Mapping[str, Losses]


def figures(circuit: Circuit) -> Figures:
    """Work out batteries and converter losses once."""
    losses = {}
    for name, part in circuit.site.parts.items():
        if isinstance(part, Converter):
            losses[name] = converter_losses(part)
        elif isinstance(part, EthernetSource) and part.output_v is not None:
            losses[name] = loss_curve(1.0, ((1.0, part.efficiency),), 0.0)
    return Figures(circuit, figures_of(circuit.site, circuit.map), losses)


def converter_losses(part: Converter) -> Losses:
    """Loss curve of a converter from its idle draw and efficiency points."""
    rating = part.rating_w or (part.limit_a or 0.0) * part.output_v.nominal or PLACEHOLDER_W
    stated = part.origin.get("idle")
    idle = part.idle.power_w if stated is None or stated.how == "stated" or len(part.efficiency) < 3 else None
    return loss_curve(rating, part.efficiency, idle)


def corner_of(known: Figures, case: Case, rise_k: Mapping[int, float]) -> Corner:
    """The numbers of one case. `rise_k` is how much each run's copper is above its air when hot. [K]"""
    circuit, site = known.circuit, known.circuit.site
    wanted = demand_w(circuit, known.losses, case)
    return Corner(
        case.name,
        _branches(circuit, case.temperature, rise_k),
        tuple(known.batteries[s.name].source_v(case.battery) for s in circuit.network.sources),
        tuple(_battery_ohm(known.batteries[s.name], case.temperature) for s in circuit.network.sources),
        tuple(load_state(site.parts[load.name], case, system_v(known)) for load in circuit.network.loads),
        tuple(
            converter_state(site.parts[c.name], known.losses[c.name], case, wanted.get(c.name, 0.0))
            for c in circuit.network.converters
        ),
        tuple(feed_state(site.parts[f.name], case) for f in circuit.network.feeds),
    )


def system_v(known: Figures) -> float:
    """Nominal voltage of the first battery, or of the first charger, or 12 V. [V]"""
    for battery in known.batteries.values():
        return battery.nominal_v
    chargers = [p for p in known.circuit.site.parts.values() if isinstance(p, Charger)]
    return chargers[0].voltage_v if chargers else 12.0


def _battery_ohm(figures: BatteryFigures, temperature: str) -> float:
    return figures.most_cold_ohm if temperature == "cold" else figures.most_hot_ohm


def _branches(circuit: Circuit, temperature: str, rise_k: Mapping[int, float]) -> tuple[float, ...]:
    ohms = [0.0] * len(circuit.network.branches)
    for number, path in circuit.paths.items():
        conductor_c = path.air.low
        if temperature == "hot":
            conductor_c = min(path.air.high + rise_k.get(number, 0.0), max(path.limit_c, path.air.high))
        _spread(
            ohms, circuit.run_branches[number], path.most_ohm(conductor_c), path.fuse_hot_ohm, path.run.wires == "both"
        )
    _inner(circuit, ohms)
    return tuple(ohms)


def fault_branches(circuit: Circuit, extreme: str) -> tuple[float, ...]:
    """Branch resistances for faults: "largest" (cold, least) or "smallest" (at the insulation limit). [Ω]"""
    ohms = [0.0] * len(circuit.network.branches)
    for number, path in circuit.paths.items():
        hottest = max(path.limit_c, path.air.high)
        total = path.least_ohm(path.air.low) if extreme == "largest" else path.most_ohm(hottest)
        fuse = path.fuse_cold_ohm if extreme == "largest" else path.fuse_hot_ohm
        _spread(ohms, circuit.run_branches[number], max(total, 1e-6), fuse, path.run.wires == "both")
    _inner(circuit, ohms)
    return tuple(ohms)


def _spread(ohms: list[float], branches: tuple[int, ...], total: float, fuse: float, both: bool) -> None:
    """Put a run's resistance on its branches; the fuse sits in the positive one."""
    if len(branches) == 1:
        ohms[branches[0]] = max(total, 1e-6)
    elif both:
        ohms[branches[0]] = max((total - fuse) / 2 + fuse, 1e-6)
        ohms[branches[1]] = max((total - fuse) / 2, 1e-6)


def _inner(circuit: Circuit, ohms: list[float]) -> None:
    for name, branch in circuit.inner_branch.items():
        part = circuit.site.parts[name]
        if isinstance(part, EthernetSource):
            ohms[branch] = THROUGH_OHM
        elif isinstance(part, Switch | Disconnect):
            is_open = isinstance(part, Switch) and part.set_to == "open"
            ohms[branch] = OPEN_OHM if is_open else max(part.contact_ohm, 1e-6)


def load_state(part: object, case: Case, reference_v: float) -> LoadState:
    """A load in a case: a device by its state, a disconnect or Ethernet source by its own use."""
    if isinstance(part, Device):
        return _device(part, case, reference_v)
    return LoadState(drawn_w(part, case), floor_v=max(1.0, 0.3 * reference_v))


def _device(part: Device, case: Case, reference_v: float) -> LoadState:
    power = drawn_w(part, case)
    if power <= 0.0:
        return LoadState(0.0)
    window = part.input_v
    nominal = window.nominal if window else reference_v
    cutoff = part.cutoff_v if part.cutoff_v is not None else (window.low if window else _cutoff(part, reference_v))
    floor = max(0.5 * cutoff, 1.0)
    if part.behaves == "constant current":
        return LoadState(0.0, power / nominal, 0.0, floor, cutoff)
    if part.behaves == "resistance":
        return LoadState(0.0, 0.0, power / nominal**2, floor, cutoff)
    return LoadState(power, 0.0, 0.0, floor, cutoff)


def _cutoff(part: Device, reference_v: float) -> float:
    return POWERED_OFF_V if part.over == "ethernet" else 0.4 * reference_v


def converter_state(part: object, losses: Losses, case: Case, wanted_w: float) -> ConverterState:
    """A converter in a case; its set voltage stands low with a low battery, high otherwise.

    `wanted_w` is the output asked for, at which its loss is taken from the curve. [W]
    """
    assert isinstance(part, Converter | EthernetSource)
    output = part.output_v or Span(0.0, 0.0, 0.0)
    set_v = output.high if case.battery in HOLDS_HIGH else output.low
    fraction = losses.fraction_at(wanted_w)
    if isinstance(part, EthernetSource):
        limit = part.budget_w / output.nominal * 1.1 if part.budget_w else float("inf")
        return ConverterState(set_v, 5e-3, losses.idle_w, fraction, 0.0, limit, part.input_v.low)
    lockout = part.lockout.off_v if part.lockout else part.input_v.low
    return ConverterState(set_v, 5e-3, losses.idle_w, fraction, 0.0, part.limit_a or float("inf"), lockout)


def feed_state(part: object, case: Case) -> FeedState:
    """A charger in a case: off unless the case is one of charging."""
    assert isinstance(part, Charger)
    running = case.battery in ("charging", "bulk", "equalising")
    set_v = part.voltage_v
    if case.battery == "equalising" and part.equalising_v is not None:
        set_v = part.equalising_v
    return FeedState(set_v, 2e-3, part.current_a, part.power_w or float("inf"), running)
