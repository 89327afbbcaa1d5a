"""Designs side by side: each is what the recursion makes of it alone."""

from dataclasses import replace

import numpy as np

from ohmstead.season.kernel import N_GRID, SPILLED, STATE, UNSERVED, Drive, Rules, run
from ohmstead.season.lanes import DARK_H, END_WH, LOWEST_WH, SPILLED_WH, UNSERVED_WH, Designs, sweep

RULES = Rules(5000.0, 50.0, 0.0, 0.0, 0.9, 0.03, 1e-4, 900.0, 4000.0)


def test_every_lane_is_the_design_alone() -> None:
    dice = np.random.default_rng(5)
    n_hour, n_design = 3000, 150
    load = dice.uniform(0, 400, n_hour)
    drive = Drive(
        dice.uniform(0, 900, n_hour) * (dice.random(n_hour) > 0.6), np.stack([load] * 3), np.minimum(load, 3.0),
        dice.choice([1e-5, 2e-5], n_hour), dice.choice([0.0, 600.0, 2500.0], n_hour), np.ones(N_GRID),
    )  # fmt: skip
    cut = dice.uniform(0.0, 0.3, n_design) * (dice.random(n_design) > 0.3)
    designs = Designs(dice.uniform(0.2, 3, n_design), dice.uniform(0.2, 3, n_design), dice.uniform(300, 2000, n_design),
                      cut, np.where(cut > 0, cut + 0.2, 0.0))  # fmt: skip
    found = sweep(drive, RULES, designs)
    for i in range(n_design):
        full = RULES.full_wh * designs.bank[i]
        floor = RULES.floor_wh * designs.bank[i]
        cut_wh = max(cut[i] * full, floor)
        alone = replace(
            RULES, full_wh=full, floor_wh=floor, cut_wh=cut_wh, back_wh=max(designs.back_fraction[i] * full, cut_wh),
            discharge_w=RULES.discharge_w * designs.bank[i], start_wh=RULES.start_wh * designs.bank[i],
        )  # fmt: skip
        own = replace(
            drive,
            harvest_w=np.minimum(drive.harvest_w * designs.array[i], designs.most_w[i]),
            loss_per_w=drive.loss_per_w / designs.bank[i],
            charge_most_w=drive.charge_most_w * designs.bank[i],
        )
        out = run(own, alone)
        asked = np.array([out[UNSERVED].sum(), (out[UNSERVED] > 1e-6).sum(), out[SPILLED].sum(), out[STATE].min(),
                          out[STATE][-1]])  # fmt: skip
        got = found[[UNSERVED_WH, DARK_H, SPILLED_WH, LOWEST_WH, END_WH], i]
        asked[3] = min(asked[3], alone.start_wh)
        np.testing.assert_allclose(got, asked, rtol=1e-9, atol=1e-6)
