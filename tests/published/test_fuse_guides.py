"""Makers' guides to fuses: many pulses, continuous load, and the shapes of pulses."""

import pytest

from ohmstead.parts.fuse import read_fuse
from ohmstead.wiring.fuse_time import continuous_a
from ohmstead.wiring.inrush import inrush_a2s, inrush_peak_a, pulse_a2s, pulse_share


def test_pulse_chart(outside):
    printed = {100: 0.48, 1000: 0.38, 10_000: 0.29, 100_000: 0.22}
    outside(source="fuse-pulse-chart", place="pulse cycles", read="second-hand", what="share of the melting I²t",
            deviation=0.0)  # fmt: skip
    assert {count: round(pulse_share(count), 12) for count in printed} == printed
    assert 0.29 < pulse_share(3000) < 0.38


def test_pulse_shapes(outside):
    """Each closed form against the integral of its shape, summed in a thousand steps."""
    from math import exp, pi, sin

    shapes = {
        "rectangle": lambda x: 1.0,
        "half sine": lambda x: sin(pi * x),
        "triangle": lambda x: x,
    }
    n, worst = 1000, 0.0
    for name, shape in shapes.items():
        total = sum((7.0 * shape((i + 0.5) / n)) ** 2 for i in range(n)) * 0.2 / n
        worst = max(worst, abs(pulse_a2s(7.0, 0.2, name) / total - 1))
    tail = sum((7.0 * exp(-(i + 0.5) / 100)) ** 2 for i in range(2000)) * 0.2 / 100
    worst = max(worst, abs(pulse_a2s(7.0, 0.2, "exponential") / tail - 1))
    outside(
        source="fuse-pulse-chart", place="pulse shapes", read="second-hand", what="I²t of four shapes", deviation=worst
    )
    assert worst < 1e-4


def test_inrush_is_the_exponential_pulse(outside):
    """C·U²/2R is half the squared peak times R·C."""
    volts, ohm, farad = 24.0, 0.05, 2200e-6
    ours = inrush_a2s(volts, ohm, farad)
    other = pulse_a2s(inrush_peak_a(volts, ohm), ohm * farad, "exponential")
    outside(source="fuse-pulse-chart", place="pulse shapes", read="computed", what="charging a capacitor",
            deviation=ours / other - 1)  # fmt: skip
    assert ours == pytest.approx(other)


def test_continuous_load(outside):
    """At most 75 % of the rating at 25 °C; 6.5 A for a 10 A blade at 60 °C."""
    at_25, at_60 = (continuous_a(read_fuse("10 A blade"), t) for t in (20.0, 60.0))
    outside(source="fuse-guide", place="continuous load", read="second-hand", what="75 % of the rating")
    assert at_25 == pytest.approx(7.5)
    assert at_60 == pytest.approx(6.5, abs=0.03)
