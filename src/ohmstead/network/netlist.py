"""A corner as a netlist for ngspice: the same laws, the modes chosen by expressions.

Node n of the network is `n<n>` (node 0 is `0`), elements are `rw<i>` wires, `vs<i>`/`rs<i>` batteries,
`bl<i>` loads, `bci<i>`/`bco<i>` converter input and output, `bf<i>` chargers. Names from the site appear
only in comments, reduced to letters and digits. What browns out or locks out is not taken off here.
"""

from collections.abc import Sequence

from .elements import OPEN_OHM, ConverterState, Corner, FeedState, LoadState, Network
from .reach import reach, start_voltages
from .state import (
    LEAST_OHM,
    OFF,
    State,
    feed_floor_v,
    first_state,
    input_floor_v,
)

LEAST_A = -1e-6  # not zero: an unloaded output would sit on the corner of its law, without a slope
OPTIONS = ".options reltol=1e-9 abstol=1e-10 vntol=1e-9 gmin=1e-15 itl1=500 itl2=500 noopiter=0"


def netlist(network: Network, corner: Corner) -> str:
    """The corner as text for `ngspice -b`, with every node voltage printed."""
    nodes = [name for k in range(1, len(network.nodes)) if (name := node_name(k))]
    lines = [f"* {plain(corner.name)}", *elements(network, corner), OPTIONS, ".control", "set numdgt=14", "op"]
    lines += [f"print v({name})" for name in nodes]
    return "\n".join([*lines, ".endc", ".end", ""])


def elements(network: Network, corner: Corner, state: State | None = None) -> list[str]:
    """The element lines with start voltages. Elements that are off in `state` are left out."""
    state = state or first_state(corner)
    ground = reach(network, corner, state)
    off_loads = {i for i, mode in enumerate(state.load) if mode == OFF} | set(ground.dead_loads)
    off_converters = {i for i, mode in enumerate(state.converter) if mode == OFF} | set(ground.dead_converters)
    lines = [f"* node n{k} {plain(name)}" for k, name in enumerate(network.nodes) if k]
    for i, (branch, ohm) in enumerate(zip(network.branches, corner.branch_ohm, strict=True)):
        if ohm < OPEN_OHM:
            ends = f"{node_name(branch.start)} {node_name(branch.end)}"
            lines.append(f"rw{i} {ends} {max(ohm, LEAST_OHM)!r} ; {plain(branch.name)}")
    for i, source in enumerate(network.sources):
        ohm = corner.source_ohm[i]
        if ohm < OPEN_OHM:
            lines.append(f"vs{i} e{i} {node_name(source.negative)} {corner.source_v[i]!r} ; {plain(source.name)}")
            lines.append(f"rs{i} e{i} {node_name(source.positive)} {max(ohm, LEAST_OHM)!r}")
    for i, (load, law) in enumerate(zip(network.loads, corner.loads, strict=True)):
        ends = f"{node_name(load.positive)} {node_name(load.negative)}"
        if i not in off_loads:
            volts = across(load.positive, load.negative)
            lines.append(f"bl{i} {ends} i={load_law(law, volts)} ; {plain(load.name)}")
        if law.conductance_s > 0.0 and state.load[i] != OFF:
            lines.append(f"rl{i} {ends} {1.0 / law.conductance_s!r}")
    for i, (c, given) in enumerate(zip(network.converters, corner.converters, strict=True)):
        if i not in off_converters:
            taken, out = across(c.input_positive, c.input_negative), across(c.output_positive, c.output_negative)
            inward, outward = converter_laws(c.kind, given, taken, out)
            ends = f"{node_name(c.output_negative)} {node_name(c.output_positive)}"
            lines.append(f"bco{i} {ends} i={outward} ; {plain(c.name)}")
            lines.append(f"bci{i} {node_name(c.input_positive)} {node_name(c.input_negative)} i={inward}")
    for i, (feed, rule) in enumerate(zip(network.feeds, corner.feeds, strict=True)):
        if rule.running:
            ends = f"{node_name(feed.negative)} {node_name(feed.positive)}"
            law_text = feed_law(rule, across(feed.positive, feed.negative))
            lines.append(f"bf{i} {ends} i={law_text} ; {plain(feed.name)}")
    lines += [f"rp{k} n{k} 0 {1.0 / pin_s!r}" for k, pin_s in enumerate(ground.pins, 1) if pin_s]
    start_v = start_voltages(network, corner, ground.walk)[0]
    lines += nodeset(start_v)
    return lines


def nodeset(voltage_v: Sequence[float]) -> list[str]:
    """Start voltages: the simulator, too, has to come from above."""
    return [f".nodeset v(n{k})={v!r}" for k, v in enumerate(voltage_v) if k]


def node_name(node: int) -> str:
    """The simulator's name of a node."""
    return f"n{node}" if node else "0"


def plain(name: str) -> str:
    """A name reduced to letters and digits of ASCII."""
    return "".join([sign for sign in name if sign.isascii() and sign.isalnum()])[:40]


def across(positive: int, negative: int) -> str:
    """The voltage between two nodes as an expression."""
    if not negative:
        return f"v({node_name(positive)})" if positive else "0"
    return f"v({node_name(positive)},{node_name(negative)})" if positive else f"(-v({node_name(negative)}))"


def load_law(law: LoadState, volts: str) -> str:
    """Constant power and current above the floor, a resistance below it."""
    floor = law.floor_v
    below = (law.power_w / floor + law.current_a) / floor
    return f"{volts} > {floor!r} ? {law.power_w!r}/{volts} + {law.current_a!r} : {below!r}*{volts}"


def converter_laws(kind: str, law: ConverterState, taken: str, out: str) -> tuple[str, str]:
    """Input and output current as expressions."""
    held = f"({law.set_v!r}-{out})*{1.0 / max(law.output_ohm, LEAST_OHM)!r}"
    own = f"min({held},{law.limit_a!r})" if law.limit_a < float("inf") else held
    through = f"({taken}-{law.pass_drop_v!r}-{out})*{1.0 / max(law.pass_ohm, LEAST_OHM)!r}"
    p = f"(max({own},{LEAST_A})*{out})"
    floor = input_floor_v(law)
    share = f"({taken} > {floor!r} ? 1/{taken} : {taken}*{1.0 / floor**2!r})"
    working = f"({law.loss_w!r}+{p}*({1.0 + law.loss_fraction!r}+{law.loss_per_w!r}*{p}))*{share}"
    if kind == "buck-boost":
        return working, f"max({own},{LEAST_A})"
    passing = f"max({through},{LEAST_A})"
    idle = f"{law.loss_w!r}*{share}"
    sign = ">" if kind == "boost" else "<"
    inward = f"({through} {sign} {own}) ? {passing}+{idle} : {working}"
    both = "max" if kind == "boost" else "min"
    return inward, f"max({both}({own},{through}),{LEAST_A})"


def feed_law(law: FeedState, volts: str) -> str:
    """A charger: held voltage, bounded in current and in power, never taking current back."""
    held = f"({law.set_v!r}-{volts})*{1.0 / max(law.output_ohm, LEAST_OHM)!r}"
    bounds = [held]
    if law.limit_a < float("inf"):
        bounds.append(f"{law.limit_a!r}")
    if law.limit_w < float("inf"):
        floor = feed_floor_v(law)
        bounds.append(f"{law.limit_w!r}/max({volts},{floor!r})")
    text = bounds[0]
    for bound in bounds[1:]:
        text = f"min({text},{bound})"
    return f"max({text},{LEAST_A})"
