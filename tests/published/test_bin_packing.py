"""Cutting plans against published bin-packing and cutting-stock instances with known optimum."""

import builtins
from pathlib import Path

import pytest

from ohmstead.sheets.cutting import columns
from ohmstead.sheets.cutting.packing import Bar, count_bound, first_fit_decreasing, holds
from ohmstead.sheets.cutting.plan import WITHOUT_SCIPY, plan_cuts

DATA = Path(__file__).parent / "data" / "bin_packing.txt"
# Two files of the library hold a bin more than is needed: Gent, Journal of Heuristics 3 (1998), packed them better.
BEATEN = {"u120_08": 50, "u120_19": 49}


def instances() -> dict[str, tuple[int, int, list[int]]]:
    """Name -> capacity, bins as published, sizes."""
    lines = [line for line in DATA.read_text(encoding="utf-8").splitlines() if line and not line.startswith("#")]
    found = {}
    for head, sizes in zip(lines[::2], lines[1::2], strict=True):
        name, capacity, bins = head.split()
        found[name] = (int(capacity), int(bins), [int(size) for size in sizes.split()])
    return found


INSTANCES = instances()


def test_the_instances_are_whole() -> None:
    """As many pieces as the sets promise; the triplets fill their bins to the last step."""
    assert {name: len(sizes) for name, (_, _, sizes) in INSTANCES.items()} == {
        "u120_00": 120, "u120_01": 120, "u120_02": 120, "u120_08": 120, "u120_19": 120,
        "t60_00": 60, "N1W1B1R0": 50, "BPP1": 100,
    }  # fmt: skip
    capacity, bins, sizes = INSTANCES["t60_00"]
    assert sum(sizes) == capacity * bins
    assert all(20 <= size <= 100 for name in INSTANCES if name[0] == "u" for size in INSTANCES[name][2])


@pytest.mark.parametrize("name", sorted(INSTANCES))
def test_published_optimum_is_found_and_proven(name: str, outside) -> None:
    pytest.importorskip("scipy")
    capacity, published, sizes = INSTANCES[name]
    known = BEATEN.get(name, published)
    bars = [Bar("bin", capacity, None, 1)]
    plan = plan_cuts(sizes, bars)
    assert holds(plan.cuts, sizes, bars) == ""
    source = {"u": "falkenauer-1996", "t": "falkenauer-1996", "N": "scholl-1997", "B": "schwerin-1997"}[name[0]]
    outside(
        source=source,
        place=name,
        read="second-hand",
        what="fewest bins for the pieces of a published instance",
        deviation=len(plan.cuts) / known - 1,
    )
    assert (len(plan.cuts), plan.bound, plan.proven) == (known, known, "yes")


@pytest.mark.parametrize("name", sorted(INSTANCES))
def test_first_fit_decreasing_keeps_its_proven_ratio(name: str, outside) -> None:
    """No more than 11/9 of the optimum and 6/9 of a bin."""
    capacity, published, sizes = INSTANCES[name]
    known = BEATEN.get(name, published)
    bars = [Bar("bin", capacity, None, 1)]
    cuts = first_fit_decreasing(sizes, bars)
    assert holds(cuts, sizes, bars) == ""
    outside(
        source="dosa-2007",
        place="theorem 1",
        read="from memory",
        what="first fit decreasing stays below 11/9 of the optimum plus 6/9",
    )
    assert known <= len(cuts) <= 11 / 9 * known + 6 / 9
    assert count_bound(sizes, capacity) <= known


PAPER = {1380: 22, 1520: 25, 1560: 12, 1710: 14, 1820: 18, 1880: 18, 1930: 20,
         2000: 10, 2050: 12, 2100: 14, 2140: 16, 2150: 18, 2200: 20}  # fmt: skip


def test_the_paper_mill_of_the_textbooks(outside) -> None:
    """13 widths from rolls of 5600 mm: 407 160 mm, 73 rolls, 0.401 % wasted."""
    pytest.importorskip("scipy")
    pieces = [width for width, count in PAPER.items() for _ in range(count)]
    bars = [Bar("master roll", 5600, None, 5600)]
    plan = plan_cuts(pieces, bars)
    assert sum(pieces) == 407160
    assert holds(plan.cuts, pieces, bars) == ""
    waste = plan.left / (len(plan.cuts) * 5600)
    outside(
        source="cutting-stock-paper-mill",
        place="13 widths from 5600 mm",
        read="second-hand",
        what="rolls and waste of a cutting-stock example",
        deviation=abs(waste / 0.00401 - 1),
    )
    assert len(plan.cuts) == 73
    assert plan.proven == "yes"
    assert waste == pytest.approx(0.00401, abs=5e-6)


def test_column_generation_finds_what_every_pattern_finds(monkeypatch: pytest.MonkeyPatch) -> None:
    """The same paper mill with the list of patterns closed: another path to the same 73 rolls."""
    pytest.importorskip("scipy")
    monkeypatch.setattr(columns, "MOST_PATTERNS", 10)
    pieces = [width for width, count in PAPER.items() for _ in range(count)]
    plan = plan_cuts(pieces, [Bar("master roll", 5600, None, 5600)])
    assert plan.method == "patterns by column generation"
    assert (len(plan.cuts), plan.proven) == (73, "yes")


def test_without_scipy_the_plan_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    real = builtins.__import__

    def refuse(name: str, *rest: object, **named: object) -> object:
        if name.split(".")[0] in ("scipy", "numpy"):
            raise ImportError(name)
        return real(name, *rest, **named)

    monkeypatch.setattr(builtins, "__import__", refuse)
    capacity, _, sizes = INSTANCES["t60_00"]
    bars = [Bar("bin", capacity, None, 1)]
    plan = plan_cuts(sizes, bars)
    assert plan.method == WITHOUT_SCIPY
    assert holds(plan.cuts, sizes, bars) == ""
    assert plan.bound <= 20 <= plan.cost
