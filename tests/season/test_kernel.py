"""The recursion: against its plain twin, against closed forms, and by laws it must keep."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ohmstead.season import kernel
from ohmstead.season.kernel import (
    AVAILABLE,
    BACKUP,
    CONNECTED,
    LOST,
    N_GRID,
    SERVED,
    SPILLED,
    STATE,
    UNSERVED,
    Drive,
    Rules,
    Starts,
    run,
)
from ohmstead.season.twin import run_plainly

PLAIN = Rules(
    full_wh=1000.0, floor_wh=0.0, cut_wh=0.0, back_wh=0.0, accepted_fraction=1.0, passed_fraction=0.0,
    rested_fraction=0.0, discharge_w=1e9, start_wh=500.0,
)  # fmt: skip


def drive(harvest: np.ndarray, load: np.ndarray, loss: float = 0.0, most: float = 1e9) -> Drive:
    """Series for a lossless or plainly lossy bank whose load does not hang on its voltage."""
    size = harvest.size
    return Drive(
        harvest_w=np.asarray(harvest, dtype=float),
        load_w=np.tile(np.asarray(load, dtype=float), (3, 1)),
        passing_w=np.zeros(size),
        loss_per_w=np.full(size, loss),
        charge_most_w=np.full(size, most),
        place=np.ones(N_GRID),
    )


@st.composite
def wild(draw: st.DrawFn) -> tuple[Drive, Rules]:
    """Any weather, load, bank and disconnect."""
    dice = np.random.default_rng(draw(st.integers(0, 10**6)))
    size = draw(st.integers(1, 300))
    full = draw(st.sampled_from([0.0, 1.0, 500.0, 5000.0]))
    floor, cut, back = sorted(draw(st.lists(st.floats(0, 1), min_size=3, max_size=3)))
    if draw(st.booleans()):
        cut = back = floor
    rules = Rules(
        full, floor * full, cut * full, back * full, draw(st.floats(0.01, 1)), draw(st.floats(0, 0.3)),
        draw(st.floats(0, 0.01)), draw(st.sampled_from([50.0, 1e9])), draw(st.floats(0, 1)) * full,
        *draw(st.sampled_from([(1.0, 0.0), (0.3, 1.0), (0.6, 0.2), (0.17, 7.0)])),
    )  # fmt: skip
    n_step = draw(st.integers(0, 3))
    pairs = np.sort(dice.uniform(0, full, (n_step, 2)), axis=1)
    starts = np.sort(dice.uniform(0, full, 2))
    backup = Starts(draw(st.sampled_from([20.0, 400.0])), *starts, draw(st.sampled_from([1.0, 3.0])))
    rules = replace(rules, sheds=tuple((float(a), float(b)) for a, b in sorted(pairs.tolist(), reverse=True)),
                    backup=draw(st.sampled_from([None, backup])))  # fmt: skip
    load = dice.uniform(0, 300, (3, size)) * (dice.random(size) > 0.2)
    return Drive(
        dice.uniform(0, 900, size) * (dice.random(size) > 0.5), load, np.minimum(load.min(axis=0), dice.uniform(0, 9)),
        dice.uniform(0, draw(st.sampled_from([0.0, 1e-5, 2e-3])), size), dice.choice([0.0, 100.0, 1e9], size),
        np.sort(dice.uniform(0, 2, N_GRID)), draw(st.sampled_from([None, dice.uniform(0, 0.5 * full, size)])),
        draw(st.sampled_from([None, dice.uniform(0.8, 3, N_GRID)])),
        load[None] * np.cumprod(dice.uniform(0, 1, (n_step, 1, size)), axis=0),
    ), rules  # fmt: skip


def gap(driven: Drive, rules: Rules, out: np.ndarray) -> float:
    """Largest hourly imbalance over what the hour moved."""
    change = np.diff(out[STATE], prepend=rules.start_wh)
    left = driven.harvest_w + out[BACKUP] - out[SERVED] - out[SPILLED] - out[LOST] - change
    moved = np.maximum.reduce([driven.harvest_w, out[SERVED], out[STATE], np.ones_like(left)])
    return float(np.max(np.abs(left) / moved))


@settings(max_examples=200, deadline=None)
@given(wild())
def test_energy_is_neither_made_nor_lost_in_any_hour(case: tuple[Drive, Rules]) -> None:
    driven, rules = case
    out = run(driven, rules)
    assert gap(driven, rules, out) < 1e-9
    assert (out[[SERVED, UNSERVED, SPILLED, LOST, STATE]] > -1e-9).all()
    assert (out[STATE] <= rules.full_wh * (1 + 1e-12)).all()
    assert (out[AVAILABLE] > -1e-9).all()
    assert (out[AVAILABLE] <= rules.available_fraction * rules.full_wh * (1 + 1e-12)).all()
    bound = out[STATE] - out[AVAILABLE]
    assert (bound > -1e-9).all()
    assert (bound <= (1 - rules.available_fraction) * rules.full_wh + 1e-9).all()


@settings(max_examples=200, deadline=None)
@given(wild())
def test_compiled_and_plain_agree(case: tuple[Drive, Rules]) -> None:
    driven, rules = case
    made, plain = run(driven, rules), run_plainly(driven, rules)
    assert (made[CONNECTED] == plain[CONNECTED]).all()
    np.testing.assert_allclose(made, plain, rtol=1e-9, atol=1e-7)


def test_few_hours_uncompiled_and_many_compiled_are_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    dice = np.random.default_rng(3)
    driven = drive(dice.uniform(0, 500, 5000) * (dice.random(5000) > 0.7), dice.uniform(0, 150, 5000), 1e-4)
    rules = replace(PLAIN, cut_wh=100.0, back_wh=300.0, passed_fraction=0.03)
    monkeypatch.setattr(kernel, "FEW_HOURS", 10**9)
    monkeypatch.setattr(kernel, "COMPILED", "none")
    as_it_stands = run(driven, rules)
    monkeypatch.setattr(kernel, "FEW_HOURS", 0)
    np.testing.assert_allclose(run(driven, rules), as_it_stands, rtol=1e-12, atol=1e-9)


@settings(max_examples=100, deadline=None)
@given(wild())
def test_a_disconnect_that_opened_stays_open_until_it_may_close(case: tuple[Drive, Rules]) -> None:
    driven, rules = case
    out = run(driven, rules)
    closing = np.flatnonzero(np.diff(out[CONNECTED]) > 0)
    level = out[AVAILABLE][closing] / rules.available_fraction
    assert (level >= rules.back_wh * (1 - 1e-8)).all()


@settings(max_examples=100, deadline=None)
@given(st.integers(0, 10**6), st.floats(1.0, 4.0), st.floats(1.0, 3.0), st.floats(0, 0.2))
def test_more_battery_or_more_sun_never_serves_less(seed: int, bank: float, sun: float, passed: float) -> None:
    """Without hysteresis and self-discharge: with them it is no law, since a bigger bank may wait longer to close."""
    dice = np.random.default_rng(seed)
    harvest, load = dice.uniform(0, 600, 500) * (dice.random(500) > 0.6), dice.uniform(0, 200, 500)
    rules = replace(PLAIN, passed_fraction=passed)
    lacking = run(drive(harvest, load, 1e-5), rules)[UNSERVED].sum()
    larger = replace(rules, full_wh=1000 * bank, start_wh=500 * bank)
    assert run(drive(harvest, load, 1e-5 / bank), larger)[UNSERVED].sum() <= lacking + 1e-6
    assert run(drive(sun * harvest, load, 1e-5), rules)[UNSERVED].sum() <= lacking + 1e-6


def test_without_sun_the_load_is_cut_off_when_the_energy_is_gone() -> None:
    """500 Wh above 100 Wh, a loss of k·x²: the cells give x with x - k·x² = 40 W, so they last 400 Wh / x."""
    k, load = 1e-3, 40.0
    inside = (1 - np.sqrt(1 - 4 * k * load)) / (2 * k)
    rules = replace(PLAIN, cut_wh=100.0, back_wh=300.0)
    out = run(drive(np.zeros(30), np.full(30, load), k), rules)
    lasts_h = 400.0 / inside
    whole = int(lasts_h)
    assert out[SERVED][:whole] == pytest.approx(np.full(whole, load), rel=1e-12)
    rest = 400.0 - whole * inside
    assert out[SERVED][whole] == pytest.approx(rest - k * rest**2, rel=1e-9)
    assert (out[SERVED][whole + 1 :] == 0.0).all()
    assert out[STATE][-1] == pytest.approx(100.0)


def test_sun_that_equals_the_load_moves_nothing() -> None:
    out = run(drive(np.full(8760, 123.0), np.full(8760, 123.0), 1e-4), PLAIN)
    assert (out[STATE] == 500.0).all()
    assert out[[UNSERVED, SPILLED, LOST]].sum() == 0.0


def test_charging_pays_for_losses() -> None:
    """A day in the dark and one in the sun, with the sun that gives back what was taken and lost, comes round."""
    k, passed, load = 2e-4, 0.05, 50.0
    inside = (1 - np.sqrt(1 - 4 * k * load)) / (2 * k)
    entering = inside / (1 - passed)
    sun = load + entering + k * entering**2
    pattern = np.tile([0.0, sun], 100)
    out = run(drive(pattern, np.full(200, load), k), replace(PLAIN, passed_fraction=passed))
    assert out[STATE][1::2] == pytest.approx(np.full(100, 500.0), rel=1e-12)


def test_no_load_and_no_battery() -> None:
    sun = np.tile([0.0, 100.0], 50)
    idle = run(drive(sun, np.zeros(100)), PLAIN)
    assert idle[UNSERVED].sum() == 0.0
    assert idle[STATE][-1] == 1000.0
    bare = run(drive(sun, np.full(100, 60.0)), replace(PLAIN, full_wh=0.0, start_wh=0.0))
    assert bare[SERVED].sum() == pytest.approx(50 * 60.0)
    assert bare[UNSERVED].sum() == pytest.approx(50 * 60.0)
    assert bare[SPILLED].sum() == pytest.approx(50 * 40.0)


def test_the_cold_and_the_taper_hold_back_the_charge() -> None:
    blocked = run(drive(np.full(10, 100.0), np.zeros(10), most=0.0), PLAIN)
    assert blocked[SPILLED].sum() == 1000.0
    tapering = run(drive(np.full(3, 1e6), np.zeros(3)), replace(PLAIN, accepted_fraction=0.5))
    assert tapering[STATE] == pytest.approx([750.0, 875.0, 937.5])


@pytest.mark.parametrize(("n_step", "share"), [(10, 0.6), (5, 0.6), (20, 0.55), (10, 0.5001)])
def test_loss_of_load_of_a_random_walk(outside, n_step: int, share: float) -> None:  # type: ignore[no-untyped-def]
    """A battery of N steps, up with probability p else down: unmet steps = (1-p)(1-r)/(1-r^(N+1)), r = p/(1-p)."""
    n_day = 2_000_000
    steps = np.random.default_rng(7).random(n_day) < share
    rules = replace(PLAIN, full_wh=float(n_step), start_wh=float(n_step))
    out = run(drive(2.0 * steps, np.ones(n_day)), rules)
    ratio = share / (1 - share)
    exact = (1 - share) * (1 - ratio) / (1 - ratio ** (n_step + 1))
    found = out[UNSERVED].mean()
    blocks = out[UNSERVED].reshape(200, -1).mean(axis=1)
    error = blocks.std(ddof=1) / np.sqrt(200)
    outside(source="random-walk", place="stationary law between two barriers", read="computed",
            what="loss of load of a battery of equal steps", deviation=float(abs(found / exact - 1)))  # fmt: skip
    assert abs(found - exact) < 4 * error
    assert error < 0.1 * exact
