"""How much heat a cabinet may take before the first part in it passes its limit."""

from ...evidence.cabinets import CabinetView
from ...heat.model import day
from .ways import least_margin

MOST_FACTOR = 64.0
CLOSE_ENOUGH = 0.01


def allowed_factor(view: CabinetView) -> float | None:
    """The factor on all its heat at which the first limit is met on the hottest day; below 1 when one is passed.

    None where no part has a limit; 0 when the air around alone passes one.
    """
    if not view.limits:
        return None
    hot = view.climate.hot

    def margin(factor: float) -> float:
        heat = {name: tuple(factor * watts for watts in hours) for name, hours in hot.heat_w.items()}
        found, _ = least_margin(day(view.climate.box, hot.around, heat), view.limits)
        assert found is not None
        return found

    if margin(0.0) < 0.0:
        return 0.0
    low, high = 0.0, 1.0
    while margin(high) >= 0.0:
        low, high = high, 2.0 * high
        if high > MOST_FACTOR:
            return low
    while high - low > CLOSE_ENOUGH * high:
        middle = (low + high) / 2
        low, high = (middle, high) if margin(middle) >= 0.0 else (low, middle)
    return low
