"""A season measured: the recursion against numpy over designs side by side, and one site end to end.

    python benchmarks/season.py [SITE FILE]

Times are processor time of one core, best of several, so that neighbours on the machine do not count. Both forms
of the recursion run in the same process on the same series, and are held against each other first.
"""

import sys
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numba
import numpy as np

from ohmstead.season.bank import bank_of
from ohmstead.season.compiled import fast
from ohmstead.season.kernel import N_GRID, UNSERVED, Drive, Rules, run
from ohmstead.season.lanes import Designs, sweep
from ohmstead.season.loads import loads_of
from ohmstead.season.reckon import reckon_with, with_years
from ohmstead.season.twin import run_plainly
from ohmstead.season.year import summary_of
from ohmstead.site.read import read_site
from ohmstead.sun.harvest import harvest_w
from ohmstead.sun.weather import read_hours

SKERRY = Path(__file__).parent.parent / "examples" / "skerry" / "skerry-mended.yaml"
RULES = Rules(7000.0, 90.0, 300.0, 2000.0, 0.99, 0.02, 4e-5, 4000.0, 5600.0)
NUMPY_HOURS = 1000
N_LANE = 1024


def best_s(work: Callable[[], object], n_time: int = 5) -> float:
    """Least processor time of several goes."""
    found = []
    for _ in range(n_time):
        begin = time.process_time()
        work()
        found.append(time.process_time() - begin)
    return min(found)


def series(n_hour: int) -> Drive:
    """A day and night of harvest with cloudy days, a load that swings."""
    dice = np.random.default_rng(1)
    hour = np.arange(n_hour)
    cloud = np.repeat(dice.uniform(0.05, 1.0, n_hour // 24 + 1), 24)[:n_hour]
    harvest = np.maximum(0.0, np.sin((hour % 24 - 6) / 12 * np.pi)) * 900 * cloud
    load = 170 + 30 * np.sin(hour / 24 * 2 * np.pi)
    return Drive(harvest, np.stack([1.01 * load, load, 0.99 * load]), np.full(n_hour, 1.0),
                 np.full(n_hour, 7e-6), np.full(n_hour, 3600.0), np.linspace(0, 2, N_GRID))  # fmt: skip


def side_by_side(drive: Drive, rules: Rules, n_design: int) -> np.ndarray:
    """The same recursion for many designs, one numpy step an hour; unserved of each design. Designs differ in size."""
    size = np.linspace(0.5, 2.0, n_design)
    full, floor, cut, back = (size * x for x in (rules.full_wh, rules.floor_wh, rules.cut_wh, rules.back_wh))
    state, connected = size * rules.start_wh, np.ones(n_design, dtype=bool)
    unserved, kept = np.zeros(n_design), 1.0 - rules.passed_fraction
    scale = (N_GRID - 1) / full
    for hour in range(drive.harvest_w.size):
        low, middle, high = drive.load_w[:, hour]
        where = drive.place[(state * scale).astype(np.int64)]
        asked = np.where(where <= 1, low + where * (middle - low), middle + (where - 1) * (high - middle))
        wanted = np.where(connected, asked, np.minimum(asked, drive.passing_w[hour]))
        k, net = drive.loss_per_w[hour], drive.harvest_w[hour] - wanted
        entering = 2 * net / (1 + np.sqrt(1 + 4 * k * np.maximum(net, 0)))
        most = np.minimum(drive.charge_most_w[hour], (full - state) * rules.accepted_fraction / kept)
        taken = np.minimum(entering, np.maximum(most, 0))
        need = -net
        root = 1 - 4 * k * need
        giving = np.where(root > 0, 2 * need / (1 + np.sqrt(np.maximum(root, 0))), np.inf)
        left = np.maximum(state - np.where(connected, cut, floor), 0)
        given = np.minimum(np.minimum(giving, left), min(rules.discharge_w, 0.5 / k))
        charging = net >= 0
        state = np.where(charging, state + kept * taken, state - given)
        short = np.where(charging | (given == giving), 0.0, need - (given - k * given**2))
        unserved += asked - wanted + short
        tripped = ~charging & (giving > left)
        state -= state * rules.rested_fraction
        connected = np.where(connected, ~((cut > floor) & (tripped | (state <= cut))), state >= back)
    return unserved


def recursion() -> None:
    """Print what an hour of one design costs in each form."""
    many = series(87_600)
    few = series(NUMPY_HOURS)
    twin = run_plainly(few, RULES)[UNSERVED].sum()
    middle = side_by_side(few, replace(RULES, full_wh=2 * RULES.full_wh), 1)
    assert middle.size == 1
    one = run(few, RULES)[UNSERVED].sum()
    assert abs(one - twin) < 1e-6, (one, twin)
    sized = [float(run(few, _sized(x))[UNSERVED].sum()) for x in np.linspace(0.5, 2.0, 8)]
    assert np.allclose(sized, side_by_side(few, RULES, 8), rtol=1e-9), "numpy and the compiled form differ"
    out = np.empty((10, many.harvest_w.size))
    rows = np.stack([many.harvest_w, many.passing_w, many.loss_per_w, many.charge_most_w, 0.0 * many.loss_per_w])
    load, numbers = np.ascontiguousarray(many.load_w), RULES.numbers()
    by_state = np.concatenate((many.place, np.ones(N_GRID)))
    compiled = best_s(lambda: fast(rows, load, by_state, numbers, out)) / many.harvest_w.size * 1e9
    plain = best_s(lambda: run_plainly(few, RULES), 2) / NUMPY_HOURS * 1e9
    cut, back = RULES.cut_wh / RULES.full_wh, RULES.back_wh / RULES.full_wh
    sizes, alike = np.linspace(0.5, 2, N_LANE), np.ones(N_LANE)
    lanes = Designs(sizes, sizes, 1e9 * alike, cut * alike, back * alike)
    numba.set_num_threads(1)
    side = best_s(lambda: sweep(many, RULES, lanes), 3) / many.harvest_w.size / N_LANE * 1e9
    print(f"designs in lanes, sums only, one core          {side:9.2f} ns an hour of a design")
    print(f"recursion, one design, all outputs, compiled   {compiled:9.1f} ns an hour")
    print(f"the plain twin                                 {plain:9.1f} ns an hour, {plain / compiled:7.0f} times that")
    for n_design in (1, 100, 1000, 10_000):
        hour = best_s(lambda n=n_design: side_by_side(few, RULES, n), 2) / NUMPY_HOURS / n_design * 1e9
        print(f"numpy, {n_design:6d} designs side by side           {hour:9.1f} ns an hour, {hour / compiled:7.1f} "
              f"times that, {hour / side:7.1f} times the lanes")  # fmt: skip


def _sized(size: float) -> Rules:
    names = ("full_wh", "floor_wh", "cut_wh", "back_wh", "start_wh")
    return replace(RULES, **{name: getattr(RULES, name) * size for name in names})


def end_to_end(file: Path) -> None:
    """Print what one site and one year cost after a first go."""
    site = with_years(read_site(file), 1)

    def whole() -> None:
        hours = read_hours(site)
        summary_of(reckon_with(site, hours, harvest_w(site, hours)))

    whole()
    hours = read_hours(site)
    bank = bank_of(site)
    print(f"one site, one year, end to end                 {1e3 * best_s(whole):9.1f} ms")
    print(f"   weather drawn from monthly means            {1e3 * best_s(lambda: read_hours(site)):9.1f} ms")
    print(f"   sun, shade and arrays                       {1e3 * best_s(lambda: harvest_w(site, hours)):9.1f} ms")
    print(f"   loads tabulated by the network              {1e3 * best_s(lambda: loads_of(site, bank, hours)):9.1f} ms")


if __name__ == "__main__":
    recursion()
    end_to_end(Path(sys.argv[1]) if len(sys.argv) > 1 else SKERRY)
