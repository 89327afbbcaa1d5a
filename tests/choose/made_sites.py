"""Small sites with open choices, and the same choices tried one by one."""

import itertools
import random
from collections.abc import Iterable
from dataclasses import replace

from ohmstead.choose.assign import assigned
from ohmstead.choose.decide import Search
from ohmstead.choose.options import Decision, decisions
from ohmstead.choose.trial import full_check
from ohmstead.choose.worth import Worth
from ohmstead.site.model import Site

HEAD = """ohmstead: 1
site: {{name: bench, rules: {rules}{more}}}
battery:
  bank: {{chemistry: LFP, cells: {cells}, capacity: {capacity} Ah, resistance: {milliohm} mΩ, {low}}}
"""


def trimmed(decided: tuple[Decision, ...], wires: tuple[str, ...], fuses: tuple[str, ...]) -> tuple[Decision, ...]:
    """The same decisions with a few options each."""
    kept = {"wire": wires, "fuse": fuses}
    return tuple(
        replace(
            d, options=tuple(o for o in d.options if o.text in kept.get(d.attribute, ()) or d.attribute == "rating")
        )
        for d in decided
    )


def search(site: Site, wires: tuple[str, ...], fuses: tuple[str, ...]) -> Search:
    return Search(site, trimmed(decisions(site), wires, fuses), Worth(None))


def tried_one_by_one(
    site: Site, decided: tuple[Decision, ...], among: Iterable[tuple[int, ...]] | None = None
) -> tuple[float, int]:
    """Least metal of all combinations whose full check is clean, and how many are; inf when none is.

    What fails in every combination no choice can mend: it does not count.
    """
    every = among or itertools.product(*(range(len(d.options)) for d in decided))
    tried = []
    for indexes in every:
        picks = {d.key: i for d, i in zip(decided, indexes, strict=True)}
        failing = {(f.rule, f.subject) for f in full_check(assigned(site, decided, picks)).failing}
        tried.append((sum(d.options[i].mass_kg for d, i in zip(decided, indexes, strict=True)), failing))
    always = set.intersection(*(failing for _, failing in tried))
    clean = [mass for mass, failing in tried if failing <= always]
    return min(clean, default=float("inf")), len(clean)


def random_site(seed: int) -> str:
    """A battery, a block or a bar, two or three loads; lengths and powers by lot."""
    lot = random.Random(seed)
    cells = lot.choice((4, 8))
    volts = 3.2 * cells
    text = HEAD.format(
        rules=lot.choice(("IEC", "small craft", "US")),
        more="",
        cells=cells,
        capacity=lot.choice((100, 200)),
        milliohm=lot.choice((4, 8, 15)),
        low=f"cut-off: {3.0 * cells:.1f} V",
    )
    text += "parts:\n  bar: {kind: busbar}\n"
    runs = [
        f"  - {{from: bank, to: bar, length: {lot.uniform(0.5, 4):.1f} m, wire: choose, fuse: choose, fuse at: 0.1 m}}"
    ]
    for n in range(lot.choice((1, 2))):
        window = f", input: {lot.uniform(0.78, 0.92) * volts:.1f}..{1.3 * volts:.1f} V" if lot.random() < 0.7 else ""
        start = f", start-up: {lot.uniform(60, 200):.0f} W for 1 s" if lot.random() < 0.3 else ""
        text += f"  lamp {n}: {{kind: device{window}, draws: {{on: {lot.uniform(10, 90):.0f} W{start}}}}}\n"
        fuse = "fuse: choose, fuse at: 0.1 m" if lot.random() < 0.6 else "fuse: 20 A blade, fuse at: 0.1 m"
        runs.append(f"  - {{from: bar, to: lamp {n}, length: {lot.uniform(1, 15):.1f} m, wire: choose, {fuse}}}")
    return text + "runs:\n" + "\n".join(runs) + "\n"
