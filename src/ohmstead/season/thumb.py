"""The usual arithmetic of sizing: days of autonomy and sun hours of the worst month.

It knows nothing of weather in a row, and stands beside the reckoned answer for comparison only. All of it is common
practice, written down in many handbooks in nearly the same words, with no one source.
"""

from math import ceil

AUTONOMY_DAYS = 3.0  # common practice, no source: 2 to 3 with a back-up, 3 to 5 without, 5 to 7 in the far north
DEPTH = {"LFP": 0.8, "NMC": 0.8, "lead AGM": 0.5, "lead flooded": 0.5}  # common practice, no source
GIVEN = 0.95  # share of what leaves a battery that arrives; common practice, no source
DERATED = 0.75  # dirt, heat, wire, controller: share of a module's rated power in use; common practice, no source
PASSED = 0.95  # share of what passes through a battery that comes out; common practice, no source
MARGIN = 1.3  # of the array over the load; common practice, no source: 1.1 to 1.4


def battery_wh(load_wh_a_day: float, days: float, depth_fraction: float, given_fraction: float) -> float:
    """Battery that carries a load through days without sun. [Wh]

    >>> round(battery_wh(1000.0, 3.0, 0.8, 0.95))
    3947
    """
    return load_wh_a_day * days / (depth_fraction * given_fraction)


def array_w(load_wh_a_day: float, sun_h: float, derated_fraction: float, passed_fraction: float, ratio: float) -> float:
    """Array that covers a load with the sun hours of the worst month: kWh/m² a day in its plane. [W]

    >>> round(array_w(1000.0, 3.25, 0.75, 0.95, 1.3))
    561
    """
    return load_wh_a_day * ratio / (sun_h * derated_fraction * passed_fraction)


def strings(load_ah: float, ratio: float, lost_fraction: float, sun_h: float, module_a: float) -> int:
    """Strings of modules side by side for the charge of a day, by sun hours and the current of one module.

    >>> strings(50.0, 1.3, 0.1, 4.0, 5.5)
    4
    """
    return ceil(load_ah * (1.0 + lost_fraction) * ratio / (sun_h * module_a))
