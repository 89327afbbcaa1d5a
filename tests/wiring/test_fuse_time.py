"""Windows of opening: their order, their inverse, and what heat and statements change."""

from math import inf

import pytest

from ohmstead.parts.fuse import families, read_fuse, with_rating, with_window
from ohmstead.wiring.fuse_heat import cold_resistance_ohm, heat_w, hot_resistance_ohm, resistance_ohm
from ohmstead.wiring.fuse_time import (
    ambient_share,
    continuous_a,
    holds_for,
    melting_a2s,
    melting_window_s,
    opens_within,
    surely_holds_a,
)


def all_fuses():
    for family in families():
        volts = f" {family.variant_v:g} V" if family.variant_v else ""
        first = read_fuse(f"{family.ratings_a[0]:g} A {family.words[0]}{volts}")
        middle = family.ratings_a[len(family.ratings_a) // 2]
        yield from (first, with_rating(first, middle), with_rating(first, family.ratings_a[-1]))


FUSES = list(all_fuses())
NAMES = [fuse.text for fuse in FUSES]


@pytest.mark.parametrize("fuse", FUSES, ids=NAMES)
def test_more_current_never_opens_later(fuse):
    last = (inf, inf)
    for step in range(80, 4000, 15):
        window = melting_window_s(fuse, fuse.rating_a * step / 100)
        assert window[0] <= window[1]
        assert window[0] <= last[0] and window[1] <= last[1]
        last = window


@pytest.mark.parametrize("fuse", FUSES, ids=NAMES)
@pytest.mark.parametrize("seconds", [0.01, 0.1, 0.4, 5.0, 60.0, 4000.0])
def test_opens_within_is_the_inverse(fuse, seconds):
    current = opens_within(fuse, seconds)
    if current == inf:
        assert fuse.family.kind == "breaker"
        return
    assert melting_window_s(fuse, current * 1.0001)[1] <= seconds * 1.001
    assert melting_window_s(fuse, current * 0.99)[1] > seconds * 0.999


@pytest.mark.parametrize("fuse", FUSES, ids=NAMES)
@pytest.mark.parametrize("seconds", [0.01, 0.1, 5.0, 60.0])
def test_surely_holds_is_the_inverse(fuse, seconds):
    current = surely_holds_a(fuse, seconds)
    assert holds_for(fuse, current * 0.999, seconds * 0.999)
    if not (fuse.family.kind == "breaker" and seconds < 0.02):
        assert not holds_for(fuse, current * 1.02, seconds * 1.05)


@pytest.mark.parametrize("fuse", FUSES, ids=NAMES)
def test_heat(fuse):
    cold, hot = cold_resistance_ohm(fuse), hot_resistance_ohm(fuse)
    assert 0 < cold < hot
    assert cold <= resistance_ohm(fuse, fuse.rating_a / 2) <= hot
    assert resistance_ohm(fuse, 3 * fuse.rating_a) == hot
    assert 0.05 < heat_w(fuse, fuse.rating_a) < 46  # a large bolted or NH fuse gives off tens of watts
    assert melting_a2s(fuse) > 0


def test_beyond_the_last_gate_a_fuse_keeps_its_heat():
    fuse = read_fuse("10 A blade")
    soonest, latest = melting_window_s(fuse, 60.0)
    assert melting_window_s(fuse, 600.0) == pytest.approx((soonest / 100, latest / 100))


def test_beyond_the_last_gate_a_breaker_keeps_its_time():
    breaker = read_fuse("20 A breaker")
    assert melting_window_s(breaker, 3000.0) == melting_window_s(breaker, 400.0)
    assert opens_within(breaker, 0.01) == inf


def test_hot_air_makes_it_faster_and_weaker():
    fuse = read_fuse("10 A blade")
    assert melting_window_s(fuse, 20.0, 60.0)[1] < melting_window_s(fuse, 20.0, 25.0)[1]
    assert opens_within(fuse, 5.0, 60.0) < opens_within(fuse, 5.0, 25.0)
    assert continuous_a(fuse, 60.0) < continuous_a(fuse, 20.0) == 7.5


def test_ambient_beyond_the_curve_ends_at_nothing():
    fuse = read_fuse("10 A blade")
    assert ambient_share(fuse, -30.0) == 1.0
    assert ambient_share(fuse, 400.0) == 0.0
    assert melting_window_s(fuse, 1.0, 400.0) == (0.0, 0.0)


def test_a_stated_window_counts():
    fuse = with_window(read_fuse("10 A blade"), {2.0: (0.5, 2.0)})
    assert melting_window_s(fuse, 20.0) == pytest.approx((0.5, 2.0))
    assert melting_window_s(fuse, 11.0)[0] == pytest.approx(360_000)
    assert melting_window_s(fuse, 200.0) == pytest.approx((0.005, 0.02))
