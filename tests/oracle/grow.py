"""Networks grown from a seed: trees and meshes, lumped or separate returns, several sources, converters."""

from dataclasses import replace
from random import Random

from ohmstead.network.elements import (
    Branch,
    Converter,
    ConverterState,
    Corner,
    Feed,
    FeedState,
    Load,
    LoadState,
    Network,
    Source,
)
from ohmstead.network.margin import loading_margin


class _Bed:
    """Elements and their figures while a network grows."""

    def __init__(self, seed: int) -> None:
        self.dice = Random(seed)
        self.n_node = 1
        self.branches: list[Branch] = []
        self.branch_ohm: list[float] = []
        self.sources: list[Source] = []
        self.source_v: list[float] = []
        self.source_ohm: list[float] = []
        self.loads: list[Load] = []
        self.load_states: list[LoadState] = []
        self.converters: list[Converter] = []
        self.converter_states: list[ConverterState] = []
        self.feeds: list[Feed] = []
        self.feed_states: list[FeedState] = []

    def node(self) -> int:
        self.n_node += 1
        return self.n_node - 1

    def wire(self, a: int, b: int, ohm: float) -> None:
        self.branches.append(Branch(f"w{len(self.branches)}", a, b))
        self.branch_ohm.append(ohm)

    def cable(self, point: tuple[int, int], ohm: float) -> tuple[int, int]:
        """A two-wire point further on; where the return is apart both wires have half of the resistance."""
        positive, negative = point
        far = self.node()
        if negative or self.dice.random() < 0.15:
            back = self.node()
            self.wire(positive, far, 0.5 * ohm)
            self.wire(back, negative, 0.5 * ohm)
            return far, back
        self.wire(positive, far, ohm)
        return far, negative

    def load(self, point: tuple[int, int], volts: float, watts: float) -> None:
        kind = self.dice.random()
        current_a = conductance_s = 0.0
        if kind < 0.15:
            current_a, watts = 0.3 * watts / volts, 0.7 * watts
        elif kind < 0.3:
            conductance_s, watts = 0.4 * watts / volts**2, 0.6 * watts
        elif kind < 0.4:
            conductance_s, watts = watts / volts**2, 0.0
        self.loads.append(Load(f"load {len(self.loads)}", *point))
        self.load_states.append(LoadState(watts, current_a, conductance_s, 0.1 * volts, 0.0))

    def converter(self, point: tuple[int, int], volts: float, watts: float) -> tuple[tuple[int, int], float]:
        """A converter at a point; returns its output point and voltage."""
        dice = self.dice
        kind = dice.choice(["buck", "boost", "buck-boost"])
        if kind == "buck":
            set_v = dice.choice([0.25, 0.5]) * volts
            if dice.random() < 0.1:
                set_v = 1.2 * volts  # cannot reach it: follows its input
        elif kind == "boost":
            set_v = dice.choice([1.6, 2.0, 4.0]) * volts if volts < 20 else 1.6 * volts
            if dice.random() < 0.1:
                set_v = 0.7 * volts  # its input is higher: passes it through
        else:
            set_v = dice.choice([5.0, 12.0, 19.0, 48.0])
        isolated = dice.random() < 0.2
        positive = self.node()
        negative = self.node() if isolated else point[1]
        self.converters.append(Converter(f"converter {len(self.converters)}", kind, *point, positive, negative))
        limit_a = dice.uniform(0.2, 2.0) * watts / set_v
        self.converter_states.append(
            ConverterState(
                set_v,
                dice.choice([1e-3, 5e-3, 0.05]),
                loss_w=0.004 * watts * dice.random(),
                loss_fraction=0.08 * dice.random(),
                loss_per_w=0.05 / watts * dice.random(),
                limit_a=limit_a if dice.random() < 0.7 else float("inf"),
                pass_drop_v=dice.choice([0.0, 0.4]),
            )
        )
        if kind == "buck":
            set_v = min(set_v, volts)
        return (positive, negative), max(set_v, volts) if kind == "boost" else set_v

    def done(self, name: str) -> tuple[Network, Corner]:
        nodes = ("common negative", *(f"node {k}" for k in range(1, self.n_node)))
        network = Network(
            nodes,
            tuple(self.branches),
            tuple(self.sources),
            tuple(self.loads),
            tuple(self.converters),
            tuple(self.feeds),
        )
        corner = Corner(
            name,
            tuple(self.branch_ohm),
            tuple(self.source_v),
            tuple(self.source_ohm),
            tuple(self.load_states),
            tuple(self.converter_states),
            tuple(self.feed_states),
        )
        return network, corner


def scaled(corner: Corner, factor: float) -> Corner:
    """The corner with all constant power multiplied."""
    loads = tuple(replace(load, power_w=factor * load.power_w) for load in corner.loads)
    return replace(corner, loads=loads)


def at_margin(network: Network, corner: Corner, wanted: float) -> Corner:
    """The corner with its constant power scaled so that its loading margin is `wanted`."""
    factor = loading_margin(network, corner).factor
    return corner if factor > 1e3 else scaled(corner, factor / wanted)


def grow(seed: int, most_converters: int = 8) -> tuple[Network, Corner]:
    """A lightly loaded supply with 1 to about 80 nodes."""
    bed = _Bed(seed)
    dice = bed.dice
    volts = dice.choice([12.8, 25.6, 51.2])
    most = dice.choice([1, 3, 8, 20, 40, 60, 78])
    battery = bed.node()
    bed.sources.append(Source("bank", battery, 0))
    bed.source_v.append(volts * dice.uniform(0.9, 1.06))
    bed.source_ohm.append(volts**2 / dice.uniform(6e3, 3e4))
    budget_w = dice.uniform(60, 600)
    points: list[tuple[tuple[int, int], float]] = [((battery, 0), volts)]
    if most > 3 and dice.random() < 0.4:
        second = bed.node()
        bed.sources.append(Source("bank 2", second, 0))
        bed.source_v.append(bed.source_v[0] + dice.uniform(-0.1, 0.1))
        bed.source_ohm.append(bed.source_ohm[0] * dice.uniform(0.7, 2.0))
        bed.wire(second, battery, dice.uniform(1e-3, 8e-3))
    if dice.random() < 0.4:
        bed.feeds.append(Feed("charger", battery, 0))
        limit_a = dice.uniform(2, 20)
        limit_w = dice.choice([float("inf"), 0.8 * limit_a * volts])
        bed.feed_states.append(FeedState(volts * dice.uniform(1.0, 1.12), 2e-3, limit_a, limit_w))
    n_load = 0
    expected = max(1, most // 3)
    while bed.n_node <= most or not n_load:
        place = points[dice.randrange(len(points))]
        point, level = place if dice.random() < 0.5 else points[-1]
        share_w = budget_w / expected * dice.uniform(0.3, 1.5)
        ohm = level**2 / max(share_w, 1.0) * dice.choice([0.001, 0.003, 0.01])
        far = bed.cable(point, ohm)
        what = dice.random()
        if what < 0.35:
            points.append((far, level))
        elif what < 0.55 and level > 4.0 and len(bed.converters) < most_converters and bed.n_node > 3:
            points.append(bed.converter(far, level, 2.5 * share_w))
        else:
            bed.load(far, level, share_w)
            n_load += 1
    if dice.random() < 0.4:  # close some loops among points of equal level
        for _ in range(3):
            (a, level_a), (b, level_b) = dice.choice(points), dice.choice(points)
            if a != b and level_a == level_b == volts and a[1] == b[1] == 0:
                bed.wire(a[0], b[0], dice.uniform(5e-3, 0.2))
    return bed.done(f"grown {seed}")
