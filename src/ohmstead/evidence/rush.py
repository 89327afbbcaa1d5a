"""Capacitors that charge when power comes on: peak, energy and heat, at a battery and into a run."""

from math import inf, log

from ..site.record import record
from ..wiring.inrush import inrush_a2s, inrush_energy_ws, inrush_peak_a
from .coverage import near_part
from .views import BatteryView, Evidence, RunView

STANDARD_OHM = (4.7, 10.0, 15.0, 22.0, 33.0, 47.0, 68.0, 100.0)  # resistors any shop has; common practice
PRECHARGE_A = 1.0  # what a small power resistor or a lamp passes at first; common practice
PRECHARGE_TIMES = 5.0  # time constants until less than 1 % of the voltage is missing: exp(-5)


@record(frozen=True)
class Rush:
    """Empty capacitors switched on together through one path."""

    voltage_v: float
    loop_ohm: float
    capacitance_f: float
    into: tuple[str, ...]

    @property
    def peak_a(self) -> float:
        """Largest current, inductance not counted. [A]"""
        return inrush_peak_a(self.voltage_v, self.loop_ohm)

    @property
    def energy_ws(self) -> float:
        """Heat on the way. [Ws]"""
        return inrush_energy_ws(self.voltage_v, self.capacitance_f)

    @property
    def heat_a2s(self) -> float:
        """I²t of the pulse. [A²s]"""
        return inrush_a2s(self.voltage_v, self.loop_ohm, self.capacitance_f)

    def above_s(self, current_a: float) -> float:
        """How long the pulse stays above a current: an exponential decay from the peak. [s]"""
        if self.peak_a <= current_a:
            return 0.0
        return self.loop_ohm * self.capacitance_f * log(self.peak_a / current_a)

    def precharge_ohm(self) -> float:
        """A standard resistor through which to charge first. [Ω]"""
        wanted = self.voltage_v / PRECHARGE_A
        return next((ohm for ohm in STANDARD_OHM if ohm >= wanted), STANDARD_OHM[-1])

    def precharge_s(self) -> float:
        """How long to wait with that resistor in. [s]"""
        return PRECHARGE_TIMES * self.precharge_ohm() * self.capacitance_f


def rush_at_battery(evidence: Evidence, battery: BatteryView) -> Rush | None:
    """Everything behind a battery connected at once; None where nothing has a stated capacitance."""
    first = [view for view in evidence.runs if view.fed_by == battery.name and not view.upstream]
    behind = [_behind(evidence, view) for view in first]
    return _rush(battery, battery.resistance_ohm + _parallel(behind), behind)


def rush_into_run(evidence: Evidence, view: RunView) -> Rush | None:
    """Everything behind one run connected at the run's start, the rest already charged."""
    battery = next((battery for battery in evidence.batteries if battery.name == view.fed_by), None)
    if battery is None:
        return None
    before_ohm = battery.resistance_ohm + sum(evidence.run(name).loop_cold_ohm for name in view.upstream)
    behind = _behind(evidence, view)
    return _rush(battery, before_ohm + behind[0], [behind])


Behind = tuple[float, float, tuple[str, ...]]  # resistance to the nearest empty capacitors, capacitance, names


def _rush(battery: BatteryView, loop_ohm: float, behind: list[Behind]) -> Rush | None:
    capacitance = sum(farad for _, farad, _ in behind)
    if capacitance <= 0 or loop_ohm <= 0:
        return None
    return Rush(battery.full_v, loop_ohm, capacitance, tuple(name for _, _, names in behind for name in names))


def _behind(evidence: Evidence, view: RunView) -> Behind:
    """An empty capacitor is a short at first, so what lies behind one adds capacitance and no path."""
    ends = (view.run.start.part, view.run.end.part)
    far = ends[0] if near_part(evidence, view) == ends[1] else ends[1]
    children = [_behind(evidence, child) for child in evidence.runs if child.upstream[:1] == (view.name,)]
    own = _capacitance_f(evidence, far)
    names = ((far,) if own > 0 else ()) + tuple(name for _, _, found in children for name in found)
    total = own + sum(farad for _, farad, _ in children)
    return view.loop_cold_ohm + (0.0 if own > 0 else _parallel(children)), total, names


def _parallel(paths: list[Behind]) -> float:
    """Resistance of paths side by side; those without a capacitor carry nothing. [Ω]"""
    conductance = sum(1 / ohm for ohm, farad, _ in paths if farad > 0 and ohm > 0)
    return 1 / conductance if conductance > 0 else inf


def _capacitance_f(evidence: Evidence, name: str) -> float:
    """Stated input capacitance of a device, converter or Ethernet source. [F]"""
    found = [view.device.capacitance_f for view in evidence.devices if view.name == name]
    found += [view.converter.capacitance_f for view in evidence.converters if view.name == name]
    found += [view.source.capacitance_f for view in evidence.ethernet if view.name == name]
    return max(found, default=0.0)
