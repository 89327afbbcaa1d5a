"""Charging a device's input capacitor, and how many such pulses a fuse forgives."""

from math import log

from ..tables.reader import numbers


def inrush_peak_a(voltage_v: float, loop_ohm: float) -> float:
    """Largest current when an empty capacitor is switched on.

    I = U / R

    Parameters
    ----------
    voltage_v : float
        Supply voltage. [V]
    loop_ohm : float
        Everything in the loop: battery, wires, fuse, capacitor. [Ω]

    Returns
    -------
    float
        Peak current, without inductance. [A]

    Source
    ------
    battery-textbook, charging a capacitor through a resistor.

    Examples
    --------
    >>> inrush_peak_a(24.0, 0.05)
    480.0
    """
    return voltage_v / loop_ohm


def inrush_a2s(voltage_v: float, loop_ohm: float, capacitance_f: float) -> float:
    """Heat integral of charging an empty capacitor.

    ∫ i² dt = C · U² / (2 · R)

    Parameters
    ----------
    voltage_v : float
        Supply voltage. [V]
    loop_ohm : float
        Everything in the loop. [Ω]
    capacitance_f : float
        Input capacitance. [F]

    Returns
    -------
    float
        I²t of the pulse. [A²s]

    Source
    ------
    fuse-pulse-chart, exponential decay: ½ · ip² · τ.

    Examples
    --------
    >>> round(inrush_a2s(24.0, 0.05, 2200e-6), 2)
    12.67
    """
    return capacitance_f * voltage_v**2 / (2.0 * loop_ohm)


def inrush_energy_ws(voltage_v: float, capacitance_f: float) -> float:
    """Energy that charging an empty capacitor turns into heat on the way, and as much again that it keeps.

    E = ½ · C · U²

    Parameters
    ----------
    voltage_v : float
        Supply voltage. [V]
    capacitance_f : float
        Input capacitance. [F]

    Returns
    -------
    float
        Heat in the loop. [Ws]

    Source
    ------
    battery-textbook, charging a capacitor.

    Examples
    --------
    >>> round(inrush_energy_ws(24.0, 2200e-6), 3)
    0.634
    """
    return 0.5 * capacitance_f * voltage_v**2


def pulse_a2s(peak_a: float, duration_s: float, shape: str) -> float:
    """Heat integral of a current pulse of a known shape.

    Parameters
    ----------
    peak_a : float
        Largest current. [A]
    duration_s : float
        Length; for "exponential" the time constant. [s]
    shape : str
        "rectangle", "half sine", "triangle" or "exponential".

    Returns
    -------
    float
        I²t. [A²s]

    Source
    ------
    fuse-pulse-chart, shapes of pulses.

    Examples
    --------
    >>> pulse_a2s(10.0, 0.3, "half sine")
    15.0
    """
    share = {"rectangle": 1.0, "half sine": 0.5, "triangle": 1.0 / 3.0, "exponential": 0.5}[shape]
    return share * peak_a**2 * duration_s


def pulse_share(n_pulses: float) -> float:
    """Share of its melting I²t that a fuse may be given by each of many pulses.

    Parameters
    ----------
    n_pulses : float
        Pulses in its life. [1]

    Returns
    -------
    float
        Largest share: 48 % to 100 pulses, 22 % from 100 000 on; log-linear between. [1]

    Source
    ------
    fuse-pulse-chart.

    Examples
    --------
    >>> pulse_share(1000), pulse_share(1e6)
    (0.38, 0.22)
    """
    counts, shares = numbers("pulse_share", "pulses"), numbers("pulse_share", "share_fraction")
    if n_pulses <= counts[0]:
        return shares[0]
    for i in range(1, len(counts)):
        if n_pulses <= counts[i]:
            along = log(n_pulses / counts[i - 1]) / log(counts[i] / counts[i - 1])
            return shares[i - 1] + (shares[i] - shares[i - 1]) * along
    return shares[-1]
