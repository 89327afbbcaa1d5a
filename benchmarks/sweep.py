"""A sweep measured: ten thousand designs through ten years of hours, on one plane and on fifty.

    python benchmarks/sweep.py [SITE FILE]

Prints wall time and processor time, which neighbours on the machine do not stretch, the largest memory of the process,
and how much longer the same recursion takes in numpy, one step an hour over all designs side by side; that reference
runs in the same process on a stretch of the same hours, and both must agree on it first.
"""

import sys
import time
from os import cpu_count
from pathlib import Path

import numpy as np

from ohmstead.season.designs import Offer, sky_facings, spread
from ohmstead.season.kernel import Drive, Rules
from ohmstead.season.lanes import UNSERVED_WH, Designs, sweep
from ohmstead.season.reckon import rules_of, with_years
from ohmstead.season.scene import Scene, scene_of
from ohmstead.season.sweep import pieces_of, run_sweep
from ohmstead.site.read import read_site

SKERRY = Path(__file__).parent.parent / "examples" / "skerry" / "skerry-mended.yaml"
N_YEAR = 10
REFERENCE_HOURS = 400
CUTS = tuple((24.0 + step / 10, 26.0 + step / 20) for step in range(10))


def main(file: Path) -> None:
    """Measure and print."""
    scene = scene_of(with_years(read_site(file), N_YEAR))
    one = Offer(spread(0.5, 20.0, 40), (scene.facing,), spread(0.3, 10.0, 25), CUTS)
    fifty = Offer(spread(0.5, 20.0, 20), sky_facings(50, scene.hours.latitude), spread(0.3, 10.0, 10))
    run_sweep(scene, Offer((1.0,), ((40.0, 180.0),), (1.0,)))  # loads what was compiled before
    for name, offer in (("one plane", one), ("fifty planes", fifty)):
        wall, own = time.perf_counter(), time.process_time()
        found = run_sweep(scene, offer)
        wall, own = time.perf_counter() - wall, time.process_time() - own
        n_hour = offer.n_design * scene.hours.n_hour
        print(f"{name}: {offer.n_design} designs x {N_YEAR} years, {n_hour / 1e6:.0f} million hours of designs")
        print(f"   wall time on {cpu_count()} cores, shared    {wall:9.2f} s")
        print(f"   processor time                 {own:9.2f} s, {own / n_hour * 1e9:.2f} ns an hour of a design; "
              f"on two cores of its own about {own / 2:.2f} s")  # fmt: skip
        print(f"   largest memory of the process  {memory_mb():9.0f} MB")
        print(f"   designs that serve all         {int((found.unserved_fraction == 0).sum()):9d}")
    compare(scene, one)


def compare(scene: Scene, offer: Offer) -> None:
    """The reference, and how many times longer it takes."""
    pieces = pieces_of(scene, offer)[1]
    columns = [
        np.concatenate([getattr(piece, name) for piece in pieces]) for name in ("arrays", "banks", "cuts", "backs")
    ]
    designs = Designs(columns[0], columns[1], np.full(offer.n_design, 1e12), columns[2], columns[3])
    rules = rules_of(scene.bank, scene.loads, scene.start_fraction)
    whole = scene.drive
    rows = (whole.harvest_w, whole.load_w, whole.passing_w, whole.loss_per_w, whole.charge_most_w)
    short = Drive(*(np.ascontiguousarray(row[..., :REFERENCE_HOURS]) for row in rows), whole.place)
    begin = time.process_time()
    theirs = side_by_side(short, rules, designs)
    numpy_s = time.process_time() - begin
    begin = time.process_time()
    ours = sweep(short, rules, designs).sums[UNSERVED_WH]
    lanes_s = time.process_time() - begin
    assert np.allclose(ours, theirs, rtol=1e-9, atol=1e-6), "numpy and the compiled form differ"
    each = 1e9 / REFERENCE_HOURS / offer.n_design
    print(f"recursion alone, {offer.n_design} designs over {REFERENCE_HOURS} hours, one core: "
          f"compiled {lanes_s * each:.2f} ns, numpy {numpy_s * each:.1f} ns an hour of a design: "
          f"{numpy_s / lanes_s:.1f} times that")  # fmt: skip
    few = Designs(*(np.ascontiguousarray(column[::10]) for column in (
        designs.array, designs.bank, designs.most_w, designs.cut_fraction, designs.back_fraction)))  # fmt: skip
    begin = time.process_time()
    side_by_side(short, rules, few)
    few_s = (time.process_time() - begin) / few.array.size / REFERENCE_HOURS
    print(f"   {few.array.size} designs side by side in numpy: {few_s * 1e9:.1f} ns, "
          f"{few_s * 1e9 / (lanes_s * each):.1f} times that")  # fmt: skip


def side_by_side(drive: Drive, rules: Rules, designs: Designs) -> np.ndarray:
    """Unserved of each design: the recursion as one writes it with numpy, a step an hour over all designs."""
    full = designs.bank * rules.full_wh
    floor = rules.floor_wh * designs.bank
    cut = np.maximum(designs.cut_fraction * full, floor)
    back = np.maximum(designs.back_fraction * full, cut)
    state = designs.bank * rules.start_wh
    connected = (state > cut) | (cut <= floor)
    unserved, kept = np.zeros_like(full), 1.0 - rules.passed_fraction
    for hour in range(drive.harvest_w.size):
        load = drive.load_w[1, hour]
        wanted = np.where(connected, load, min(drive.passing_w[hour], load))
        k = drive.loss_per_w[hour] / designs.bank
        net = np.minimum(designs.array * drive.harvest_w[hour], designs.most_w) - wanted
        left = np.maximum(state - np.where(connected, cut, floor), 0.0)
        give = np.minimum(left, min(rules.discharge_w, 0.5 / drive.loss_per_w[hour]) * designs.bank)
        take = np.minimum(drive.charge_most_w[hour] * designs.bank, (full - state) * rules.accepted_fraction / kept)
        inside = 2.0 * net / (1.0 + np.sqrt(np.maximum(1.0 + 4.0 * k * net, 0.0)))
        held = np.minimum(np.maximum(inside, -give), np.maximum(take, 0.0))
        gap = np.where(held == inside, 0.0, net - held - k * held * held)
        state = (state + np.minimum(held, kept * held)) * (1.0 - rules.rested_fraction)
        unserved += np.maximum(-gap, 0.0) + (load - wanted)
        opens = (cut > floor) & ((inside < -left) | (state <= cut))
        connected = np.where(connected, ~opens, state >= back)
    return unserved


def memory_mb() -> float:
    """Most memory that this process ever held."""
    try:
        import resource
    except ImportError:  # no such figure on this system
        return float("nan")
    size = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    return size / 1e6 if sys.platform == "darwin" else size / 1e3


if __name__ == "__main__":
    main(Path(sys.argv[1]) if len(sys.argv) > 1 else SKERRY)
