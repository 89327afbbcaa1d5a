"""Charging what stands behind the main fuse before the fuse goes in: resistor, waiting time, what is left."""

from math import log

from ..evidence.rush import STANDARD_OHM
from ..site.record import record

FIRST_A = 1.0  # what the resistor passes at first, and for ever into a short: little enough to look for the fault
LEFT_V = 1.0  # so close to the battery the fuse goes in without a spark; common practice, no source
PATIENCE_S = 60.0  # nobody holds a resistor longer
ASSUMED_F = 1e-3  # a converter or Ethernet source whose input capacitance is not stated; common practice, no source


@record(frozen=True)
class PreCharge:
    """A resistor across the empty place of the main fuse.

    It must be large enough for `FIRST_A` at first, and small enough that what draws behind it (`idle_a`) leaves
    less than `LEFT_V` across it. `wait_s` is when less than that is left; `short_w` is what it turns into heat when
    there is a short behind it.
    """

    ohm: float
    voltage_v: float
    capacitance_f: float
    idle_a: float

    @property
    def wait_s(self) -> float:
        """R·C·ln(U / what may be left). [s]"""
        return self.ohm * self.capacitance_f * log(max(self.voltage_v / LEFT_V, 1.0))

    @property
    def short_w(self) -> float:
        """Heat in the resistor when there is a short behind it. [W]"""
        return self.voltage_v**2 / self.ohm

    @property
    def energy_ws(self) -> float:
        """Heat in the resistor when all is well: as much as the capacitors keep. [Ws]"""
        return 0.5 * self.capacitance_f * self.voltage_v**2

    @property
    def left_v(self) -> float:
        """What the lasting draw leaves across it. [V]"""
        return self.idle_a * self.ohm


def pre_charge(voltage_v: float, capacitance_f: float, idle_a: float) -> PreCharge:
    """The resistor for a supply voltage, the capacitance behind the fuse and the current drawn there.

    >>> found = pre_charge(26.5, 4.4e-3, 0.004)
    >>> found.ohm, round(found.wait_s, 2), round(found.short_w, 1)
    (33.0, 0.48, 21.3)
    """
    least = voltage_v / FIRST_A
    most = LEFT_V / idle_a if idle_a > 0.0 else float("inf")
    if capacitance_f > 0.0:
        most = min(most, PATIENCE_S / (capacitance_f * log(max(voltage_v / LEFT_V, 1.01))))
    fitting = [ohm for ohm in STANDARD_OHM if least <= ohm <= most]
    ohm = fitting[0] if fitting else next((ohm for ohm in STANDARD_OHM if ohm >= least), STANDARD_OHM[-1])
    return PreCharge(ohm, voltage_v, capacitance_f, idle_a)
