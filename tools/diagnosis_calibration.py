"""Draws docs/pictures/diagnosis-calibration.svg: how often a suspicion is right, by the probability that was stated.

Invented supplies (tests/bench/invented.py) are read with ngspice, with all readings, without drops, and with a third
of the readings; every suspicion of the diagnosis counts once. Needs ngspice and numpy; takes some minutes.

    python tools/diagnosis_calibration.py [--supplies 120]
"""

import argparse
import os
import sys
from math import sqrt
from pathlib import Path
from random import Random

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
ROOT = Path(__file__).resolve().parents[1]
sys.path[:0] = [str(ROOT / "src"), str(ROOT / "tests")]

from bench.invented import full_readings, invent, observed  # noqa: E402
from bench.simulated import exact_readings  # noqa: E402
from ohmstead.bench.diagnose import diagnose  # noqa: E402
from ohmstead.bench.diagnosis import Fault  # noqa: E402
from ohmstead.season.canvas import GRID, INK, PAPER, Canvas  # noqa: E402

OUT = ROOT / "docs" / "pictures" / "diagnosis-calibration.svg"
EDGES = (0.0, 0.02, 0.05, 0.1, 0.2, 0.35, 0.5, 0.65, 0.8, 0.9, 0.97, 1.0)
SIDE, LEFT, TOP = 380.0, 74.0, 92.0
Judged = tuple[float, bool]


def key(fault: Fault) -> tuple[str, str, str]:
    return (fault.kind, *sorted((fault.subject, fault.place))) if fault.kind == "swap" else fault.key


def judged(n_supply: int) -> list[Judged]:
    """Stated probability and truth of every suspicion; every kind of reading list in turn."""
    found: list[Judged] = []
    for n in range(n_supply):
        seed, n_fault = 5000 + n, (0, 1, 1, 2, 1, 3)[n % 6]
        case = invent(seed, n_fault)
        wanted = full_readings(case.believed)
        exact = exact_readings(case, wanted)
        if exact is None:
            continue
        true = set(case.invention.faults)
        seen = observed(case, wanted, exact, seed)
        few = [o for o in seen if o.point.quantity != "drop"]
        third = Random(seed).sample(seen, len(seen) // 3)
        for observations in (seen, few, third):
            for suspicion in diagnose(case.believed, observations).suspicions:
                found.append((suspicion.probability_fraction, key(suspicion.fault) in true))
    return found


def bins(found: list[Judged]) -> list[tuple[float, float, float, float, int]]:
    """Mean stated, share right, Wilson's interval of 95 %, and count of each bin that holds any."""
    rows = []
    for low, high in zip(EDGES, EDGES[1:], strict=False):
        inside = [(p, right) for p, right in found if low <= p < high or (high == 1.0 and p >= 1.0)]
        n = len(inside)
        if n:
            stated, share = sum(p for p, _ in inside) / n, sum(right for _, right in inside) / n
            z = 1.96
            middle = (share + z * z / (2 * n)) / (1 + z * z / n)
            half = z * sqrt(share * (1 - share) / n + z * z / (4 * n * n)) / (1 + z * z / n)
            rows.append((stated, share, middle - half, middle + half, n))
    return rows


def drawn(rows: list[tuple[float, float, float, float, int]], n_supply: int) -> str:
    n_all = sum(row[-1] for row in rows)
    sheet = Canvas(
        LEFT + SIDE + 150,
        TOP + SIDE + 74,
        "Stated and found",
        f"{n_all} suspicions about {n_supply} invented supplies with no to three faults, read with ngspice.",
    )

    def place(x: float, y: float) -> tuple[float, float]:
        return LEFT + SIDE * x, TOP + SIDE * (1 - y)

    sheet.box(LEFT, TOP, (SIDE, SIDE), PAPER, INK)
    for k in range(1, 10):
        sheet.line([place(k / 10, 0), place(k / 10, 1)], GRID)
        sheet.line([place(0, k / 10), place(1, k / 10)], GRID)
    sheet.line([place(0, 0), place(1, 1)], INK, 1.0, "4 3")
    for k in range(0, 11, 2):
        x, y = place(k / 10, 0)
        sheet.words(x, y + 18, f"{10 * k} %", "middle", 10)
        x, y = place(0, k / 10)
        sheet.words(x - 8, y + 4, f"{10 * k} %", "end", 10)
    for stated, share, low, high, n in rows:
        sheet.line([place(stated, low), place(stated, high)], INK, 1.6)
        x, y = place(stated, share)
        sheet.box(x - 4, y - 4, (8, 8), INK)
        sheet.words(LEFT + SIDE + 14, y + 4, f"{n} of {100 * stated:.0f} %: {100 * share:.0f} %", "start faint", 9.5)
    sheet.words(LEFT + SIDE / 2, TOP + SIDE + 44, "stated probability of a fault", "middle", 11)
    sheet.words(LEFT, TOP - 12, "share of them that was there (bar: Wilson's interval of 95 %)", "start", 11)
    return sheet.svg()


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--supplies", type=int, default=120)
    options = parser.parse_args()
    rows = bins(judged(options.supplies))
    for stated, share, low, high, n in rows:
        print(f"{n:5d} suspicions  stated {stated:6.1%}  found {share:6.1%}  ({low:.1%} .. {high:.1%})")
    OUT.write_text(drawn(rows, options.supplies), encoding="utf-8")


if __name__ == "__main__":
    main()
