"""ngspice as a second opinion, one process a circuit: a circuit that upsets it cannot take the tests down."""

import re
import subprocess
from collections.abc import Sequence


def batch(text: str) -> dict[str, float]:
    """Run `ngspice -b` on a netlist (marker needs_ngspice); what it printed as `name = value`.

    Its exit status is 0 even after a faulty netlist, so only what was printed counts.
    """
    return {name: float(value) for name, value in re.findall(r"^(\S+) = (\S+)$", output(text), re.M)}


def output(text: str) -> str:
    """All that `ngspice -b` prints for a netlist."""
    done = subprocess.run(
        ["ngspice", "-b", "/dev/stdin"], input=text, capture_output=True, text=True, timeout=60, check=False
    )
    return done.stdout


def voltages(lines: Sequence[str], n_node: int) -> list[float] | None:
    """Node voltages n1, n2, ... of an operating point, 0.0 for the reference first; None where it failed."""
    prints = [f"print v(n{k})" for k in range(1, n_node)]
    printed = batch("\n".join([*lines, ".control", "set numdgt=14", "op", *prints, ".endc", ".end", ""]))
    found = [printed.get(f"v(n{k})") for k in range(1, n_node)]
    return None if None in found else [0.0, *[v for v in found if v is not None]]


def rows(text: str) -> list[list[float]]:
    """The numbers of a printed table: every line that starts with an index."""
    out = [line.split() for line in output(text).splitlines()]
    return [[float(x) for x in line] for line in out if len(line) > 1 and line[0].isdigit()]
