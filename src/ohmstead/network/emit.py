"""Newton's iteration of one topology written out as straight-line Python source, and compiled.

The source is made from integers and fixed letters only; no text of a site file ever reaches it. It uses
nothing but arithmetic and one comparison, so that the same code runs on floats and on numpy arrays.

Three functions come out, see `Program`. Equations are in companion form: the step solves J·v' = J·v - F
for the next voltages v' without pivoting, which is safe while the diagonal dominates; the driver checks.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from .elements import Feed, Load, Network
from .plan import Pivot, Plan, make_plan, pair

Vector = Any  # a tuple of floats, or of arrays with one element a case


@dataclass(frozen=True, slots=True)
class Program:
    """The compiled pieces of one topology.

    prepare(linear) -> (kept, back): the equations of the moving nodes with everything linear in them.
    step(kept, ports, v) -> (v', pivots): one Newton step on the moving nodes.
    finish(back, v) -> voltages of the fixed nodes.
    `moving` and `fixed` name the nodes in the order of these tuples. `bends` lists everything that draws
    power as (first place in `ports`, positive node, negative node, number of places).
    """

    plan: Plan
    prepare: Callable[..., tuple[Vector, Vector]]
    step: Callable[..., tuple[Vector, Vector]]
    finish: Callable[..., Vector]
    moving: tuple[int, ...]
    fixed: tuple[int, ...]
    bends: tuple[tuple[int, int, int, int], ...]


class _Cells:
    """Matrix cells as variables: terms are gathered and written out when a cell is first read."""

    def __init__(self, plan: Plan) -> None:
        self.lopsided = plan.lopsided
        self.lines: list[str] = []
        self.terms: dict[str, list[str]] = {}
        self.known: set[str] = set()

    def matrix(self, row: int, column: int) -> str:
        """The name of a cell; a pair that stays symmetric has one name."""
        if row == column:
            return f"d{row}"
        low, high = pair(row, column)
        return f"m{row}_{column}" if (low, high) in self.lopsided else f"m{low}_{high}"

    def add(self, name: str, term: str) -> None:
        """Add a signed term to a cell."""
        self.terms.setdefault(name, []).append(term)

    def has(self, name: str) -> bool:
        """Whether anything was ever put into a cell."""
        return name in self.terms or name in self.known

    def read(self, name: str) -> str:
        """The cell's name, after its waiting terms are written out."""
        waiting = self.terms.pop(name, None)
        if waiting is not None:
            text = "".join(waiting)
            if name in self.known:
                text = name + text
            self.lines.append(f"{name}={text[1:] if text[0] == '+' else text}")
            self.known.add(name)
        return name

    def couple(self, row: tuple[int, int], column: tuple[int, int], term: str, signs: str = "+-") -> None:
        """Stamp a conductance: the current of port `row` answers to the voltage of port `column`.

        `signs` "-+" stamps its negative.
        """
        for i, plus_row in ((row[0], True), (row[1], False)):
            for j, plus_column in ((column[0], True), (column[1], False)):
                if i and j and (i <= j or row != column or pair(i, j) in self.lopsided):
                    self.add(self.matrix(i, j), signs[plus_row != plus_column] + term)

    def inject(self, positive: int, negative: int, term: str) -> None:
        """Stamp a current into `positive` and out of `negative`."""
        if positive:
            self.add(f"b{positive}", "+" + term)
        if negative:
            self.add(f"b{negative}", "-" + term)

    def eliminate(self, pivots: tuple[Pivot, ...]) -> None:
        """Forward elimination of matrix and right side."""
        for pivot in pivots:
            p = pivot.node
            self.lines.append(f"r{p}=1/{self.read(f'd{p}')}")
            near = [i for i in pivot.neighbours if self.has(self.matrix(p, i)) or self.has(self.matrix(i, p))]
            for i in near:
                down = self.matrix(i, p)
                if not self.has(down):
                    continue
                factor = f"l{i}_{p}"
                self.lines.append(f"{factor}={self.read(down)}*r{p}")
                if self.has(f"b{p}"):
                    self.add(f"b{i}", f"-{factor}*{self.read(f'b{p}')}")
                for j in near:
                    across, target = self.matrix(p, j), self.matrix(i, j)
                    if self.has(across) and (i <= j or pair(i, j) in self.lopsided):
                        self.add(target, f"-{factor}*{self.read(across)}")


def source_of(network: Network, plan: Plan) -> str:
    """The Python source of a topology's three functions."""
    moving = [pivot.node for pivot in plan.moving]
    cells, kept = _kept_names(network, plan)
    back, finish = _finish(cells, plan)
    lines = ["def prepare(a):", f" {_tuple(_linear_names(network, plan.n_node))}=a"]
    lines += [f" {line}" for line in cells.lines]
    lines.append(f" return {_tuple(kept)},{_tuple(back)}")

    lines += _step_lines(network, plan, kept, _stamp_ports)
    lines += ["def finish(c,v):", f" {_tuple(back)}=c", f" {_tuple([f'x{k}' for k in moving])}=v"]
    lines += [f" {line}" for line in finish]
    lines.append(f" return {_tuple([f'x{pivot.node}' for pivot in plan.fixed])}")
    return "\n".join(lines) + "\n"


def _step_lines(network: Network, plan: Plan, kept: list[str], stamp: Callable[[_Cells, Network], None]) -> list[str]:
    """The function `step`, with the ports stamped in one of two ways."""
    moving = [pivot.node for pivot in plan.moving]
    step = _Cells(plan)
    step.known.update(kept)
    stamp(step, network)
    step.eliminate(plan.moving)
    for pivot in reversed(plan.moving):
        p = pivot.node
        value = step.read(f"b{p}") if step.has(f"b{p}") else "0.0"
        near = "".join(f"-{step.matrix(p, j)}*x{j}" for j in pivot.neighbours if step.has(step.matrix(p, j)))
        step.lines.append(f"x{p}=({value}{near})*r{p}")
    lines = ["def step(c,p,v):", f" {_tuple(kept)}=c", f" {_tuple(_port_names(network))}=p"]
    lines.append(f" {_tuple([f'v{k}' for k in moving])}=v")
    lines += [f" {line}" for line in step.lines]
    lines.append(f" return {_tuple([f'x{k}' for k in moving])},{_tuple([f'd{k}' for k in moving])}")
    return lines


def _kept_names(network: Network, plan: Plan) -> tuple[_Cells, list[str]]:
    """The equations of the moving nodes after the fixed ones are eliminated: cells, and their names in order."""
    moving = [pivot.node for pivot in plan.moving]
    cells = _Cells(plan)
    _stamp_linear(cells, network)
    cells.eliminate(plan.fixed)
    cell_pairs = [(i, j) for i in moving for j in moving if i <= j or pair(i, j) in plan.lopsided]
    kept = [name for i, j in cell_pairs if cells.has(name := cells.matrix(i, j))]
    kept += [f"b{k}" for k in moving if cells.has(f"b{k}")]
    for name in kept:
        cells.read(name)
    return cells, kept


def compile_high_step(network: Network, plan: Plan) -> Callable[..., tuple[Vector, Vector]]:
    """`step` for voltages above every floor: fewer operations, for arrays."""
    lines = _step_lines(network, plan, _kept_names(network, plan)[1], _stamp_high_ports)
    room: dict[str, Any] = {"__builtins__": {}}
    exec(compile("\n".join(lines) + "\n", "<network>", "exec", dont_inherit=True), room)
    step: Callable[..., tuple[Vector, Vector]] = room["step"]
    return step


def compile_program(network: Network) -> Program:
    """Plan a topology, write its source and compile it."""
    plan = make_plan(network)
    room: dict[str, Any] = {"__builtins__": {}}
    exec(compile(source_of(network, plan), "<network>", "exec", dont_inherit=True), room)
    moving = tuple(pivot.node for pivot in plan.moving)
    fixed = tuple(pivot.node for pivot in plan.fixed)
    bends = [(3 * i, load.positive, load.negative, 3) for i, load in enumerate(network.loads)]
    first = 3 * (len(network.loads) + len(network.feeds))
    for i, c in enumerate(network.converters):
        bends.append((first + 6 * i + 2, c.input_positive, c.input_negative, 4))
    return Program(plan, room["prepare"], room["step"], room["finish"], moving, fixed, tuple(bends))


def _tuple(names: list[str]) -> str:
    return f"({','.join(names)},)" if names else "()"


def _linear_names(network: Network, n_node: int) -> list[str]:
    """Arguments of `prepare`: the order `stamps.linear` fills."""
    names = [f"g{i}" for i in range(len(network.branches))]
    for i in range(len(network.sources)):
        names += [f"s{i}", f"q{i}"]
    names += [f"k{i}" for i in range(len(network.loads))]
    for i in range(len(network.converters)):
        names += [f"u{i}", f"y{i}", f"a{i}", f"z{i}"]
    for i in range(len(network.feeds)):
        names += [f"f{i}", f"h{i}"]
    return names + [f"t{i}" for i in range(1, n_node)]


def _port_names(network: Network) -> list[str]:
    """Arguments `p` of `step`: the order `stamps.ports` fills."""
    names: list[str] = []
    for i in range(len(network.loads) + len(network.feeds)):
        names += [f"w{i}", f"i{i}", f"f{i}"]
    for i in range(len(network.converters)):
        names += [f"u{i}", f"y{i}", f"ka{i}", f"kb{i}", f"kc{i}", f"n{i}"]
    return names


def _stamp_linear(cells: _Cells, network: Network) -> None:
    """Everything that keeps its slope. On arrays, what seldom varies comes first: numbers add up before arrays."""
    for k in range(1, len(network.nodes)):
        cells.add(f"d{k}", f"+t{k}")
    for i, load in enumerate(network.loads):
        ends = (load.positive, load.negative)
        cells.couple(ends, ends, f"k{i}")
    for i, converter in enumerate(network.converters):
        taken = (converter.input_positive, converter.input_negative)
        given = (converter.output_positive, converter.output_negative)
        cells.couple(given, given, f"u{i}")
        cells.couple(given, given, f"a{i}")
        cells.couple(taken, taken, f"a{i}")
        cells.couple((given[1], given[0]), taken, f"a{i}")
        cells.couple((taken[1], taken[0]), given, f"a{i}")
        cells.inject(*given, f"y{i}")
        cells.inject(given[1], given[0], f"z{i}")
        cells.inject(*taken, f"z{i}")
    for i, feed in enumerate(network.feeds):
        ends = (feed.positive, feed.negative)
        cells.couple(ends, ends, f"f{i}")
        cells.inject(*ends, f"h{i}")
    for i, branch in enumerate(network.branches):
        ends = (branch.start, branch.end)
        cells.couple(ends, ends, f"g{i}")
    for i, source in enumerate(network.sources):
        ends = (source.positive, source.negative)
        cells.couple(ends, ends, f"s{i}")
        cells.inject(*ends, f"q{i}")


def _stamp_ports(cells: _Cells, network: Network) -> None:
    """What bends: power loads, chargers at their power limit, converter inputs."""
    power: list[Load | Feed] = [*network.loads, *network.feeds]
    for i, port in enumerate(power):
        ends = (port.positive, port.negative)
        cells.lines += [
            f"v={_across(*ends)}",
            f"h=(v>f{i})*1.0",
            f"w=f{i}+(v-f{i})*h",
            f"r=w{i}/w",
            f"y=(r+i{i})/w",
            "c=(y+r/w)*h",
            f"g_{i}=y-c",
            f"e_{i}=c*v",
        ]
        cells.couple(ends, ends, f"g_{i}")
        cells.inject(ends[1], ends[0], f"e_{i}")
    for i, converter in enumerate(network.converters):
        taken = (converter.input_positive, converter.input_negative)
        given = (converter.output_positive, converter.output_negative)
        cells.lines += [
            f"v={_across(*taken)}",
            f"o={_across(*given)}",
            f"e=u{i}*o",
            f"c=y{i}-e",
            "p=c*o",
            f"h=(v>n{i})*1.0",
            f"w=n{i}+(v-n{i})*h",
            "w=1/(w*w)",
            f"y=(ka{i}+p*(kb{i}+p*kc{i}))*w",
            f"to_{i}=(kb{i}+2*kc{i}*p)*(c-e)*w*v",
            "c=2*y*h",
            f"go_{i}=y-c",
            f"eo_{i}=c*v-to_{i}*o",
        ]
        cells.couple(taken, taken, f"go_{i}")
        cells.couple(taken, given, f"to_{i}")
        cells.inject(taken[1], taken[0], f"eo_{i}")


def _stamp_high_ports(cells: _Cells, network: Network) -> None:
    """The same where every voltage is above its floor."""
    power: list[Load | Feed] = [*network.loads, *network.feeds]
    for i, port in enumerate(power):
        ends = (port.positive, port.negative)
        cells.lines += [f"v={_across(*ends)}", f"r=w{i}/v", f"g_{i}=r/v", f"e_{i}=r+r+i{i}"]
        cells.couple(ends, ends, f"g_{i}", "-+")
        cells.inject(ends[1], ends[0], f"e_{i}")
    for i, converter in enumerate(network.converters):
        taken = (converter.input_positive, converter.input_negative)
        given = (converter.output_positive, converter.output_negative)
        cells.lines += [
            f"v={_across(*taken)}",
            f"o={_across(*given)}",
            f"e=u{i}*o",
            f"c=y{i}-e",
            "p=c*o",
            f"k=p*kc{i}",
            f"y=(ka{i}+p*(kb{i}+k))/v",
            f"to_{i}=(kb{i}+k+k)*(c-e)/v",
            f"go_{i}=y/v",
            f"eo_{i}=y+y-to_{i}*o",
        ]
        cells.couple(taken, taken, f"go_{i}", "-+")
        cells.couple(taken, given, f"to_{i}")
        cells.inject(taken[1], taken[0], f"eo_{i}")


def _across(positive: int, negative: int) -> str:
    if positive and negative:
        return f"v{positive}-v{negative}"
    return f"v{positive}" if positive else f"-v{negative}" if negative else "0.0"


def _finish(cells: _Cells, plan: Plan) -> tuple[list[str], list[str]]:
    """Names kept for, and lines of, the substitution of the fixed nodes."""
    back: list[str] = []
    lines: list[str] = []
    for pivot in reversed(plan.fixed):
        p = pivot.node
        near = [j for j in pivot.neighbours if cells.has(cells.matrix(p, j))]
        back += [f"l{j}_{p}" for j in near]
        value = "0.0"
        if cells.has(f"b{p}"):
            cells.lines.append(f"o{p}={cells.read(f'b{p}')}*r{p}")
            back.append(f"o{p}")
            value = f"o{p}"
        lines.append(f"x{p}={value}" + "".join(f"-l{j}_{p}*x{j}" for j in near))
    return back, lines
