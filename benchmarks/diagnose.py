"""How long the diagnosis of a whole switch-on of the observatory takes, and how quick ten years of readings stay.

References in the same run: for the diagnosis, solving every situation of the readings once, without sensitivities;
for the store, the same questions asked of a store with a thousandth of the readings, and a bare file that is written
and synchronised once a reading. Run: OPENBLAS_NUM_THREADS=1 python benchmarks/diagnose.py
"""

import os
import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from random import Random

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT / "tools"))

from invented_readings import shown, strayed  # noqa: E402

from ohmstead.bench.diagnose import diagnose  # noqa: E402
from ohmstead.bench.expect import solved  # noqa: E402
from ohmstead.bench.learn import learn  # noqa: E402
from ohmstead.bench.observation import Observation  # noqa: E402
from ohmstead.bench.plan import plan_of  # noqa: E402
from ohmstead.bench.reading import Reading  # noqa: E402
from ohmstead.bench.rows import Wanted  # noqa: E402
from ohmstead.bench.situation import Bench, bench_of  # noqa: E402
from ohmstead.bench.store import Store, open_store  # noqa: E402
from ohmstead.study import open_site  # noqa: E402

SITE = ROOT / "examples" / "skerry" / "skerry-mended.yaml"
CRIMP = "joint far + of main bar -> cabinet block"
ROUNDS, TEN_YEARS = 7, 200_000


def seconds(work: Callable[[], object]) -> float:
    """Median of some rounds."""
    taken = []
    for _ in range(ROUNDS):
        start = time.perf_counter()
        work()
        taken.append(time.perf_counter() - start)
    return statistics.median(taken)


def readings(bench: Bench, more_ohm: float) -> list[Observation]:
    """What the plan asks for, with so much more in one crimp."""
    dice = Random(4)
    values = strayed(bench, dice)
    values[CRIMP] += more_ohm
    found = []
    for step in plan_of(bench.operation).steps:
        if step.point is not None and step.situation is not None and step.stage != "low":
            exact = solved(bench, step.situation, values).reading(step.point)
            found.append(Observation(step.point, step.situation, shown(bench, step.point.method, exact, dice)))
    return found


def store_of(file: Path, n_reading: int) -> Store:
    store = open_store(file)
    names = [f"voltage at part {k}" for k in range(300)]
    store.add_all(
        Reading("voltage", names[k % 300], 25.0, "ada", f"{k % 40:064x}", f"state {k % 7}", f"step {k % 500}")
        for k in range(n_reading)
    )
    return store


def bare(folder: str) -> float:
    """A row written to a plain file and synchronised. [s]"""
    with open(Path(folder) / "bare", "ab") as stream:

        def row() -> None:
            stream.write(b"x" * 300)
            stream.flush()
            os.fsync(stream.fileno())

        return seconds(row)


def main() -> None:
    bench = bench_of(open_site(SITE).operation)
    sound, crimped = readings(bench, 0.0), readings(bench, 0.014)
    situations = list({repr(o.situation): o.situation for o in sound}.values())
    once = seconds(lambda: [solved(bench, situation) for situation in situations])
    print(f"reference: {len(situations)} situations solved once  {once * 1e3:7.1f} ms")
    for name, work in (
        ("diagnosis, nothing wrong", lambda: diagnose(bench, sound)),
        ("diagnosis, one bad crimp", lambda: diagnose(bench, crimped)),
        ("learning", lambda: learn(bench, sound)),
    ):
        taken = seconds(work)
        print(f"{name:<28} {len(sound)} readings  {taken * 1e3:7.0f} ms   {taken / once:6.1f} of the reference")
    with tempfile.TemporaryDirectory() as folder:
        few, many = store_of(Path(folder) / "few.db", TEN_YEARS // 1000), store_of(Path(folder) / "many.db", TEN_YEARS)
        plain = bare(folder)
        one = Reading("voltage", "voltage at part 1", 25.0, "ada", "0" * 64)
        questions: tuple[tuple[str, Callable[[Store], object]], ...] = (
            ("the newest 50", lambda s: s.entries(Wanted(newest=50))),
            (
                "one point in one state",
                lambda s: s.entries(Wanted(point="voltage at part 1", state="state 1", newest=50)),
            ),
            ("entering one", lambda s: s.add(one)),
        )
        for name, ask in questions:
            small, large = seconds(lambda ask=ask: ask(few)), seconds(lambda ask=ask: ask(many))
            print(
                f"{name:<28} {TEN_YEARS} readings {large * 1e3:7.2f} ms   {large / small:6.1f} of a thousandth of them"
            )
        print(f"{'entering one':<28} against a bare file synchronised: {large / plain:.1f}")
        few.close(), many.close()


if __name__ == "__main__":
    main()
