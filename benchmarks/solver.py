"""The solver against ngspice on the same network, measured in the same run.

    python benchmarks/solver.py

Times are processor time of one core, best of several, so that neighbours on the machine do not count.
ngspice runs in one process through its library: alter one source, operating point, read one voltage.
"""

import ctypes
import ctypes.util
import time
from collections.abc import Callable
from random import Random

import numpy as np

from ohmstead.network.batch import solve_batch
from ohmstead.network.elements import (
    Branch,
    Converter,
    ConverterState,
    Corner,
    Load,
    LoadState,
    Network,
    Source,
)
from ohmstead.network.emit import compile_program, source_of
from ohmstead.network.margin import loading_margin
from ohmstead.network.netlist import elements
from ohmstead.network.plan import make_plan
from ohmstead.network.solve import solve
from ohmstead.network.thevenin import faults_at

N_CASE = 10_000
OPTIONS = ".options reltol=1e-6 abstol=1e-9 vntol=1e-9 gmin=1e-15"


def supply(n_way: int = 11, n_converter: int = 3) -> tuple[Network, Corner]:
    """Bank, switch, disconnect, block, and ways with a fuse, a cable and a device or a converter: 40 nodes."""
    dice = Random(1)
    names = ["common negative"]
    branches: list[Branch] = []
    ohms: list[float] = []
    loads: list[Load] = []
    load_states: list[LoadState] = []
    converters: list[Converter] = []
    converter_states: list[ConverterState] = []

    def node() -> int:
        names.append(f"n{len(names)}")
        return len(names) - 1

    def wire(a: int, b: int, ohm: float) -> None:
        branches.append(Branch(f"w{len(branches)}", a, b))
        ohms.append(ohm)

    bank, switch, disconnect, block = node(), node(), node(), node()
    wire(bank, switch, 2e-3)
    wire(switch, disconnect, 1e-3)
    wire(disconnect, block, 4e-3)
    for way in range(n_way):
        fuse, far = node(), node()
        wire(block, fuse, 8e-3)
        wire(fuse, far, dice.uniform(0.01, 0.1))
        if way < n_converter:
            out, device = node(), node()
            kind, volts = ("boost", 48.0) if way % 2 else ("buck", 12.0)
            converters.append(Converter(f"c{way}", kind, far, 0, out, 0))
            converter_states.append(ConverterState(volts, 0.02, 0.5, 0.05, 1e-3, 5.0, 18.0))
            wire(out, device, dice.uniform(0.02, 0.3))
            load_states.append(LoadState(dice.uniform(5, 40), cutoff_v=8.0))
        else:
            device = node()
            wire(far, device, 0.02)
            load_states.append(LoadState(dice.uniform(5, 40), cutoff_v=18.0))
        loads.append(Load(f"l{way}", device, 0))
    network = Network(tuple(names), tuple(branches), (Source("bank", bank, 0),), tuple(loads), tuple(converters))
    corner = Corner("bench", tuple(ohms), (25.6,), (5e-3,), tuple(load_states), tuple(converter_states))
    return network, corner


def best_s(work: Callable[[], object], repeats: int = 7) -> float:
    """Least processor time of a piece of work."""
    times = []
    for _ in range(repeats):
        start = time.process_time()
        work()
        times.append(time.process_time() - start)
    return min(times)


class Ngspice:
    """The simulator's library with one circuit loaded."""

    class _Vector(ctypes.Structure):
        _fields_ = (
            ("name", ctypes.c_char_p),
            ("type", ctypes.c_int),
            ("flags", ctypes.c_short),
            ("real", ctypes.POINTER(ctypes.c_double)),
            ("complex", ctypes.c_void_p),
            ("length", ctypes.c_int),
        )

    def __init__(self, lines: list[str]) -> None:
        self.library = ctypes.CDLL(ctypes.util.find_library("ngspice") or "libngspice.so.0")
        # the callbacks must outlive the library's use of them
        self.send = ctypes.CFUNCTYPE(ctypes.c_int, ctypes.c_char_p, ctypes.c_int, ctypes.c_void_p)(lambda *_: 0)
        kinds = (ctypes.c_int, ctypes.c_bool, ctypes.c_bool, ctypes.c_int, ctypes.c_void_p)
        self.quit = ctypes.CFUNCTYPE(ctypes.c_int, *kinds)(lambda *_: 0)
        self.library.ngSpice_Init(self.send, None, self.quit, None, None, None, None)
        self.library.ngGet_Vec_Info.restype = ctypes.POINTER(self._Vector)
        text = [line.encode() for line in ("bench", *lines, OPTIONS, ".end")]
        self.library.ngSpice_Circ((ctypes.c_char_p * (len(text) + 1))(*text, None))

    def voltage(self, emf_v: float, node: int) -> float:
        """One operating point with another source voltage."""
        for command in (f"alter vs0 dc = {emf_v!r}", "op"):
            self.library.ngSpice_Command(command.encode())
        value = float(self.library.ngGet_Vec_Info(f"n{node}".encode()).contents.real[0])
        self.library.ngSpice_Command(b"destroy all")
        return value


def variation(network: Network, corner: Corner) -> dict[tuple[str, int], np.ndarray]:
    """Every source, load and wire varied at random."""
    dice = np.random.default_rng(1)
    vary = {("source_v", 0): dice.uniform(23.0, 28.0, N_CASE)}
    for i, load in enumerate(corner.loads):
        vary["load_w", i] = load.power_w * dice.uniform(0.2, 1.3, N_CASE)
    for i, ohm in enumerate(corner.branch_ohm):
        vary["branch_ohm", i] = ohm * dice.uniform(0.85, 1.3, N_CASE)
    return vary


def main() -> None:
    """Measure and print."""
    network, corner = supply()
    n_node = len(network.nodes) - 1
    rows: list[tuple[str, float, float]] = []
    spice = Ngspice(elements(network, corner))
    assert abs(spice.voltage(25.6, n_node) - solve(network, corner).voltage_v[n_node]) < 1e-6
    dice = Random(2)
    n_op = 300
    spice_s = best_s(lambda: [spice.voltage(dice.uniform(23.0, 28.0), n_node) for _ in range(n_op)]) / n_op
    rows.append(("ngspice, alter + op in one process", spice_s, 1.0))

    program_s = best_s(lambda: compile_program(network))
    plan = make_plan(network)
    n_line = source_of(network, plan).count("\n")
    solve(network, corner)
    single_s = best_s(lambda: [solve(network, corner) for _ in range(100)]) / 100
    rows.append(("solve, plain floats", single_s, spice_s / single_s))

    vary = variation(network, corner)
    solve_batch(network, corner, vary)
    batch_s = best_s(lambda: solve_batch(network, corner, vary))
    wall = time.perf_counter()
    solve_batch(network, corner, vary)
    wall = time.perf_counter() - wall
    rows.append((f"solve_batch, numpy, {N_CASE} cases", batch_s / N_CASE, spice_s / batch_s * N_CASE))

    try:
        from ohmstead.network.compiled import solve_sweep
    except ImportError:
        print("numba is not installed: no compiled path")
    else:
        first = time.perf_counter()
        solve_sweep(network, corner, vary)
        first = time.perf_counter() - first
        sweep_s = best_s(lambda: solve_sweep(network, corner, vary)) / N_CASE
        rows.append((f"solve_sweep, numba, {N_CASE} cases", sweep_s, spice_s / sweep_s))
        states = {key: np.tile(values, 10) for key, values in vary.items() if key[0] != "branch_ohm"}
        sweep_s = best_s(lambda: solve_sweep(network, corner, states)) / (10 * N_CASE)
        rows.append((f"the same, wires fixed, {10 * N_CASE} cases", sweep_s, spice_s / sweep_s))
        print(f"first call of the compiled path in this process {first:.1f} s")

    print(f"{n_node} nodes, {len(network.branches)} branches, {len(network.converters)} converters")
    print(f"{'method':44} {'us an operating point':>22} {'times ngspice':>14}")
    for name, seconds, ratio in rows:
        print(f"{name:44} {1e6 * seconds:22.2f} {ratio:14.1f}")
    print(f"\nplan, source ({n_line} lines) and compilation of a topology   {1e3 * program_s:8.2f} ms")
    print(f"{N_CASE} cases in solve_batch, wall                        {wall:8.3f} s")
    margin_s = best_s(lambda: loading_margin(network, corner))
    print(f"loading margin of a corner                             {1e3 * margin_s:8.2f} ms")
    pairs = [(k, 0) for k in range(1, n_node + 1)]
    fault_s = best_s(lambda: faults_at(network, corner, pairs))
    print(f"bolted faults at all {n_node} nodes                          {1e3 * fault_s:8.2f} ms")


if __name__ == "__main__":
    main()
