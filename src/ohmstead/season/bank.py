"""The batteries of a site as one bank: what it holds, between which limits, and what passing through it costs."""

from dataclasses import dataclass, replace

import numpy as np

from ..network.battery import beside, cells_of
from ..parts.cell import Chemistry, chemistry
from ..site.model import Battery, Site
from ..storage.cells import open_circuit_v, pack_resistance_ohm
from ..storage.kinetic import TwoWells, capacity_ah, fit
from ..sun.hours import FloatArray
from .trouble import refuse

UNLIKE = 0.06  # of the nominal voltage: batteries further apart are no one bank
N_POINT = 401
RATES_H = (2.0, 10.0, 100.0)  # at which wells side by side are taken together


@dataclass(frozen=True, slots=True)
class Bank:
    """One bank. State is the energy its cells hold, counted from empty; resistance is between its terminals.

    states_fraction, resting_v: resting voltage over the share of energy held, ends included. floor_fraction: where
    its own protection ends a discharge. wells: of a lead battery, in Wh; lithium has all at hand.
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
    wells: TwoWells | None
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
            wells=replace(self.wells, most_ah=self.wells.most_ah * factor) if self.wells else None,
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
        limits = chemistry(self.chemistry).habits.cold_charge
        if limits:
            steps = np.searchsorted([step for step, _ in limits], cells_c, side="right") - 1
            most_a = np.minimum(most_a, np.array([rate for _, rate in limits])[steps] * self.capacity_ah)
        found: FloatArray = most_a * self.nominal_v
        return found

    def least_wh(self, cells_c: FloatArray) -> FloatArray | None:
        """State that the cold keeps from being drawn; None for a kind that gives all at any temperature. [Wh]"""
        points = chemistry(self.chemistry).habits.cold_capacity
        if not points:
            return None
        table = np.array(points)
        found: FloatArray = self.full_wh * np.maximum(0.0, 1.0 - np.interp(cells_c, table[:, 0], table[:, 1]))
        return found

    def thick(self, n_point: int) -> FloatArray:
        """Factor on the resistance at as many states between empty and full."""
        points = np.array(chemistry(self.chemistry).habits.by_state)
        charge = np.interp(np.linspace(0.0, 1.0, n_point), self.states_fraction, np.linspace(0.0, 1.0, N_POINT))
        found: FloatArray = np.interp(charge, points[:, 0], points[:, 1])
        return found


def bank_of(site: Site) -> Bank:
    """All batteries of a site, which must lie side by side and be alike enough for it. Raises SeasonError."""
    batteries = tuple(site.batteries.values())
    if not batteries:
        refuse(site, "no battery: there is no season to reckon", "a section `battery`", "describe the battery")
    first = batteries[0]
    kind = chemistry(first.chemistry)
    _alike(site, batteries)
    charge, resting = _curve(first, kind)
    energy = np.concatenate(([0.0], np.cumsum(np.diff(charge) * (resting[1:] + resting[:-1]) / 2)))
    nominal_v = float(energy[-1])  # mean resting voltage between empty and full
    states = energy / energy[-1]
    empty_v = max((battery.cutoff_v or 0.0) for battery in batteries)
    stated_ah = sum(battery.capacity_ah for battery in batteries)
    wells = _wells([_own_wells(site, battery, kind) for battery in batteries if battery.capacity_ah > 0.0])
    return Bank(
        names=tuple(site.batteries),
        chemistry=kind.name,
        zone=first.zone,
        full_wh=(wells.most_ah if wells else stated_ah) * nominal_v,
        capacity_ah=stated_ah,
        nominal_v=nominal_v,
        warm_ohm=_beside([_warm_ohm(battery, kind) for battery in batteries]),
        floor_fraction=float(np.interp(empty_v, resting, states)) if empty_v else 0.0,
        charge_a=_shared_a(batteries, [_or(b.limits.charge_a, kind.charge_c * b.capacity_ah) for b in batteries]),
        discharge_a=_shared_a(
            batteries, [_or(b.limits.discharge_a, kind.discharge_c * b.capacity_ah) for b in batteries]
        ),
        wells=replace(wells, most_ah=wells.most_ah * nominal_v) if wells else None,
        states_fraction=states,
        resting_v=resting,
    )


def _alike(site: Site, batteries: tuple[Battery, ...]) -> None:
    """Refuse batteries that make no bank."""
    first = batteries[0]
    volts = [cells_of(battery) * chemistry(battery.chemistry).nominal_v for battery in batteries]
    kinds = {chemistry(battery.chemistry).name for battery in batteries}
    airs = {(air.low, air.high) for air in (site.air_of(battery.zone) for battery in batteries)}
    alone = [battery.name for battery in batteries if battery.name not in beside(site, first.name)]
    apart = "reckon the season of each of them in a file of its own"
    if len(kinds) > 1 or max(volts) > (1 + UNLIKE) * min(volts):
        told = "the batteries differ in kind or voltage"
    elif alone:
        told = f"no wire joins {', '.join(alone)} to {first.name} but through a converter or an open switch"
    elif len(airs) > 1:
        told, apart = "the batteries stand in zones whose air differs", "give them one zone, the colder one to be safe"
    else:
        return
    refuse(site, told, "batteries that lie side by side as one bank", apart)


def _shared_a(batteries: tuple[Battery, ...], limits_a: list[float]) -> float:
    """Most current of batteries side by side: each takes its share by capacity, and the first at its limit ends it."""
    whole_ah = sum(battery.capacity_ah for battery in batteries)
    pairs = zip(batteries, limits_a, strict=True)
    return min((most * whole_ah / one.capacity_ah for one, most in pairs if one.capacity_ah > 0.0), default=0.0)


def _own_wells(site: Site, battery: Battery, kind: Chemistry) -> TwoWells | None:
    """Two wells fitted to what the file states of its rates, else to those usual for its kind."""
    shares = [(hours, share * battery.capacity_ah) for hours, share in kind.habits.by_hours]
    if not shares:
        return None
    try:
        return fit(dict(battery.by_hours or shares))
    except ValueError as fault:
        refuse(
            site,
            f"{battery.name}: capacity by hours fits no battery of two wells: {fault}",
            "capacities that rise ever more slowly with the time",
            "check the three figures with the data sheet, or leave them out",
        )


def _wells(each: list[TwoWells | None]) -> TwoWells | None:
    """Wells side by side: what they give together in a time, fitted again."""
    found = [one for one in each if one is not None]
    if not found:
        return None
    if len({(one.available_fraction, one.exchange_per_h) for one in found}) == 1:
        return replace(found[0], most_ah=sum(one.most_ah for one in found))
    return fit({hours: sum(capacity_ah(one, hours) for one in found) for hours in RATES_H})


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
