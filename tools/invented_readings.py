"""Invents the readings of a whole switch-on, to try the bench without one: every part strays within its tolerance,
the meter errs within its sheet, and a fault can be hidden.

    python tools/invented_readings.py SITE.yaml OUT.csv --hide "joint far + of main bar -> cabinet block=14 mΩ"

The CSV goes in with `ohmstead readings SITE.yaml --import OUT.csv`.
"""

import argparse
import csv
import sys
from pathlib import Path
from random import Random

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT / "src"))

from ohmstead.bench.expect import solved  # noqa: E402
from ohmstead.bench.plan import plan_of  # noqa: E402
from ohmstead.bench.situation import Bench, bench_of  # noqa: E402
from ohmstead.quantity.read import read_number  # noqa: E402
from ohmstead.study import open_site  # noqa: E402

UNITS = {"voltage": "V", "current": "A"}


def strayed(bench: Bench, dice: Random) -> dict[str, float]:
    """Every parameter somewhere within its tolerance."""
    return {
        p.id: dice.uniform(p.bounds.low, p.bounds.high)
        if p.shape == "uniform"
        else dice.gauss(p.bounds.nominal, p.sigma)
        for p in bench.parameters
    }


def shown(bench: Bench, method: str, exact: float, dice: Random) -> float:
    """What the meter shows: counts of noise, and its last digit."""
    function = bench.meter.function(method)
    noise, digit = function.counts(exact), function.scale(exact).digit_value
    return round((exact + dice.uniform(-noise, noise)) / digit) * digit


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("site")
    parser.add_argument("out")
    parser.add_argument("--seed", type=int, default=4)
    parser.add_argument("--hide", action="append", default=[], help="PARAMETER=HOW MUCH MORE")
    options = parser.parse_args()
    operation = open_site(options.site).operation
    bench, dice = bench_of(operation), Random(options.seed)
    values = strayed(bench, dice)
    for wish in options.hide:
        name, _, text = wish.rpartition("=")
        values[name] += read_number(text, bench.parameters[bench.at[name]].dimension)
    with open(options.out, "w", encoding="utf-8", newline="") as stream:
        writer = csv.writer(stream)
        writer.writerow(("step", "value", "unit", "who"))
        for step in plan_of(operation).steps:
            if step.point is not None and step.situation is not None:
                exact = solved(bench, step.situation, values).reading(step.point)
                value = shown(bench, step.point.method, exact, dice)
                writer.writerow((step.id, f"{value:.7g}", UNITS[step.point.dimension], "invented"))


if __name__ == "__main__":
    main()
