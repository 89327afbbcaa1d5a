"""Strings in part shade against trying out every set of bypassed blocks."""

from itertools import product

import numpy as np
import pytest

from ohmstead.site.sky import Array
from ohmstead.sun.field import field_of
from ohmstead.sun.strings import DIODE_SHARE, best_share, current_share

ARRAY = Array(name="a", power_w=200.0, series=2, parallel=2, bypass=3, rows=2)
FIELD = field_of(ARRAY)


def tried_out(light, n_string=2):
    """Every choice of working blocks in every string, as long as all strings have the same voltage."""
    strings = light.reshape(n_string, -1)
    n = strings.shape[1]
    best = {}
    for string in strings:
        by_count = {}
        for works in product((0, 1), repeat=n):
            k = sum(works)
            if k:
                power = min(x for x, w in zip(string, works, strict=True) if w) * (k - (n - k) * DIODE_SHARE) / n
                by_count[k] = max(by_count.get(k, -9.0), power)
        for k, power in by_count.items():
            best[k] = best.get(k, 0.0) + power / n_string
    return max(*best.values(), 0.0)


def test_best_of_all_sets():
    dice = np.random.default_rng(3)
    light = np.where(dice.random((80, 12)) < 0.4, dice.random((80, 12)), 1.0)
    found = best_share(light, FIELD)
    assert found == pytest.approx([tried_out(row[np.argsort(FIELD.string, kind="stable")]) for row in light])


def test_no_gain_from_shade_and_no_more_than_the_mean():
    dice = np.random.default_rng(4)
    light = dice.random((200, 12))
    found = best_share(light, FIELD)
    assert (found <= light.mean(axis=1) + 1e-12).all()
    assert (found >= light.min(axis=1) - 1e-12).all()
    assert (best_share(light * 0.5, FIELD) <= found).all()


def test_without_diodes_the_darkest_block_rules():
    bare = field_of(Array(name="a", power_w=200.0, series=3, bypass=0))
    assert bare.points.shape[0] == 3
    assert best_share(np.array([[1.0, 0.2, 0.9]]), bare) == pytest.approx([0.2])


def test_held_at_a_voltage():
    one = field_of(Array(name="a", power_w=200.0, series=2, bypass=3))
    light = np.array([[1.0, 1.0, 1.0, 0.4, 0.1, 0.1]])
    assert current_share(light, one, 0.4) == pytest.approx([1.0])
    assert current_share(light, one, 0.55) == pytest.approx([0.4])
    assert current_share(light, one, 1.0) == pytest.approx([0.1])


def test_blocks_fill_the_field_and_its_strings():
    for lying in ("upright", "sideways"):
        field = field_of(
            Array(name="a", power_w=200.0, series=2, parallel=3, rows=2, lying=lying, width_m=3.0, height_m=2.0)
        )
        assert field.points.shape == (18, 18, 3)
        assert np.bincount(field.string).tolist() == [6, 6, 6]
        assert np.abs(field.points.reshape(-1, 3).mean(axis=0)).max() < 1e-9
        assert field.radius_m == pytest.approx(np.hypot(1.5, 1.0), rel=0.06)
