"""Sites with a plate that the tests of placing and leading share."""

import re
from functools import cache
from pathlib import Path

from ohmstead.plan.layout import Layout
from ohmstead.plan.place import place
from ohmstead.plan.plan import Plan, plan_of
from ohmstead.plan.problem import Problem, problem_of
from ohmstead.site.model import Site
from ohmstead.site.read import read_site, read_text

EXAMPLES = Path(__file__).parents[2] / "examples"
STATED = {"observatory": EXAMPLES / "skerry" / "skerry-mended.yaml", "salt pan": EXAMPLES / "saltpan" / "saltpan.yaml"}

SMALL = """ohmstead: 1
zones: {{box: {{air: 5..40 °C}}}}
battery: {{bank: {{chemistry: LFP, cells: 8, capacity: 200 Ah}}}}
parts:
  block: {{kind: distribution, ways: 4, zone: box}}
  supply: {{kind: converter, input: 20..32 V, output: 12 V, rating: 60 W, zone: box}}
  radio: {{kind: device, input: 11..13 V, draws: 12 W, zone: box}}
runs:
  - {{from: bank, to: block, length: 2 m, wire: 10 mm2, fuse: 40 A class T}}
  - {{from: block / 1, to: supply, length: from plan, wire: 2.5 mm2, fuse: 10 A blade}}
  - {{from: supply, to: radio, length: from plan, wire: 1.5 mm2}}
plate:
  zone: box
  size: {size}
  depth: 150 mm
  {more}
  parts:
    block: {{size: 100 x 60 x 40 mm, in: top, out: bottom, hands: 10 mm{block}}}
    supply: {{size: 80 x 60 x 40 mm, in: top, out: bottom, hands: 10 mm, air: 10 mm, heat: 8 W{supply}}}
    radio: {{size: 60 x 80 x 40 mm, in: top, hands: 10 mm{radio}}}
"""


def small(
    size: str = "360 x 400 mm", more: str = "edge: 0 mm", block: str = "", supply: str = "", radio: str = ""
) -> Site:
    """Three parts in a chain."""
    return read_text(SMALL.format(size=size, more=more, block=block, supply=supply, radio=radio), "small.yaml")


@cache
def example(name: str) -> Plan:
    """The plan of an example site."""
    return plan_of(read_site(STATED[name]))


@cache
def found() -> Plan:
    """A plan for which every place had to be found, ducts included."""
    return plan_of(small("420 x 520 mm", "ducts: 30 x 40 mm"))


@cache
def loose() -> Problem:
    """The observatory's plate with no place stated."""
    text = STATED["observatory"].read_text(encoding="utf-8")
    kept = [line for line in text.splitlines() if not line.strip().startswith(("across:", "upright:"))]
    return problem_of(read_text(re.sub(r",? ?at: \[[^\]]*\](?=\})", "", "\n".join(kept)), "loose.yaml"))


@cache
def placed() -> Layout:
    """That plate with places found, in a short search."""
    return place(loose(), steps=1)
