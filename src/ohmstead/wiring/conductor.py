"""Resistance and temperature of conductors."""

from ..parts.wire import Wire

# Temperature at which the straight line of resistance would reach zero, below 0 °C. Source: iec-60287.
# The value of copper-clad aluminium lies between those of its two metals.
ZERO_BELOW_C = {"copper": 234.5, "tinned copper": 234.5, "copper-clad aluminium": 229.0, "aluminium": 228.0}


def temperature_factor(temperature_c: float, metal: str = "copper") -> float:
    """How many times the resistance at 20 °C a conductor has at another temperature.

    R / R20 = (β + T) / (β + 20), β = 234.5 for copper

    Parameters
    ----------
    temperature_c : float
        Temperature of the conductor. [°C]
    metal : str
        "copper", "tinned copper", "copper-clad aluminium" or "aluminium".

    Returns
    -------
    float
        The factor. [1]

    Source
    ------
    iec-60287, temperature constants.

    Examples
    --------
    >>> [round(temperature_factor(t), 3) for t in (30, 70, 90)]
    [1.039, 1.196, 1.275]
    """
    zero = ZERO_BELOW_C[metal]
    return (zero + temperature_c) / (zero + 20.0)


def loop_resistance_ohm(length_m: float, resistance_20_ohm_per_km: float, temperature_c: float) -> float:
    """Resistance of a two-wire copper run, out and back.

    R = 2 · l · R20 · (234.5 + T) / 254.5

    Parameters
    ----------
    length_m : float
        Length of the route, one way. [m]
    resistance_20_ohm_per_km : float
        Resistance of one wire at 20 °C. [Ω/km]
    temperature_c : float
        Temperature of the copper. [°C]

    Returns
    -------
    float
        Both wires in series. [Ω]

    Source
    ------
    iec-60287, temperature constant of copper.

    Examples
    --------
    >>> round(loop_resistance_ohm(2.4, 13.3, 70.0), 4)
    0.0764
    """
    return 2.0 * length_m / 1000.0 * resistance_20_ohm_per_km * temperature_factor(temperature_c)


def wire_loop_ohm(wire: Wire, length_m: float, temperature_c: float, bound: str = "most") -> float:
    """Resistance of a run of this wire, out and back, whatever its metal.

    Parameters
    ----------
    wire : Wire
        One conductor of the run; the other is alike.
    length_m : float
        Length of the route, one way. [m]
    temperature_c : float
        Temperature of the conductor. [°C]
    bound : str
        "most" for what the standard allows, "least" for what the copper can do at best.

    Returns
    -------
    float
        Both wires in series. [Ω]

    Source
    ------
    iec-60228, largest resistance; iec-60287, temperature constants.

    Examples
    --------
    >>> from ohmstead.parts.wire import read_wire
    >>> round(wire_loop_ohm(read_wire("1.5 mm2"), 2.4, 70.0), 4)
    0.0764
    """
    per_km = wire.resistance_20_ohm_per_km if bound == "most" else wire.resistance_20_best_ohm_per_km
    return 2.0 * length_m / 1000.0 * per_km * temperature_factor(temperature_c, wire.metal)


def conductor_temperature_c(current_a: float, ampacity_a: float, limit_c: float, ambient_c: float) -> float:
    """Temperature a conductor settles at under a steady current.

    T = Ta + (Tlimit - Ta) · (I / Iz)²

    Parameters
    ----------
    current_a : float
        Steady current. [A]
    ampacity_a : float
        What it may carry at this ambient, at which it reaches its limit. [A]
    limit_c : float
        Temperature limit that belongs to the ampacity. [°C]
    ambient_c : float
        Air around it. [°C]

    Returns
    -------
    float
        Temperature of the conductor; above the limit when overloaded. [°C]

    Source
    ------
    iec-60287, heating in proportion to the square of the current.

    Examples
    --------
    >>> conductor_temperature_c(12.0, 24.0, 70.0, 30.0)
    40.0
    """
    if ampacity_a <= 0.0:
        return limit_c
    return ambient_c + (limit_c - ambient_c) * (current_a / ampacity_a) ** 2
