"""Choosing: the observatory with everything open, a site of 200 runs, and a small case against every combination."""

import itertools
import random
import time
from dataclasses import replace
from pathlib import Path

from ohmstead.choose.assign import assigned
from ohmstead.choose.decide import Search, decide
from ohmstead.choose.options import decisions
from ohmstead.choose.trial import full_check
from ohmstead.choose.worth import Worth
from ohmstead.site.read import read_site, read_text

OPEN = Path(__file__).parents[1] / "examples" / "skerry" / "skerry-open.yaml"
SMALL = """ohmstead: 1
battery:
  bank: {chemistry: LFP, cells: 4, capacity: 100 Ah, resistance: 8 mΩ, cut-off: 12 V}
parts:
  bar: {kind: busbar}
  lamp: {kind: device, input: 11.2..15 V, draws: 60 W}
runs:
  - {from: bank, to: bar, length: 2 m, wire: choose, fuse: choose, fuse at: 0.1 m}
  - {from: bar, to: lamp, length: 6 m, wire: choose, fuse: 15 A blade, fuse at: 0.1 m}
"""
FEW = {
    "wire": ("1 mm2", "1.5 mm2", "2.5 mm2", "4 mm2", "6 mm2", "10 mm2"),
    "fuse": ("15 A blade", "20 A blade", "30 A blade", "40 A class T"),
}


def large_site(n_block: int, n_way: int) -> str:
    """A bar with blocks, each with loads at lengths and powers by lot; every size open."""
    lot = random.Random(200)
    parts, runs = (
        ["  bar: {kind: busbar}"],
        ["  - {from: bank, to: bar, length: 1 m, wire: choose, fuse: choose, fuse at: 0.1 m, laid: clipped}"],
    )
    for b in range(1, n_block + 1):
        parts.append(f"  block {b}: {{kind: distribution, ways: {n_way}, per way: 30 A, voltage: 32 V}}")
        runs.append(
            f"  - {{from: bar, to: block {b}, length: {lot.uniform(2, 12):.1f} m, wire: choose, fuse: choose, "
            "fuse at: 0 m}"
        )
        for w in range(1, n_way + 1):
            name = f"lamp {b}-{w}"
            parts.append(f"  {name}: {{kind: device, input: 21.5..30 V, draws: {{on: {lot.uniform(3, 25):.0f} W}}}}")
            runs.append(
                f"  - {{from: block {b} / {w}, to: {name}, length: {lot.uniform(1, 15):.1f} m, wire: choose, "
                "fuse: choose}"
            )
    return "\n".join(
        [
            "ohmstead: 1",
            "battery:",
            "  bank: {chemistry: LFP, cells: 8, capacity: 400 Ah, resistance: 3 mΩ, cut-off: 23.5 V}",
            "parts:",
            *parts,
            "runs:",
            *runs,
            "",
        ]
    )


def timed(title: str, text: str | None, path: Path | None = None) -> None:
    site = read_site(path) if path else read_text(text or "")
    begun, used = time.perf_counter(), time.process_time()
    found = decide(site)
    wall, cpu = time.perf_counter() - begun, time.process_time() - used
    print(
        f"{title}: {len(site.runs)} runs, {len(found.choices)} choices, {found.verdict}, {found.mass_kg:.3f} kg, "
        f"gap {found.gap_fraction:.2%}, {found.n_round} rounds, {found.n_check} checks: "
        f"{wall:.2f} s ({cpu:.2f} s of processor)"
    )


def against_every_combination() -> None:
    site = read_text(SMALL)
    decided = tuple(
        replace(d, options=tuple(o for o in d.options if o.text in FEW[d.attribute])) for d in decisions(site)
    )
    begun = time.perf_counter()
    found = Search(site, decided, Worth()).proposal()
    searched = time.perf_counter() - begun
    begun, least, n = time.perf_counter(), float("inf"), 0
    for indexes in itertools.product(*(range(len(d.options)) for d in decided)):
        picks = {d.key: i for d, i in zip(decided, indexes, strict=True)}
        n += 1
        if not full_check(assigned(site, decided, picks)).failing:
            least = min(least, sum(d.options[i].mass_kg for d, i in zip(decided, indexes, strict=True)))
    tried = time.perf_counter() - begun
    print(
        f"small case: {found.mass_kg:.4f} kg chosen in {searched:.2f} s; best of all {n} combinations {least:.4f} kg "
        f"in {tried:.2f} s: ratio {tried / searched:.0f} in time, {found.mass_kg / least:.6f} in metal"
    )


if __name__ == "__main__":
    timed("observatory, all open", None, OPEN)
    timed("two hundred runs", large_site(10, 19))
    against_every_combination()
