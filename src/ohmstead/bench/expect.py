"""What the meter should read: value, band and the sensitivity of every reading to every parameter.

To first order y = y0 + S·p, p the strays of the parameters from their nominal values. S comes from one
factorisation of the solver's Jacobian a situation and one transposed solution a reading (adjoint method):
dy/dp = ∂y/∂p − (J⁻ᵀ ∂y/∂v)ᵀ ∂F/∂p, F the currents that leave the nodes.
"""

from collections.abc import Mapping, Sequence
from functools import cached_property

from ..network.elements import Corner, Network, OperatingPoint
from ..network.jacobian import factor, jacobian
from ..network.solve import prepare, program_of, solve
from ..network.state import CURRENT, HOLDING, IDLE, LIMITING, OFF, ON, PASSING, POWER, REGULATING, State, conductance
from ..site.record import record
from .band import half_width
from .points import Point, gradient_of, reading_of
from .situation import UNCHANGED, Bench, Changes, Link, Setting, Situation

CONFIDENCE_FRACTION = 0.95
UNSEEN = 1e-6  # of a meter's last digit for a change of 1 Ω, V or W: such a sensitivity is left out


@record(frozen=True)
class Expectation:
    """What a point should read with its band. `slopes` maps the place of a parameter to the reading's change with it.

    `noise` is what the meter's counts add: a limit, to each side. The accuracy share and the zero of a clamp are
    parameters of kind "meter".
    """

    point: Point
    situation: str
    value: float
    low: float
    high: float
    noise_value: float
    slopes: Mapping[int, float]
    confidence_fraction: float = CONFIDENCE_FRACTION


class Solved:
    """One situation solved, with what sensitivities need; made by `solved`."""

    def __init__(self, bench: Bench, situation: Situation, values: list[float]) -> None:
        self.bench, self.situation, self.values = bench, situation, values
        self.setting = Setting(bench, situation, values)
        self.corner: Corner = self.setting.corner
        self.network: Network = bench.circuit.network
        self.point: OperatingPoint = solve(self.network, self.corner)

    def reading(self, point: Point) -> float:
        """What an exact meter reads at a point. Raises KeyError. [V or A]"""
        true = reading_of(self.bench, self.values, self.corner, self.point, point)
        return true * (1.0 + self._gain(point)) + self._zero_a(point)

    def slopes(self, point: Point) -> dict[int, float]:
        """Change of a reading with each parameter that moves it."""
        nodes, figures, direct = gradient_of(self.bench, self.values, self.corner, self.point, point)
        answer = self._transposed(nodes)
        by_figure, gain = self.by_figure, 1.0 + self._gain(point)
        out = {index: slope * gain for index, slope in direct.items()}
        unseen = UNSEEN * self.bench.meter.function(point.method).scales[0].digit_value
        for key, links in self._links.items():
            rise = figures.get(key, 0.0)
            for node, current in by_figure.get(key, ()):
                rise -= answer[node] * current
            if abs(rise) > unseen:
                for index, _, _, slope in links:
                    out[index] = out.get(index, 0.0) + rise * slope * gain
        at, name = self.bench.at, self.bench.meter.name
        gain_at = at[f"meter {point.method} gain of {name}"]
        true = reading_of(self.bench, self.values, self.corner, self.point, point)
        out[gain_at] = out.get(gain_at, 0.0) + true
        if point.method == "clamp":
            out[at[f"meter clamp zero of {name}"]] = 1.0
        return out

    @cached_property
    def _links(self) -> dict[tuple[str, int], list[Link]]:
        """Parameters and their effect, by the figure of the corner that they move."""
        found = {("branch_ohm", branch): links for branch, links in self.setting.by_branch.items()}
        for link in self.setting.own_links:
            found.setdefault((link[1], link[2]), []).append(link)
        return found

    def _gain(self, point: Point) -> float:
        return self.values[self.bench.at[f"meter {point.method} gain of {self.bench.meter.name}"]]

    def _zero_a(self, point: Point) -> float:
        return (
            self.values[self.bench.at[f"meter clamp zero of {self.bench.meter.name}"]]
            if point.method == "clamp"
            else 0.0
        )

    @cached_property
    def state(self) -> State:
        """In which mode each element works."""
        p, network = self.point, self.network
        modes = {"off": OFF, "regulating": REGULATING, "limiting": LIMITING, "passing": PASSING}
        converters = [modes[mode] for mode in p.converter_mode]
        for i, c in enumerate(network.converters):
            out_v = p.voltage_v[c.output_positive] - p.voltage_v[c.output_negative]
            if converters[i] == REGULATING and self.corner.converters[i].set_v < out_v - 1e-9:
                converters[i] = IDLE
        feeds = {"off": OFF, "holding": HOLDING, "current limit": CURRENT, "power limit": POWER}
        loads = [ON if on else OFF for on in p.load_on]
        return State(loads, converters, [feeds[mode] for mode in p.feed_mode])

    @cached_property
    def _factors(self) -> tuple[list[tuple[int, float, dict[int, float]]], list[tuple[int, dict[int, float]]]]:
        rows = jacobian(self.network, self.corner, self.state, self.point.voltage_v)
        for k, pin_s in enumerate(prepare(self.network, self.corner).reach(self.state).pins, 1):
            if pin_s:
                rows[k][k] = rows[k].get(k, 0.0) + pin_s
        plan = program_of(self.network).plan
        order = [step.node for step in (*plan.fixed, *plan.moving)]
        pivots, lower, upper = factor(rows, plan)
        return [(p, pivots[p], upper[p]) for p in order], [(p, lower[p]) for p in reversed(order)]

    def _transposed(self, right: Mapping[int, float]) -> list[float]:
        """J⁻ᵀ · right."""
        x = [0.0] * len(self.network.nodes)
        for node, value in right.items():
            x[node] += value
        forth, back = self._factors
        for p, pivot, row in forth:
            if x[p]:
                x[p] = value = x[p] / pivot
                for j, u in row.items():
                    x[j] -= u * value
        for p, column in back:
            for i, l in column.items():
                x[p] -= l * x[i]
        x[0] = 0.0
        return x

    @cached_property
    def by_figure(self) -> dict[tuple[str, int], tuple[tuple[int, float], ...]]:
        """Change of the current leaving each node with each figure of the corner."""
        found: dict[tuple[str, int], tuple[tuple[int, float], ...]] = {}
        corner, network, p, state = self.corner, self.network, self.point, self.state
        for i, branch in enumerate(network.branches):
            slope = -p.branch_a[i] / corner.branch_ohm[i]
            found["branch_ohm", i] = ((branch.start, slope), (branch.end, -slope))
        for i, source in enumerate(network.sources):
            g = conductance(corner.source_ohm[i])
            found["source_v", i] = ((source.positive, -g), (source.negative, g))
            slope = p.source_a[i] * g
            found["source_ohm", i] = ((source.positive, slope), (source.negative, -slope))
        for i, load in enumerate(network.loads):
            if state.load[i] == ON:
                volts = p.voltage_v[load.positive] - p.voltage_v[load.negative]
                held = max(volts, corner.loads[i].floor_v)
                for figure, slope in (("load_w", volts / held**2), ("load_a", volts / held), ("load_s", volts)):
                    found[figure, i] = ((load.positive, slope), (load.negative, -slope))
        found |= self._by_converter(state)
        for i, feed in enumerate(network.feeds):
            if state.feed[i] == HOLDING:
                g = conductance(corner.feeds[i].output_ohm)
                found["feed_v", i] = ((feed.positive, -g), (feed.negative, g))
            elif state.feed[i] == CURRENT:
                found["feed_a", i] = ((feed.positive, -1.0), (feed.negative, 1.0))
        return found

    def _by_converter(self, state: State) -> dict[tuple[str, int], tuple[tuple[int, float], ...]]:
        found: dict[tuple[str, int], tuple[tuple[int, float], ...]] = {}
        v = self.point.voltage_v
        for i, c in enumerate(self.network.converters):
            if state.converter[i] == OFF:
                continue
            law = self.corner.converters[i]
            in_v, out_v = v[c.input_positive] - v[c.input_negative], v[c.output_positive] - v[c.output_negative]
            taken, returned = c.input_positive, c.input_negative
            found["loss_w", i] = ((taken, 1.0 / in_v), (returned, -1.0 / in_v))
            if state.converter[i] not in (REGULATING, LIMITING):
                continue
            g = conductance(law.output_ohm) if state.converter[i] == REGULATING else 0.0
            output_w = self.point.converter_out_a[i] * out_v
            found["loss_fraction", i] = ((taken, output_w / in_v), (returned, -output_w / in_v))
            drawn = (1.0 + law.loss_fraction + 2.0 * law.loss_per_w * output_w) * out_v * g / in_v
            given, back = c.output_positive, c.output_negative
            found["set_v", i] = ((taken, drawn), (returned, -drawn), (given, -g), (back, g))
        return found


def solved(bench: Bench, situation: Situation, changes: Changes = UNCHANGED) -> Solved:
    """A situation solved, with some parameters changed. Raises KeyError for an unknown parameter."""
    return Solved(bench, situation, bench.values(changes))


def predict(
    bench: Bench, situation: Situation, points: Sequence[Point], changes: Changes = UNCHANGED
) -> tuple[float, ...]:
    """What an exact meter reads at each point, with some parameters changed. Raises KeyError. [V or A]"""
    found = solved(bench, situation, changes)
    return tuple(found.reading(point) for point in points)


def expectations(
    bench: Bench, situation: Situation, points: Sequence[Point], confidence_fraction: float = CONFIDENCE_FRACTION
) -> tuple[Expectation, ...]:
    """Value, band and sensitivities of each point. Raises KeyError for a point that the site has not."""
    found = solved(bench, situation)
    return tuple(expectation_at(found, point, confidence_fraction) for point in points)


def expectation_at(found: Solved, point: Point, confidence_fraction: float = CONFIDENCE_FRACTION) -> Expectation:
    """Value, band and sensitivities of one point."""
    bench, value = found.bench, found.reading(point)
    slopes = found.slopes(point)
    noise = bench.meter.function(point.method).counts(value)
    half = band_of(bench, slopes, noise, confidence_fraction)
    return Expectation(
        point, found.situation.name, value, value - half, value + half, noise, slopes, confidence_fraction
    )


def band_of(bench: Bench, slopes: Mapping[int, float], noise_value: float, confidence_fraction: float) -> float:
    """Half-width of the band of a reading with these sensitivities."""
    halves, sigmas = bench.halves, bench.sigmas
    limits = [noise_value, *[slope * halves[index] for index, slope in slopes.items()]]
    variance = sum([(slope * sigmas[index]) ** 2 for index, slope in slopes.items()])
    return half_width(limits, variance**0.5, confidence_fraction)


def matrix(bench: Bench, rows: Sequence[Expectation]) -> list[list[float]]:
    """The sensitivities as a full matrix: one row a reading, one column a parameter in the order of `bench`."""
    n = len(bench.parameters)
    return [[row.slopes.get(k, 0.0) for k in range(n)] for row in rows]
