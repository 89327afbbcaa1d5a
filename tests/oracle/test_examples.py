"""The example sites in all their cases against ngspice, node by node.

A device that browned out is left out of the simulated circuit, as it was taken off the solved one.
"""

from dataclasses import replace
from pathlib import Path

import pytest

from ohmstead import open as open_site
from ohmstead.network.elements import LoadState
from oracle.test_networks import AGREEMENT, deviation, simulated

EXAMPLES = Path(__file__).parents[2] / "examples"
SITES = sorted(path for path in EXAMPLES.glob("*/*.yaml") if "open" not in path.stem)


@pytest.mark.needs_ngspice
@pytest.mark.parametrize("path", SITES, ids=[path.stem for path in SITES])
def test_every_case_of_an_example(path, outside):
    operation = open_site(path).operation
    worst, n_case = 0.0, 0
    for corner, point in zip(operation.corners, operation.points, strict=True):
        corner = replace(
            corner,
            loads=tuple(load if on else LoadState() for load, on in zip(corner.loads, point.load_on, strict=True)),
        )
        found = simulated(operation.circuit.network, corner, None)
        if found is None or deviation(point.voltage_v, found) > AGREEMENT:
            found = simulated(operation.circuit.network, corner, point.voltage_v)
        assert found is not None, corner.name
        worst, n_case = max(worst, deviation(point.voltage_v, found)), n_case + 1
    outside(
        source="ngspice",
        place="operating point",
        read="original",
        what=f"every node voltage of {path.stem} in its cases",
        deviation=worst,
    )
    assert n_case == len(operation.cases)
    assert worst < AGREEMENT
