"""The batteries of a site as one bank: what it holds, between which limits, and what passing through it costs."""

from dataclasses import dataclass, replace

import numpy as np

from ..network.battery import cells_of
from ..parts.cell import Chemistry, chemistry
from ..site.model import Battery, Site
from ..storage.cells import open_circuit_v, pack_resistance_ohm
from ..sun.hours import FloatArray
from .trouble import refuse

UNLIKE = 0.06  # of the nominal voltage: batteries further apart are no one bank
N_POINT = 401
LITHIUM = ("LFP", "NMC")


@dataclass(frozen=True, slots=True)
class Manner:
    """What a chemistry does that its cell table does not tell. All common practice, no source.

    acceptance_h: time constant with which the current dies away at the charging voltage. [h]
    passed_fraction: share of what enters that is lost apart from resistance: gassing, hysteresis.
    rests_fraction: self-discharge in a month, the draw of a protection board left out.
    """

    acceptance_h: float
    passed_fraction: float
    rests_fraction: float


MANNERS = {
    "LFP": Manner(0.05, 0.02, 0.03),
    "NMC": Manner(0.35, 0.02, 0.03),
    "lead AGM": Manner(1.5, 0.05, 0.03),
    "lead flooded": Manner(2.0, 0.10, 0.05),
}

# Charging current over capacity by cell temperature, for lithium iron phosphate: the table in the manual of a 48 V
# 50 Ah module (second-hand); taken for NMC too, whose makers forbid charging below 0 °C as well.
COLD_CHARGE = ((-273.0, 0.0), (0.0, 0.1), (5.0, 0.2), (10.0, float("inf")))


@dataclass(frozen=True, slots=True)
class Bank:
    """One bank. State is the energy its cells hold, counted from empty; resistance is between its terminals.

    states_fraction, resting_v: resting voltage over the share of energy held, ends included. floor_fraction: where
    its own protection ends a discharge. cold: resistance over that at 25 °C by temperature, as the cells' table.
    """

    names: tuple[str, ...]
    chemistry: str
    zone: str
    full_wh: float
    capacity_ah: float
    nominal_v: float
    warm_ohm: float
    floor_fraction: float
    charge_a: float
    discharge_a: float
    manner: Manner
    states_fraction: FloatArray
    resting_v: FloatArray

    def state_at(self, voltage_v: float) -> float:
        """Share of energy held when it rests at a voltage, 0..1."""
        return float(np.interp(voltage_v, self.resting_v, self.states_fraction))

    def voltage_at(self, state_fraction: float) -> float:
        """Resting voltage at a share of energy held. [V]"""
        return float(np.interp(state_fraction, self.states_fraction, self.resting_v))

    def times(self, factor: float) -> "Bank":
        """The same bank with more or fewer strings side by side."""
        return replace(
            self,
            full_wh=self.full_wh * factor,
            capacity_ah=self.capacity_ah * factor,
            warm_ohm=self.warm_ohm / factor if factor else 0.0,
            charge_a=self.charge_a * factor,
            discharge_a=self.discharge_a * factor,
        )

    def loss_per_w(self, cells_c: FloatArray) -> FloatArray:
        """Loss over the square of the power inside, R / V², at temperatures of its cells. [1/W]"""
        kind = chemistry(self.chemistry)
        points = np.array(kind.cold)
        factor = np.interp(cells_c, points[:, 0], points[:, 1])
        found: FloatArray = self.warm_ohm * factor / self.nominal_v**2
        return found

    def charge_most_w(self, cells_c: FloatArray) -> FloatArray:
        """Most power its cells take at their temperature: the limit of its board, and of lithium in the cold. [W]"""
        most_a = np.full(cells_c.shape, self.charge_a)
        if self.chemistry in LITHIUM:
            steps = np.searchsorted([step for step, _ in COLD_CHARGE], cells_c, side="right") - 1
            rate = np.array([rate for _, rate in COLD_CHARGE])[steps]
            most_a = np.minimum(most_a, rate * self.capacity_ah)
        found: FloatArray = most_a * self.nominal_v
        return found


def bank_of(site: Site) -> Bank:
    """All batteries of a site, which must be alike enough to lie side by side. Raises SeasonError."""
    batteries = tuple(site.batteries.values())
    if not batteries:
        refuse(site, "no battery: there is no season to reckon", "a section `battery`", "describe the battery")
    first = batteries[0]
    kind = chemistry(first.chemistry)
    volts = [cells_of(battery) * chemistry(battery.chemistry).nominal_v for battery in batteries]
    if any(chemistry(b.chemistry).name != kind.name for b in batteries) or max(volts) > (1 + UNLIKE) * min(volts):
        refuse(
            site,
            "the batteries differ in kind or voltage",
            "batteries that lie side by side as one bank",
            "reckon the season of each of them in a file of its own",
        )
    charge_ah = sum(battery.capacity_ah for battery in batteries)
    charge, resting = _curve(first, kind)
    energy = np.concatenate(([0.0], np.cumsum(np.diff(charge) * (resting[1:] + resting[:-1]) / 2)))
    nominal_v = float(energy[-1])  # mean resting voltage between empty and full
    states = energy / energy[-1]
    empty_v = max((battery.cutoff_v or 0.0) for battery in batteries)
    return Bank(
        names=tuple(site.batteries),
        chemistry=kind.name,
        zone=first.zone,
        full_wh=charge_ah * nominal_v,
        capacity_ah=charge_ah,
        nominal_v=nominal_v,
        warm_ohm=_beside([_warm_ohm(battery, kind) for battery in batteries]),
        floor_fraction=float(np.interp(empty_v, resting, states)) if empty_v else 0.0,
        charge_a=sum(_or(b.limits.charge_a, kind.charge_c * b.capacity_ah) for b in batteries),
        discharge_a=sum(_or(b.limits.discharge_a, kind.discharge_c * b.capacity_ah) for b in batteries),
        manner=MANNERS[kind.name],
        states_fraction=states,
        resting_v=resting,
    )


def _curve(battery: Battery, kind: Chemistry) -> tuple[FloatArray, FloatArray]:
    """Share of charge held and resting voltage of the whole battery; bent to what the file states of it."""
    charge = np.linspace(0.0, 1.0, N_POINT)
    volts = np.array([open_circuit_v(kind, float(state)) for state in charge]) * cells_of(battery)
    stated = battery.open_circuit
    if stated is not None:
        ends = np.array([volts[0], np.interp(0.5, charge, volts), volts[-1]])
        asked = np.array([stated.cutoff_v, stated.nominal_v, stated.full_v])
        volts = volts * np.interp(charge, [0.0, 0.5, 1.0], asked / ends)
    return charge, np.maximum.accumulate(volts + 1e-9 * charge)


def _warm_ohm(battery: Battery, kind: Chemistry) -> float:
    """Resistance at 25 °C to a current of hours: as stated, slow share included, or of usual cells. [Ω]"""
    if battery.resistance_ohm is not None:
        return battery.resistance_ohm + battery.slow_ohm
    cells, strings = cells_of(battery), max(1, battery.parallel)
    return pack_resistance_ohm(kind, cells, strings, battery.capacity_ah) + battery.slow_ohm


def _beside(ohms: list[float]) -> float:
    return 1.0 / sum(1.0 / ohm for ohm in ohms) if all(ohm > 0.0 for ohm in ohms) else 0.0


def _or(stated: float | None, usual: float) -> float:
    return usual if stated is None else stated
