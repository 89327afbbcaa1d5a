"""A brief current heats a conductor between the two known ends: no heat lost at first, steady at last."""

import pytest

from ohmstead.parts.wire import read_wire
from ohmstead.wiring.adiabatic import withstand_a2s
from ohmstead.wiring.conductor import conductor_temperature_c
from ohmstead.wiring.short_load import brief_temperature_c, time_constant_s

WIRE, BEARS_A, LIMIT_C, AIR_C = read_wire("2.5 mm2"), 24.0, 70.0, 30.0


def end_c(current_a: float, seconds: float) -> float:
    settled = conductor_temperature_c(current_a, BEARS_A, LIMIT_C, AIR_C)
    return brief_temperature_c(AIR_C, settled, seconds, time_constant_s(WIRE, BEARS_A, LIMIT_C, AIR_C))


def test_a_long_current_ends_where_the_steady_one_settles():
    assert end_c(20.0, 3600.0) == pytest.approx(conductor_temperature_c(20.0, BEARS_A, LIMIT_C, AIR_C))


@pytest.mark.parametrize("times", [20, 50])
def test_a_violent_current_reaches_the_limit_by_the_adiabatic_heat(times):
    # The adiabatic equation of IEC 60949: the limit is reached when I²t = k²S², as long as no heat gets out.
    current_a = times * BEARS_A
    seconds = withstand_a2s(WIRE.area_mm2, AIR_C, LIMIT_C, WIRE.metal) / current_a**2
    assert end_c(current_a, seconds) == pytest.approx(LIMIT_C, abs=40.0 / times)


def test_more_current_and_more_time_never_cool():
    assert end_c(40.0, 10.0) < end_c(40.0, 20.0) < end_c(60.0, 20.0)
    assert time_constant_s(read_wire("10 mm2"), 57.0, LIMIT_C, AIR_C) > time_constant_s(WIRE, BEARS_A, LIMIT_C, AIR_C)
