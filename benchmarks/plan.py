"""Places twenty parts on a plate, and how good the places are.

    python benchmarks/plan.py

Prints the seconds for placing and for leading the wires, the gap to the least possible cost, and the ratio to the
cost of a plain shelf placement (highest parts first) measured in the same run.
"""

from pathlib import Path
from time import perf_counter, process_time

from ohmstead.plan.place import place
from ohmstead.plan.problem import Problem, problem_of
from ohmstead.plan.shelves import Shelves
from ohmstead.plan.wires import lead
from ohmstead.site.read import read_text

HEAD = """ohmstead: 1
zones: {box: {air: 5..40 °C}}
battery: {bank: {chemistry: LFP, cells: 8, capacity: 200 Ah}}
"""


def twenty() -> str:
    """A site with twenty parts on its plate: two blocks, five converters with two devices each, a switch and bars."""
    parts = ["  main bar: {kind: busbar, rating: 150 A, zone: box}"]
    runs = ["  - {from: bank, to: main bar, length: 2 m, wire: 16 mm2, fuse: 100 A class T}"]
    for block in (1, 2):
        parts.append(f"  block {block}: {{kind: distribution, ways: 6, zone: box}}")
        runs.append(f"  - {{from: main bar, to: block {block}, length: 1 m, wire: 10 mm2}}")
    for number in range(1, 6):
        block, way = (1, number) if number < 4 else (2, number - 3)
        rating = 40 * number
        parts.append(
            f"  supply {number}: {{kind: converter, input: 20..32 V, output: 12 V, rating: {rating} W, zone: box}}"
        )
        runs.append(
            f"  - {{from: block {block} / {way}, to: supply {number}, length: 1 m, wire: 2.5 mm2, fuse: 10 A blade}}"
        )
        for which in ("a", "b"):
            parts.append(
                f"  device {number}{which}: {{kind: device, input: 11..13 V, draws: {3 * number} W, zone: box}}"
            )
            runs.append(f"  - {{from: supply {number}, to: device {number}{which}, length: 1 m, wire: 1.5 mm2}}")
    parts += [
        "  low cut: {kind: low-voltage disconnect, off: 24 V, on: 26 V, rating: 60 A, zone: box}",
        "  net: {kind: ethernet power source, standard: at, ports: 5, input: 20..32 V, zone: box}",
    ]
    runs += [
        "  - {from: block 2 / 4, to: net, length: 1 m, wire: 1.5 mm2, fuse: 5 A blade}",
        "  - {from: block 1 / 6, to: low cut, length: 1 m, wire: 6 mm2, fuse: 25 A blade}",
    ]
    plate = "plate: {zone: box, size: 700 x 950 mm, depth: 200 mm, ducts: 40 x 60 mm}"
    return HEAD + "parts:\n" + "\n".join(parts) + "\nruns:\n" + "\n".join(runs) + f"\n{plate}\n"


def shelf_cost(problem: Problem, rows: int) -> float:
    """What the plain shelf placement costs."""
    shelves = Shelves(problem, rows)
    start = shelves.start()
    cost = shelves.cost(start) if start is not None else None
    return float("nan") if cost is None else cost


def main() -> None:
    """Measure and print."""
    problem = problem_of(read_text(twenty(), Path(__file__).name))
    begun, worked = perf_counter(), process_time()
    layout = place(problem)
    took, busy = perf_counter() - begun, process_time() - worked
    begun = perf_counter()
    wires = lead(layout)
    led = perf_counter() - begun
    plain = shelf_cost(problem, len(layout.across) - 1)
    print(f"{len(problem.bodies)} parts, {len(wires)} wires on the plate, {len(layout.across) - 1} rows")
    print(f"placed in {took:.1f} s ({busy:.1f} s of one core), wires led in {led:.2f} s")
    print(f"cost {layout.cost:.0f}, bound {layout.bound:.0f}, gap {layout.gap_fraction:.0%}")
    print(f"ratio to a plain shelf placement: {plain / layout.cost:.2f} times cheaper")


if __name__ == "__main__":
    main()
