"""Power over network cable: classes, loop resistance, voltage at the powered device."""

from dataclasses import dataclass
from functools import cache
from math import nan, sqrt

from ..parts.cable import EthernetCable
from ..tables.reader import rows
from .conductor import temperature_factor


@dataclass(frozen=True, slots=True)
class PowerClass:
    """One class of the standard: what the source must give, what the device may take."""

    number: int
    type: int
    source_w: float
    device_w: float
    source_least_v: float
    source_most_v: float
    device_least_v: float
    device_most_v: float
    loop_ohm: float
    pairs: int


@cache
def power_class(number: int) -> PowerClass:
    """The power class of that number, 0 to 8; KeyError for another.

    Parameters
    ----------
    number : int
        The class.

    Returns
    -------
    PowerClass
        Its powers and voltages.

    Source
    ------
    ieee-802.3, clauses 33 and 145.

    Examples
    --------
    >>> power_class(3).device_w, power_class(8).source_w
    (12.95, 90.0)
    """
    for row in rows("poe_class"):
        if int(row["class"]) == number:
            values = {key: float(value) for key, value in row.items() if key.endswith(("_w", "_v", "_ohm"))}
            return PowerClass(number, int(row["type"]), pairs=int(row["pairs"]), **values)
    raise KeyError(f"no power class {number}")


def reserved_w(number: int) -> float:
    """Power that a source sets aside for a device of a class.

    Parameters
    ----------
    number : int
        The class, 0 to 8.

    Returns
    -------
    float
        Power at the port. [W]

    Source
    ------
    ieee-802.3, clauses 33 and 145.

    Examples
    --------
    >>> reserved_w(4)
    30.0
    """
    return power_class(number).source_w


def cable_loop_ohm(
    cable: EthernetCable, length_m: float, pairs: int, temperature_c: float, bound: str = "most"
) -> float:
    """Resistance out and back of a network cable that carries power.

    R = 2 · r · l / n, n pairs in use: half the wires go out, half come back

    Parameters
    ----------
    cable : EthernetCable
        The cable.
    length_m : float
        Length, one way. [m]
    pairs : int
        Pairs that carry power: 2 or 4; 1 means one wire out and its twin back.
    temperature_c : float
        Temperature of the conductors. [°C]
    bound : str
        "most" for what the category allows, "least" for what the copper can do at best.

    Returns
    -------
    float
        Loop resistance without the connectors. [Ω]

    Source
    ------
    iec-11801, resistance of a conductor.

    Examples
    --------
    >>> from ohmstead.parts.cable import read_ethernet_cable
    >>> round(cable_loop_ohm(read_ethernet_cable("Cat5e"), 100.0, 2, 20.0), 2)
    9.38
    """
    per_km = cable.conductor_ohm_per_km if bound == "most" else cable.conductor_best_ohm_per_km
    return 2.0 * per_km * length_m / 1000.0 / pairs * temperature_factor(temperature_c, cable.metal)


def device_voltage_v(source_v: float, power_w: float, loop_ohm: float) -> float:
    """Voltage at a device of constant power behind a resistance: the upper of the two solutions.

    V = (U + √(U² - 4 R P)) / 2

    Parameters
    ----------
    source_v : float
        Voltage at the source. [V]
    power_w : float
        Power the device takes. [W]
    loop_ohm : float
        Resistance between them, out and back. [Ω]

    Returns
    -------
    float
        Voltage at the device; nan when the cable cannot carry that power. [V]

    Source
    ------
    Kirchhoff's law with P = V · I; battery-textbook.

    Examples
    --------
    >>> round(device_voltage_v(54.0, 25.5, 9.38), 2)
    49.13
    """
    square = source_v**2 - 4.0 * loop_ohm * power_w
    return (source_v + sqrt(square)) / 2.0 if square >= 0.0 else nan


def delivered_power_w(source_w: float, source_v: float, loop_ohm: float) -> float:
    """What reaches the device of the power a port gives.

    P = Ps - (Ps / U)² · R

    Parameters
    ----------
    source_w : float
        Power at the port. [W]
    source_v : float
        Voltage at the port. [V]
    loop_ohm : float
        Resistance of the channel, out and back. [Ω]

    Returns
    -------
    float
        Power at the device. [W]

    Source
    ------
    ieee-802.3: with the longest channel it gives every class's device power.

    Examples
    --------
    >>> round(delivered_power_w(15.4, 44.0, 20.0), 2)
    12.95
    """
    return source_w - (source_w / source_v) ** 2 * loop_ohm
