"""Where the probes go: voltage at a part, current in a run, drop across a joint or a run."""

from ..network.elements import Corner, OperatingPoint
from ..site.record import record
from .situation import Bench
from .wires import RunParts

# Gradient of a reading: by node voltage, and by figures of the corner; then drops by parameter directly.
Gradient = tuple[dict[int, float], dict[tuple[str, int], float], dict[int, float]]


@record(frozen=True)
class Point:
    """One place to measure.

    quantity "voltage": `at` is a point of the network (a part, or "part in" / "part out"): between its two wires.
    quantity "current": `at` is a run's name or a battery's name. Positive from supply to load.
    quantity "drop": `at` is a run's name, `place` "run" (both poles together), "leg +" or "leg -" (one pole from end
    to end) or a place of `RunParts.places`.
    method "volts", "amps" (meter in series) or "clamp".
    """

    quantity: str
    at: str
    place: str = ""
    method: str = "volts"

    @property
    def id(self) -> str:
        """How a stored reading names it: "voltage at router", "drop bank -> bar: near +"."""
        if self.quantity == "drop":
            return f"drop {self.at}: {self.place}"
        return f"{self.quantity} at {self.at}" + (" by clamp" if self.method == "clamp" else "")

    @property
    def dimension(self) -> str:
        """The dimension of its reading."""
        return "current" if self.quantity == "current" else "voltage"


def run_named(bench: Bench, name: str) -> RunParts:
    """The run of a name. Raises KeyError."""
    return bench.run_of[name]


def reading_of(bench: Bench, values: list[float], corner: Corner, solved: OperatingPoint, point: Point) -> float:
    """What an exact meter reads. Raises KeyError for a point that the site has not. [V or A]"""
    v, circuit = solved.voltage_v, bench.circuit
    if point.quantity == "voltage":
        return v[circuit.positive[point.at]] - v[circuit.negative[point.at]]
    if point.quantity == "current" and point.at in circuit.source_of:
        return solved.source_a[circuit.source_of[point.at]]
    run = run_named(bench, point.at)
    if point.quantity == "current":
        sign = -1.0 if run.poles == ("-",) else 1.0
        return sign * solved.branch_a[run.branches[0]] if run.branches else 0.0
    if point.place == "run":
        return sum(solved.branch_a[b] * corner.branch_ohm[b] for b in run.branches if _closed(corner, b))
    branch = run.branch_of(point.place)
    return solved.branch_a[branch] * run.place_ohm(values, point.place)[0]


def gradient_of(bench: Bench, values: list[float], corner: Corner, solved: OperatingPoint, point: Point) -> Gradient:
    """How a reading answers to node voltages, to figures of the corner, and to parameters directly."""
    circuit = bench.circuit
    network = circuit.network
    nodes: dict[int, float] = {}
    figures: dict[tuple[str, int], float] = {}

    def add(node: int, slope: float) -> None:
        nodes[node] = nodes.get(node, 0.0) + slope

    if point.quantity == "voltage":
        add(circuit.positive[point.at], 1.0)
        add(circuit.negative[point.at], -1.0)
        return nodes, figures, {}
    if point.quantity == "current" and point.at in circuit.source_of:
        index = circuit.source_of[point.at]
        source, ohm = network.sources[index], corner.source_ohm[index]
        add(source.positive, -1.0 / ohm)
        add(source.negative, 1.0 / ohm)
        figures["source_v", index] = 1.0 / ohm
        figures["source_ohm", index] = -solved.source_a[index] / ohm
        return nodes, figures, {}
    run = run_named(bench, point.at)
    branches = run.branches if point.place == "run" else run.branches[:1]
    if point.quantity == "drop" and point.place != "run":
        branches = (run.branch_of(point.place),)
    direct: dict[int, float] = {}
    for b in branches:
        if not _closed(corner, b):
            continue
        ohm, branch = corner.branch_ohm[b], network.branches[b]
        weight = -1.0 if run.poles == ("-",) and point.quantity == "current" else 1.0
        if point.place == "run":
            weight = ohm
        elif point.quantity == "drop":
            weight, slopes = run.place_ohm(values, point.place)
            direct = {k: slope * solved.branch_a[b] for k, slope in slopes.items()}
        add(branch.start, weight / ohm)
        add(branch.end, -weight / ohm)
        if point.place != "run":
            figures["branch_ohm", b] = -weight * solved.branch_a[b] / ohm
    return nodes, figures, direct


def _closed(corner: Corner, branch: int) -> bool:
    return corner.branch_ohm[branch] != float("inf")
