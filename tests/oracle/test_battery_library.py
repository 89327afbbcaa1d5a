"""Our cell voltage against porous-electrode models of a battery library, over rates and temperatures.

The tables in `data/` are written by `tools/battery_reference.py`. A set of parameters stands for one cell, ours for a
kind of cell: the curves are laid over each other by the charge each gives at C/20 and 25 °C, and what is recorded is
how far they lie apart, down to half and down to a fifth left. They part near empty: the sets bend down earlier
(diffusion, most of all at high rates), ours is a resting curve less a resistance.
"""

import csv
from collections import defaultdict
from pathlib import Path

import pytest

from ohmstead.parts.cell import chemistry
from ohmstead.storage.cells import cold_factor, loaded_v
from ohmstead.storage.kinetic import TwoWells, after, capacity_ah, fit, full

DATA = Path(__file__).parent / "data"
CAPACITY_AH = {"lfp": 2.3, "lead": 17.0}
SLOW = 0.05  # C/20
Curve = list[tuple[float, float]]  # share drawn, volts


def curves(name: str) -> dict[tuple[float, float], Curve]:
    """Rate and temperature to a discharge; its last point is the end."""
    found: dict[tuple[float, float], Curve] = defaultdict(list)
    lines = [line for line in (DATA / f"cell_{name}.csv").read_text().splitlines() if line[0].isdigit()]
    for rate, temperature_c, share, volts in csv.reader(lines):
        found[float(rate), float(temperature_c)].append((float(share), float(volts)))
    return dict(found)


def own_wells() -> TwoWells:
    """Two wells that give what the lead cell gives in 2, 6 and 26 h at 25 °C."""
    ends = {rate: curve[-1][0] for (rate, at), curve in curves("lead").items() if at == 25.0}
    capacities = {share / rate: share * CAPACITY_AH["lead"] for rate, share in ends.items()}
    return fit({hours: capacities[hours] for hours in sorted(capacities) if not 10 < hours < 20})


def worst(name: str, kind: str, where: tuple[set[float], set[float]], left: float, wells: TwoWells | None) -> float:
    """Largest gap of ours over theirs, from a twentieth drawn to so much left, at these rates and temperatures."""
    tables, cell = curves(name), chemistry(kind)
    slow_share = tables[SLOW, 25.0][-1][0]
    capacity = CAPACITY_AH[name] * slow_share
    found = []
    for (rate, temperature_c), curve in tables.items():
        if rate not in where[0] or temperature_c not in where[1]:
            continue
        current = rate * CAPACITY_AH[name]
        for share, volts in curve[1:-1]:
            if share > (1.0 - left) * slow_share:
                continue
            level = 1.0 - share / slow_share
            if wells is not None:
                standing = after(wells, full(wells), current, share / rate)
                level = standing.available_ah / (wells.available_fraction * wells.most_ah)
            found.append(abs(loaded_v(cell, capacity, level, current, temperature_c) / volts - 1))
    assert len(found) > 5
    return max(found)


def named(where: tuple[set[float], set[float]], left: float) -> str:
    rates, temperatures = ("/".join(f"{x:g}" for x in sorted(values)) for values in where)
    return f"{temperatures} °C at {rates} C down to {left:g} left"


def test_the_tables_say_what_made_them() -> None:
    for name in CAPACITY_AH:
        assert (DATA / f"cell_{name}.csv").read_text().startswith("# PyBaMM 2")
        assert len(curves(name)) == 12


@pytest.mark.parametrize(
    ("rates", "temperatures", "left", "band"),
    [
        ({0.05, 0.2, 0.5}, {25.0, 45.0}, 0.5, 0.015),
        ({0.05, 0.2, 0.5}, {25.0, 45.0}, 0.2, 0.03),
        ({0.05, 0.2, 0.5}, {0.0}, 0.2, 0.03),
        ({1.0}, {25.0, 45.0}, 0.5, 0.01),
        ({1.0}, {0.0}, 0.5, 0.03),
    ],
)
def test_lithium_iron_phosphate(outside, rates, temperatures, left, band) -> None:
    """Ours lies some 1 % higher all along: a measured resting table, and the set's equilibrium is lower by as much."""
    deviation = worst("lfp", "LFP", (rates, temperatures), left, None)
    outside(source="pybamm", place=f"Prada2013 set, {named((rates, temperatures), left)}", read="program",
            what="voltage of an LFP cell", deviation=deviation)  # fmt: skip
    assert deviation < band


@pytest.mark.parametrize(
    ("kind", "rates", "left", "band"),
    [
        ("lead AGM", {0.05, 0.1, 0.2}, 0.5, 0.011),
        ("lead AGM", {0.5}, 0.5, 0.02),
        ("lead AGM", {0.05, 0.1, 0.2}, 0.2, 0.045),
        ("lead flooded", {0.05, 0.1, 0.2}, 0.5, 0.025),
    ],
)
def test_lead_with_its_two_wells(outside, kind, rates, left, band) -> None:
    """The set is of a sealed cell and knows next to no temperature, nor does it matter here."""
    where = (rates, {0.0, 25.0, 40.0})
    deviation = worst("lead", kind, where, left, own_wells())
    outside(source="pybamm", place=f"Sulzer2019 set, {named(where, left)}", read="program",
            what=f"voltage of a cell, {kind}", deviation=deviation)  # fmt: skip
    assert deviation < band


def test_resistance_of_hours(outside) -> None:
    """The fall from C/20 to 1 C with half drawn, as a resistance, at 25 °C; and how it grows in the cold."""
    tables = curves("lfp")
    theirs = {}
    for temperature_c in (0.0, 25.0, 45.0):
        volts = [dict(tables[rate, temperature_c])[0.5] for rate in (SLOW, 1.0)]
        theirs[temperature_c] = (volts[0] - volts[1]) / (0.95 * CAPACITY_AH["lfp"])
    cell = chemistry("LFP")
    ours = cell.usual_ohm_ah / CAPACITY_AH["lfp"]
    outside(source="pybamm", place="Prada2013 set, fall from C/20 to 1 C at half, 25 °C", read="program",
            what="resistance of an LFP cell", deviation=ours / theirs[25.0] - 1)  # fmt: skip
    assert ours == pytest.approx(theirs[25.0], rel=0.2)
    cold = theirs[0.0] / theirs[25.0]
    apart = cold_factor(cell, 0.0) / cold - 1
    outside(source="pybamm", place="Prada2013 set, 0 °C over 25 °C", read="program",
            what="growth of an LFP cell's resistance in the cold", deviation=apart)  # fmt: skip
    assert 1.0 < cold < cold_factor(cell, 0.0)  # ours is on the safe side, by two fifths
    assert cold_factor(cell, 45.0) == pytest.approx(theirs[45.0] / theirs[25.0], rel=0.15)


def test_two_wells_give_by_rate_what_porous_electrodes_give(outside) -> None:
    """Fitted at 2, 6 and 26 h, they tell the capacity at 12.5 h."""
    share = curves("lead")[0.1, 25.0][-1][0]
    deviation = capacity_ah(own_wells(), share / 0.1) / (share * CAPACITY_AH["lead"]) - 1
    outside(source="pybamm", place="Sulzer2019 set, cut-off 1.75 V, 25 °C", read="program",
            what="capacity of a lead cell at a rate between those fitted", deviation=deviation)  # fmt: skip
    assert abs(deviation) < 0.005
