"""The compiled sweep gives what the batch gives."""

import numpy as np
import pytest

from ohmstead.network.batch import solve_batch
from oracle.grow import at_margin, grow

compiled = pytest.importorskip("ohmstead.network.compiled", reason="numba is not installed")


@pytest.mark.parametrize("seed", range(80, 96))
def test_same_answer_as_the_batch(seed):
    network, corner = grow(seed)
    corner = at_margin(network, corner, 1.5)
    dice = np.random.default_rng(seed)
    n_case = 77  # more than one block of lanes, and a part of one
    vary = {("source_v", i): v * dice.uniform(0.9, 1.05, n_case) for i, v in enumerate(corner.source_v)}
    for i, load in enumerate(corner.loads):
        vary["load_w", i] = load.power_w * dice.uniform(0.2, 1.2, n_case)
    vary["branch_ohm", 0] = corner.branch_ohm[0] * dice.uniform(0.9, 1.5, n_case)
    batch, sweep = solve_batch(network, corner, vary), compiled.solve_sweep(network, corner, vary)
    assert np.abs(batch.voltage_v - sweep.voltage_v).max() < 1e-7
    assert (batch.converter_mode == sweep.converter_mode).all()
    assert (batch.feed_mode == sweep.feed_mode).all()
    assert (batch.load_on == sweep.load_on).all()
    assert (batch.collapsed == sweep.collapsed).all()
    assert np.abs(batch.branch_a - sweep.branch_a).max() < 1e-5
    assert sweep.residual_a.max() < 1e-6
