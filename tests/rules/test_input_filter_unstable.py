"""The damping that the rule proposes does flatten the resonance; judged by the circuit itself."""

from math import sqrt

import pytest

from ohmstead.rules.input_filter_unstable import MARGIN, damping
from rules.by_hand import at, converter, evidence, run, severities, told

LONG = {"length_m": 6.0}


def peak_ohm(inductance_h, capacitance_f, ratio, series_ohm):
    """Largest impedance of L, C and (n·C in series with R) side by side, swept over three decades."""
    centre = 1 / sqrt(inductance_h * capacitance_f)
    found = 0.0
    for step in range(-600, 601):
        w = centre * 10 ** (step / 400)
        admittance = 1 / (1j * w * inductance_h) + 1j * w * capacitance_f
        admittance += 1 / (series_ohm + 1 / (1j * w * ratio * capacitance_f))
        found = max(found, abs(1 / admittance))
    return found


@pytest.mark.parametrize("shown_ohm", [0.4, 0.8, 1.0, 1.5, 1.99])
def test_proposed_damping_keeps_the_margin(shown_ohm):
    inductance_h, capacitance_f = 4e-6, 4e-6  # 1 Ω between them
    ratio, series_ohm = damping(1.0, shown_ohm)
    assert ratio >= 4
    assert peak_ohm(inductance_h, capacitance_f, ratio, series_ohm) <= shown_ohm / MARGIN * 1.01
    # and it is no waste: two thirds of that capacitor would not do, unless four times is the least anyway
    if ratio > 4:
        less = ratio * 2 / 3
        best = min(peak_ohm(inductance_h, capacitance_f, less, 0.02 * k) for k in range(1, 101))
        assert best > shown_ohm / MARGIN


def test_severity_follows_the_ratio_of_impedances():
    # 6 m of wires are 6 µH; at 12 V and 10 A the converter shows 1.2 Ω
    taken = dict(input_lowest=at(12.0), input_a=at(10.0))
    for farad, severity in ((3e-6, ["fails"]), (10e-6, ["tight"]), (100e-6, [])):
        view = converter({"capacitance_f": farad, "lockout": None}, **taken)
        found = evidence(converters=(view,), runs=(run("bank", "supply", LONG),))
        assert severities("input-filter-unstable", found) == severity


def test_unknown_capacitance_is_not_judged():
    view = converter(input_lowest=at(12.0), input_a=at(10.0))
    assert told("input-filter-unstable", evidence(converters=(view,), runs=(run("bank", "supply", LONG),))) == []
