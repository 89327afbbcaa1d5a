"""How much constant power a resistance lets through, and whether a converter and its supply get on."""

from math import inf, log10


def largest_power_w(source_v: float, loop_ohm: float) -> float:
    """The most power that gets through a resistance; beyond it there is no operating point.

    P = U² / (4 R)

    Parameters
    ----------
    source_v : float
        Open-circuit voltage. [V]
    loop_ohm : float
        Source and wires together. [Ω]

    Returns
    -------
    float
        Power at the load, at half the voltage. [W]

    Source
    ------
    battery-textbook, matching of source and load.

    Examples
    --------
    >>> round(largest_power_w(10.5, 0.10), 1)
    275.6
    """
    return source_v**2 / (4.0 * loop_ohm)


def largest_loop_ohm(source_v: float, power_w: float, least_v: float) -> float:
    """The largest resistance through which a load still gets its power at its least voltage.

    Above twice the least voltage the power decides, R = U² / (4 P); below it the voltage does,
    R = (U - Umin) · Umin / P.

    Parameters
    ----------
    source_v : float
        Open-circuit voltage. [V]
    power_w : float
        Constant power of the load. [W]
    least_v : float
        Lowest voltage the load works at. [V]

    Returns
    -------
    float
        Source and wires together, out and back; 0 when the source is too low. [Ω]

    Source
    ------
    remote-powering-handbook.

    Examples
    --------
    >>> [round(largest_loop_ohm(u, 7.5, 21.0), 1) for u in (48.0, 42.0, 36.0)]
    [76.8, 58.8, 42.0]
    """
    if power_w <= 0.0:
        return inf
    if source_v >= 2.0 * least_v:
        return source_v**2 / (4.0 * power_w)
    return max(0.0, source_v - least_v) * least_v / power_w


def input_resistance_ohm(input_v: float, power_w: float) -> float:
    """Size of the negative resistance that a converter of constant power shows.

    |r| = V² / P

    Parameters
    ----------
    input_v : float
        Voltage at its input. [V]
    power_w : float
        Power it takes. [W]

    Returns
    -------
    float
        Its size. [Ω]

    Source
    ------
    middlebrook-1976.

    Examples
    --------
    >>> round(input_resistance_ohm(24.0, 90.0), 2)
    6.4
    """
    return input_v**2 / power_w if power_w > 0.0 else inf


def impedance_margin_db(source_ohm: float, input_v: float, power_w: float) -> float:
    """How far the supply's impedance lies below the converter's.

    m = 20 · log10(V² / P / Z)

    Parameters
    ----------
    source_ohm : float
        Largest impedance of supply and wires at the converter's input. [Ω]
    input_v : float
        Voltage at its input. [V]
    power_w : float
        Power it takes. [W]

    Returns
    -------
    float
        Margin; 6 to 10 or more is asked for, below 0 it oscillates. [dB]

    Source
    ------
    middlebrook-1976.

    Examples
    --------
    >>> round(impedance_margin_db(0.64, 24.0, 90.0), 1)
    20.0
    """
    if source_ohm <= 0.0 or power_w <= 0.0:
        return inf
    return 20.0 * log10(input_resistance_ohm(input_v, power_w) / source_ohm)


def filter_peak_ohm(inductance_h: float, capacitance_f: float, resistance_ohm: float) -> float:
    """Impedance of wires and an input capacitor at their resonance.

    Z = L / (R C)

    Parameters
    ----------
    inductance_h : float
        Loop inductance, about 1 µH per metre of two-wire cable. [H]
    capacitance_f : float
        Input capacitance of the converter. [F]
    resistance_ohm : float
        Damping: supply, wires and capacitor. [Ω]

    Returns
    -------
    float
        Peak, never below the resistance. [Ω]

    Source
    ------
    middlebrook-1976.

    Examples
    --------
    >>> round(filter_peak_ohm(5e-6, 470e-6, 0.05), 3)
    0.213
    """
    if capacitance_f <= 0.0 or resistance_ohm <= 0.0:
        return inf
    return max(resistance_ohm, inductance_h / (resistance_ohm * capacitance_f))
