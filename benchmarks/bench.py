"""How long the switch-on plan of a site of 60 parts takes, and a verdict at the bench.

Reference in the same run: for the plan, the solver on as many situations as the plan reads, without bands; for a
verdict, one row put safely into a bare SQLite file. Run: python benchmarks/bench.py
"""

import re
import sqlite3
import statistics
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from ohmstead.bench.expect import solved
from ohmstead.bench.plan import plan_of
from ohmstead.bench.session import Session
from ohmstead.bench.situation import bench_of
from ohmstead.bench.store import open_store
from ohmstead.study import from_text

SITE = Path(__file__).resolve().parents[1] / "examples" / "skerry" / "skerry-mended.yaml"
ROUNDS = 7
PARTS = 60


def grown_text() -> str:
    """The observatory with lamps on further blocks until it has 60 parts."""
    text = SITE.read_text(encoding="utf-8")
    have = len(from_text(text).site.parts)
    n_lamp = PARTS - have - 3
    blocks = [range(1, 10), range(10, 19), range(19, n_lamp + 1)]
    parts, runs = "", ""
    for k, lamps in enumerate(blocks, 1):
        block = f"further block {k}"
        parts += f"  {block}: {{kind: distribution, ways: 10, total: 60 A, per way: 20 A, zone: hide}}\n"
        runs += f"  - {{from: main bar, to: {block}, length: 2 m, wire: 6 mm2, fuse: 30 A terminal}}\n"
        for way, n in enumerate(lamps, 1):
            lamp = f"further lamp {n}"
            parts += f"  {lamp}: {{kind: device, input: 20..30 V, draws: {{dim: 2 W, on: 6 W}}, zone: hide}}\n"
            runs += f"  - {{from: {block} / {way}, to: {lamp}, length: 4 m, wire: 1.5 mm2, fuse: 2 A blade}}\n"
    return re.sub(r"\nruns:([^\n]*)\n", lambda found: f"\n{parts}\nruns:{found[1]}\n{runs}", text, count=1)


def timed(work: Callable[[], object]) -> float:
    """Median time of some rounds. [s]"""
    found = []
    for _ in range(ROUNDS):
        start = time.perf_counter()
        work()
        found.append(time.perf_counter() - start)
    return statistics.median(found)


def main() -> None:
    """Print the table."""
    study = from_text(grown_text(), "grown.yaml")
    operation = study.operation
    plan = plan_of(operation)
    situations = list({id(step.situation): step.situation for step in plan.steps if step.situation}.values())
    bench = bench_of(operation)
    plan_s = timed(lambda: plan_of(operation))
    plain_s = timed(lambda: [solved(bench, situation) for situation in situations])
    print(f"{len(study.site.parts)} parts, {len(plan.steps)} steps, {len(situations)} situations")
    print(
        f"plan                          {1000 * plan_s:8.1f} ms   {plan_s / plain_s:5.2f} x the situations solved alone"
    )
    with tempfile.TemporaryDirectory() as folder, open_store(Path(folder) / "a.readings.db") as store:
        session = Session(operation, store, "ada")
        step = next(step for step in session.plan.steps if step.point is not None)
        text = f"{step.value:.3f}"
        verdict_s = timed(lambda: session.enter(step, text))
        bare = sqlite3.connect(Path(folder) / "bare.db", isolation_level=None)
        bare.execute("PRAGMA journal_mode = WAL")
        bare.execute("PRAGMA synchronous = FULL")
        bare.execute("CREATE TABLE reading (value REAL)")
        row_s = timed(lambda: bare.execute("INSERT INTO reading VALUES (1.0)"))
        bare.close()
    print(f"reading stored and judged     {1000 * verdict_s:8.2f} ms   {verdict_s / row_s:5.2f} x a bare row in SQLite")


if __name__ == "__main__":
    main()
