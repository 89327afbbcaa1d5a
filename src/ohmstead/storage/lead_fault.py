"""Short-circuit current of a lead battery over time, by the standard for auxiliary installations."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class LeadFault:
    """Peak and quasi-steady current of a short. [A]"""

    peak_a: float
    steady_a: float


def lead_fault(nominal_v: float, battery_ohm: float, line_ohm: float) -> LeadFault:
    """Peak and quasi-steady short-circuit current of a charged lead or nickel-cadmium battery.

    E = 1.05 U; peak E / (0.9 R + Rl); steady 0.95 E / (R + Rl)

    Parameters
    ----------
    nominal_v : float
        Nominal voltage of the battery. [V]
    battery_ohm : float
        Its resistance, charged. [Ω]
    line_ohm : float
        Links and wires, out and back. [Ω]

    Returns
    -------
    LeadFault
        Both currents. [A]

    Source
    ------
    iec-61660-1; from memory, the two-regime shape confirmed second-hand.

    Examples
    --------
    >>> fault = lead_fault(12.8, 0.0014, 0.0010)
    >>> round(fault.peak_a), round(fault.steady_a)
    (5947, 5320)
    """
    charged_v = 1.05 * nominal_v
    branch_ohm = 0.9 * battery_ohm + line_ohm
    return LeadFault(charged_v / branch_ohm, 0.95 * charged_v / (branch_ohm + 0.1 * battery_ohm))
