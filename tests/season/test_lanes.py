"""Designs side by side: each is what the recursion makes of it alone."""

from dataclasses import replace

import numpy as np
import pytest

from ohmstead.season.compiled import fast
from ohmstead.season.kernel import BACKUP, N_GRID, RUNNING, SPILLED, STATE, UNSERVED, Drive, Rules, Starts, run
from ohmstead.season.lanes import FULL_FRACTION, Designs, sweep

RULES = Rules(5000.0, 50.0, 0.0, 0.0, 0.9, 0.03, 1e-4, 900.0, 4000.0)
LEAD = replace(RULES, available_fraction=0.3, exchange_per_h=1.0, accepted_fraction=1.0)
STEPS = ((2500.0, 3500.0), (1500.0, 2600.0))
SPARE = Starts(250.0, 900.0, 2200.0, 3.0)


@pytest.mark.parametrize(
    ("rules", "cold"),
    [(RULES, 0.0), (LEAD, 0.2), (replace(RULES, sheds=STEPS), 0.0), (replace(RULES, backup=SPARE), 0.0),
     (replace(LEAD, sheds=STEPS[:1], backup=SPARE), 0.1)],
)  # fmt: skip
def test_every_lane_is_the_design_alone(rules: Rules, cold: float) -> None:
    """Of lithium, all at hand; of lead, two wells and some of it held back by the cold; with shedding and back-up."""
    assert fast.signatures  # loaded, so that the designs alone run compiled
    dice = np.random.default_rng(5)
    n_hour, n_design = 2 * 8760, 66
    load = dice.uniform(0, 400, n_hour)
    drive = Drive(
        dice.uniform(0, 900, n_hour) * (dice.random(n_hour) > 0.6), np.stack([load] * 3), np.minimum(load, 3.0),
        dice.choice([1e-5, 2e-5], n_hour), dice.choice([0.0, 600.0, 2500.0], n_hour), np.ones(N_GRID),
        dice.uniform(0.0, cold, n_hour) * rules.full_wh if cold else None, None,
        np.stack([np.stack([load * kept] * 3) for kept in (0.6, 0.2)[: len(rules.sheds)]]) if rules.sheds else None,
    )  # fmt: skip
    cut = dice.uniform(0.0, 0.3, n_design) * (dice.random(n_design) > 0.3)
    designs = Designs(dice.uniform(0.2, 3, n_design), dice.uniform(0.2, 3, n_design), dice.uniform(300, 2000, n_design),
                      cut, np.where(cut > 0, cut + 0.2, 0.0))  # fmt: skip
    found = sweep(drive, rules, designs)
    for i in range(n_design):
        full = rules.full_wh * designs.bank[i]
        floor = rules.floor_wh * designs.bank[i]
        cut_wh = max(cut[i] * full, floor)
        alone = replace(
            rules, full_wh=full, floor_wh=floor, cut_wh=cut_wh, back_wh=max(designs.back_fraction[i] * full, cut_wh),
            discharge_w=rules.discharge_w * designs.bank[i], start_wh=rules.start_wh * designs.bank[i],
            sheds=tuple((off * designs.bank[i], on * designs.bank[i]) for off, on in rules.sheds),
            backup=None if rules.backup is None else replace(
                rules.backup, start_wh=rules.backup.start_wh * designs.bank[i],
                stop_wh=rules.backup.stop_wh * designs.bank[i]),
        )  # fmt: skip
        own = replace(
            drive,
            harvest_w=np.minimum(drive.harvest_w * designs.array[i], designs.most_w[i]),
            loss_per_w=drive.loss_per_w / designs.bank[i],
            charge_most_w=drive.charge_most_w * designs.bank[i],
            least_wh=None if drive.least_wh is None else drive.least_wh * designs.bank[i],
        )
        out = run(own, alone)
        filled = (out[STATE].reshape(-1, 24) >= FULL_FRACTION * full).any(axis=1)
        runs = np.diff(np.flatnonzero(np.concatenate(([True], filled, [True])))) - 1
        lowest = min(out[STATE].min(), alone.start_wh)
        asked = [out[UNSERVED].sum(), (out[UNSERVED] > 1e-6).sum(), out[SPILLED].sum(), lowest, out[STATE][-1],
                 filled.sum(), runs.max()]  # fmt: skip
        np.testing.assert_allclose(found.sums[:7, i], asked, rtol=1e-9, atol=1e-6)
        np.testing.assert_allclose(
            found.by_year_wh[:, i], out[UNSERVED].reshape(2, -1).sum(axis=1), rtol=1e-9, atol=1e-6
        )
        np.testing.assert_allclose(found.sums[8:, i], [out[BACKUP].sum(), out[RUNNING].sum()], rtol=1e-9, atol=1e-6)
        states = np.concatenate(([alone.start_wh], out[STATE][:-1]))
        entered = np.maximum(out[STATE] / (1.0 - rules.rested_fraction) - states, 0.0) / (1.0 - rules.passed_fraction)
        assert abs(found.sums[7, i] - entered.sum()) < 1e-6 * max(entered.sum(), 1.0)
