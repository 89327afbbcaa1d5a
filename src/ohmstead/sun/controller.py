"""What a charge controller makes of its arrays: pure functions, on numbers or arrays of hours."""

from dataclasses import dataclass

import numpy as np

from ..site.kinds import Charger
from .hours import FloatArray


@dataclass(frozen=True, slots=True)
class Controller:
    """A charge controller as the season reckons with it.

    loads, efficiencies: output over input, at shares of its rated power. limit_a: of its output; limit_w: None when
    only the current bounds it. night_w: drawn from the battery while its arrays give nothing.
    """

    name: str
    type: str
    arrays: tuple[str, ...]
    voltage_v: float
    float_v: float | None
    limit_a: float
    limit_w: float | None
    input_limit_a: float | None
    loads_fraction: FloatArray
    efficiencies: FloatArray
    night_w: float


def controller_of(charger: Charger, arrays: tuple[str, ...]) -> Controller:
    """The controller behind a charger of the site file that is driven by the sun."""
    points = np.array(charger.efficiency, dtype=np.float64)
    return Controller(
        name=charger.name,
        type=charger.type,
        arrays=arrays,
        voltage_v=charger.voltage_v,
        float_v=charger.float_v,
        limit_a=charger.current_a,
        limit_w=charger.power_w,
        input_limit_a=charger.array_limit_a,
        loads_fraction=points[:, 0],
        efficiencies=points[:, 1],
        night_w=charger.night_w,
    )


def most_w(controller: Controller, battery_v: FloatArray | float) -> FloatArray | float:
    """Most power it delivers at a voltage of the battery: its current binds, so the limit falls with the voltage.

    P = min(I_limit · V_battery, P_limit)

    Parameters
    ----------
    controller : Controller
        Its limits.
    battery_v : array or float
        Voltage at its output. [V]

    Returns
    -------
    array or float
        The limit. [W]

    Source
    ------
    Common practice, no source: controllers are rated in amperes of their output.

    Examples
    --------
    >>> from ..site.kinds import Charger
    >>> small = controller_of(Charger(name="c", voltage_v=14.4, current_a=30.0), ())
    >>> round(float(most_w(small, 13.2))), round(float(most_w(small, 14.4)))
    (396, 432)
    """
    by_current = controller.limit_a * battery_v
    return by_current if controller.limit_w is None else np.minimum(by_current, controller.limit_w)


def efficiency(controller: Controller, input_w: FloatArray) -> FloatArray:
    """Output over input at a power, straight lines between the stated loads.

    Parameters
    ----------
    controller : Controller
        Its stated efficiencies.
    input_w : array
        Power of its arrays. [W]

    Returns
    -------
    array
        Output over input.

    Source
    ------
    Common practice, no source.

    Examples
    --------
    >>> from ..site.kinds import Charger
    >>> known = Charger(name="c", voltage_v=20.0, current_a=10.0, efficiency=((0.1, 0.9), (0.5, 0.96)))
    >>> efficiency(controller_of(known, ()), np.array([20.0, 60.0, 300.0])).round(3).tolist()
    [0.9, 0.93, 0.96]
    """
    rated = float(most_w(controller, controller.voltage_v))
    found: FloatArray = np.interp(input_w / rated, controller.loads_fraction, controller.efficiencies)
    return found


def tracked_w(controller: Controller, array_w: FloatArray, battery_v: FloatArray | float) -> FloatArray:
    """Output of a controller that holds its arrays at their best point.

    P_out = min(η(P) · P, limits)

    Parameters
    ----------
    controller : Controller
        Its limits and efficiency.
    array_w : array
        Power of its arrays at their best point, together. [W]
    battery_v : array or float
        Voltage at its output. [V]

    Returns
    -------
    array
        What reaches the battery. [W]

    Source
    ------
    Common practice, no source.

    Examples
    --------
    >>> from ..site.kinds import Charger
    >>> small = controller_of(Charger(name="c", voltage_v=14.4, current_a=30.0), ())
    >>> tracked_w(small, np.array([100.0, 600.0]), 13.2).round(1).tolist()
    [96.0, 396.0]
    """
    found: FloatArray = np.minimum(array_w * efficiency(controller, array_w), most_w(controller, battery_v))
    return found


def switched_w(controller: Controller, array_a: FloatArray, battery_v: FloatArray | float) -> FloatArray:
    """Output of a plain switching controller: the current of its arrays at the voltage of the battery.

    P_out = min(I_array, I_limit) · V_battery

    Parameters
    ----------
    controller : Controller
        Its limits.
    array_a : array
        Current of its arrays at the battery's voltage, together. [A]
    battery_v : array or float
        Voltage at its output. [V]

    Returns
    -------
    array
        What reaches the battery. [W]

    Source
    ------
    Common practice, no source.

    Examples
    --------
    >>> from ..site.kinds import Charger
    >>> plain = controller_of(Charger(name="c", type="switching", voltage_v=14.4, current_a=30.0), ())
    >>> round(float(switched_w(plain, np.array([5.56]), 13.2)[0]), 1)
    73.4
    """
    found: FloatArray = np.minimum(np.minimum(array_a, controller.limit_a) * battery_v, most_w(controller, battery_v))
    return found


def held_current_fraction(held_v: float, working_v: float, open_v: float, short_fraction: float) -> float:
    """Current of a module held at a voltage, over its working current.

    Straight lines through (0, short current), (working voltage, 1) and (open voltage, 0).

    Parameters
    ----------
    held_v : float
        Voltage it is held at. [V]
    working_v : float
        Its voltage at the best point, as hot as it is. [V]
    open_v : float
        Its open voltage, as hot as it is. [V]
    short_fraction : float
        Short current over working current. [1]

    Returns
    -------
    float
        Current over working current. [1]

    Source
    ------
    Common practice, no source: the corners of the curve on every data sheet.

    Examples
    --------
    >>> round(held_current_fraction(13.2, 18.0, 22.0, 1.06), 3), held_current_fraction(20.0, 18.0, 22.0, 1.06)
    (1.016, 0.5)
    """
    if held_v <= working_v:
        return 1.0 + (short_fraction - 1.0) * (1.0 - held_v / working_v)
    return max(0.0, (open_v - held_v) / (open_v - working_v))
