"""One view a converter."""

from ..network.cases import Case
from ..network.corner import corner_of
from ..network.demand import drawn_w
from ..network.elements import OperatingPoint
from ..network.operate import ROUNDING, Operation
from ..network.thevenin import faults_at
from ..site.kinds import Converter
from .chain import Chain
from .devices import case_point, earlier
from .tally import NOTHING, Tally
from .views import ConverterView, Worst


def converter_views(operation: Operation, chain: Chain, tally: Tally) -> tuple[ConverterView, ...]:
    """Views of all converters, in the order of the file."""
    parts = [part for part in operation.site.parts.values() if isinstance(part, Converter)]
    seen = dict(zip([part.name for part in parts], _seen_ohm(operation, [f"{p.name} in" for p in parts]), strict=True))
    return tuple(_view(operation, chain, tally, part, seen[part.name]) for part in parts)


def _seen_ohm(operation: Operation, points: list[str]) -> list[tuple[float, float]]:
    """Open-circuit voltage and resistance back to the source at each point, battery low, hot. [V, Ω]"""
    case = Case("behind", "low", "hot", "bare")
    corner = corner_of(operation.known, case, operation.rise_k)
    pairs = [(operation.circuit.positive[p], operation.circuit.negative[p]) for p in points]
    faults = faults_at(operation.circuit.network, corner, pairs)
    return [
        (fault.open_v, fault.open_v / fault.current_a if fault.current_a > 1e-9 else float("inf")) for fault in faults
    ]


def _view(
    operation: Operation, chain: Chain, tally: Tally, part: Converter, seen: tuple[float, float]
) -> ConverterView:
    name, index = part.name, operation.circuit.converter_of[part.name]
    fed = chain.feeder_of(name).kind != "nothing"
    events = [(case.name, event) for case, point in tally.pairs for event in point.events if event.element == name]
    first = [(case, event) for case, event in events if not earlier(chain, case_point(tally, case), name)]
    locked = min((Worst(event.voltage_v, case) for case, event in first), key=lambda w: w.value, default=None)
    volts = tally.volts(f"{name} in")
    running = tally.lowest(volts, lambda case, point: fed and point.converter_mode[index] != "off")
    lowest = min((w for w in (running, locked) if w is not None), key=lambda worst: worst.value, default=None)
    ambient = operation.site.air_at(part.name).high
    heavy = tally.heaviest()
    input_a = round(heavy[1].converter_in_a[index], ROUNDING) if heavy else 0.0
    asked = _asked(operation, chain, tally, name)
    return ConverterView(
        converter=part,
        name=name,
        place=part.place,
        input_lowest=lowest,
        input_highest=tally.highest(volts) if fed else None,
        output_w=asked[0],
        output_peak_w=asked[1],
        output_a=tally.highest_lasting(lambda p: p.converter_out_a[index]),
        input_a=tally.highest(lambda p: p.converter_in_a[index]),
        ambient_c=ambient,
        derated_w=derated_w(part, ambient),
        locked_out=locked,
        victim_of=next((earlier(chain, case_point(tally, c), name) for c, _ in events), "")
        if events and not first
        else "",
        limited=_mode(tally, index, "limiting"),
        passing=_mode(tally, index, "passing"),
        idle_w=part.idle.power_w,
        source_ohm=seen[1],
        source_v=seen[0],
        rebound_v=input_a * seen[1] if seen[1] < 1e6 else 0.0,
        feeds=chain.fed_by(name),
    )


def derated_w(part: Converter, ambient_c: float) -> float | None:
    """What is left of the rating in air of a temperature: full to one point, straight down to the other. [W]"""
    if part.rating_w is None:
        return None
    span = part.nothing_at_c - part.full_until_c
    share = (part.nothing_at_c - ambient_c) / span if span > 0 else float(ambient_c <= part.full_until_c)
    return part.rating_w * min(1.0, max(0.0, share))


def _mode(tally: Tally, index: int, mode: str) -> str:
    return next((case.name for case, point in tally.pairs if point.converter_mode[index] == mode), "")


def _asked(operation: Operation, chain: Chain, tally: Tally, name: str) -> tuple[Worst, Worst]:
    """Largest output asked for: what the devices behind want, or what was delivered with the losses on the way."""
    index = operation.circuit.converter_of[name]
    devices = chain.fed_by(name)

    def wanted(case: Case, point: OperatingPoint) -> float:
        delivered = point.converter_out_a[index] * operation.voltage_v(point, f"{name} out")
        return max(round(delivered, ROUNDING), sum(drawn_w(operation.site.parts[name], case) for name in devices))

    lasting = [Worst(wanted(case, point), case.name) for case, point in tally.lasting()]
    every = [Worst(wanted(case, point), case.name) for case, point in tally.pairs]
    most = [max(found, key=lambda worst: worst.value, default=NOTHING) for found in (lasting, every)]
    return most[0], most[1]
