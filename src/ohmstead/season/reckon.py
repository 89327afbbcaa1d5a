"""A season from a site: weather, harvest, controllers, load and battery put together and run."""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from ..network.operate import with_settled_air
from ..parts.cell import chemistry
from ..site.kinds import Charger
from ..site.model import Site
from ..site.sky import Goal
from ..sun.controller import controller_of, switched_w, tracked_w
from ..sun.harvest import Harvest, feeds, harvest_w
from ..sun.hours import FloatArray, Hours
from ..sun.weather import read_given, read_hours
from .backup import level_wh, starts_of
from .bank import Bank, bank_of
from .given import harvest_of
from .kernel import N_GRID, Drive, Rules, run
from .ledger import Ledger
from .loads import Loads, loads_of
from .trouble import refuse
from .zone import zone_air_c as zone_air_c

BACK_MOST = 0.98  # share of energy: a disconnect that waits for a charging voltage closes when nearly full
MONTH_H = 730.0


def with_years(site: Site, n_year: int | None) -> Site:
    """The site with another number of years drawn; as it is for None, or when its years come from a file."""
    if n_year is None or site.weather is None:
        return site
    return replace(site, weather=replace(site.weather, n_year=n_year))


def reckon(site: Site) -> Ledger:
    """The ledger of a site over the years its weather holds. Raises SiteError with what is missing."""
    check(site)
    given = read_given(site) if site.weather is not None and site.weather.file else None
    if given is None:
        hours = read_hours(site)
        harvest = harvest_w(site, hours)
    else:
        hours, harvest = given.hours, harvest_of(site, given)
    return reckon_with(site, hours, harvest)


def reckon_with(site: Site, hours: Hours, harvest: Harvest) -> Ledger:
    """The same for hours and a harvest at hand; air that a cabinet makes is worked out first."""
    site, _ = with_settled_air(site)
    bank = bank_of(site)
    loads = loads_of(site, bank, hours)
    cells_c, air_note = zone_air_c(site, bank.zone, hours)
    array_w = harvest.total_w()
    brought_w, night_w = delivered_w(site, harvest, bank, hours.n_hour)
    brought_w = np.maximum(brought_w - loads.charging_loss_per_w * brought_w**2, 0.0)
    loads = replace(loads, load_w=loads.load_w + night_w, passing_w=loads.passing_w + night_w)
    start_fraction = (site.goal or Goal()).start_fraction
    notes = (*hours.notes, *harvest.notes, *loads.notes, air_note)
    return settle(hours, bank, loads, cells_c, (array_w, brought_w), start_fraction, notes)


def settle(
    hours: Hours,
    bank: Bank,
    loads: Loads,
    cells_c: FloatArray,
    sun_w: tuple[FloatArray, FloatArray],
    start_fraction: float,
    notes: tuple[str, ...],
) -> Ledger:
    """The ledger once load and harvest are known; `sun_w`: at the controllers' terminals, and brought to the bank."""
    array_w, brought_w = sun_w
    rules = rules_of(bank, loads, start_fraction)
    rows = run(drive_of(bank, loads, brought_w, cells_c), rules)
    if rules.cut_wh > rules.floor_wh and loads.on_v >= bank.voltage_at(1.0):
        notes = (*notes, "the disconnect closes at a voltage seen only while charging: taken as nearly full")
    return Ledger(hours, bank, loads, rules, array_w, brought_w, rows, cells_c, (*notes, *_idle_sheds(loads, rules)))


def _idle_sheds(loads: Loads, rules: Rules) -> Iterator[str]:
    """Thresholds of priorities that do nothing, and why."""
    for step, (off_wh, _) in zip(loads.sheds, rules.sheds, strict=True):
        if not loads.saved_w(step.priority).any():
            yield f"shed {step.priority}: no device has this priority or a less important one"
        elif off_wh <= max(rules.cut_wh, rules.floor_wh):
            yield f"shed {step.priority}: the battery is cut off before it comes so low, so this does nothing"


def rules_of(bank: Bank, loads: Loads, start_fraction: float) -> Rules:
    """Thresholds of the bank as energies: the disconnect opens under the mean load and closes at rest."""
    sag_v = float(loads.load_w[1].mean()) / bank.nominal_v * bank.warm_ohm
    floor = bank.floor_fraction
    cut = max(bank.state_at(loads.off_v + sag_v), floor) if loads.off_v > 0.0 else floor
    back = max(min(bank.state_at(loads.on_v), BACK_MOST), cut) if loads.off_v > 0.0 else floor
    habits = chemistry(bank.chemistry).habits
    sheds = [(level_wh(step.off, bank, sag_v), level_wh(step.on, bank, 0.0)) for step in loads.sheds]
    return Rules(
        full_wh=bank.full_wh,
        floor_wh=floor * bank.full_wh,
        cut_wh=cut * bank.full_wh,
        back_wh=back * bank.full_wh,
        accepted_fraction=1.0 - float(np.exp(-1.0 / habits.taper_h)) if habits.taper_h > 0.0 else 1.0,
        passed_fraction=habits.passed_fraction,
        rested_fraction=habits.rests_fraction / MONTH_H,
        discharge_w=bank.discharge_a * bank.nominal_v,
        start_wh=start_fraction * bank.full_wh,
        available_fraction=bank.wells.available_fraction if bank.wells else 1.0,
        exchange_per_h=bank.wells.exchange_per_h if bank.wells else 0.0,
        sheds=tuple((off, max(on, off)) for off, on in sheds),
        backup=starts_of(loads.backup, bank, sag_v) if loads.backup else None,
    )


def drive_of(bank: Bank, loads: Loads, brought_w: FloatArray, cells_c: FloatArray) -> Drive:
    """The series that drive the recursion."""
    resting = np.interp(np.linspace(0.0, 1.0, N_GRID), bank.states_fraction, bank.resting_v)
    place = np.interp(resting, loads.volts_v, [0.0, 1.0, 2.0])
    passing = np.minimum(loads.passing_w, loads.load_w.min(axis=0))
    reduced = [loads.load_w - loads.saved_w(step.priority) for step in loads.sheds]
    return Drive(brought_w, loads.load_w, passing, bank.loss_per_w(cells_c), bank.charge_most_w(cells_c), place,
                 bank.least_wh(cells_c), bank.thick(N_GRID), np.stack(reduced) if reduced else None)  # fmt: skip


def delivered_w(site: Site, harvest: Harvest, bank: Bank, n_hour: int) -> tuple[FloatArray, FloatArray]:
    """What the controllers deliver, and what they draw by night; shape (n_hour,) each. [W]"""
    brought, night = np.zeros(n_hour), np.zeros(n_hour)
    for name, arrays in feeds(site).items():
        part = site.parts[name]
        assert isinstance(part, Charger)
        controller = controller_of(part, arrays)
        array_w = np.sum([harvest.by_array_w[array] for array in arrays], axis=0) if arrays else np.zeros(n_hour)
        if controller.type == "switching" and all(array in harvest.by_array_a for array in arrays):
            array_a = np.sum([harvest.by_array_a[array] for array in arrays], axis=0) if arrays else np.zeros(n_hour)
            brought += switched_w(controller, array_a, bank.nominal_v)
        else:
            brought += tracked_w(controller, array_w, bank.nominal_v)
        night += np.where(array_w > 0.0, 0.0, controller.night_w)
    return brought, night


def check(site: Site) -> None:
    """Raise SeasonError when a site lacks what a season needs."""
    if site.weather is None:
        refuse(
            site,
            "the site has no section `weather`: a season needs the sun",
            "a weather file, or twelve monthly means",
            "add weather: {monthly sun: ..., monthly air: ...} (docs/site-file.md)",
        )
    if not site.arrays:
        refuse(
            site,
            "the site has no section `arrays`: nothing harvests the sun",
            "at least one array",
            "add arrays: {roof: {module power: 215 W, tilt: 40°, azimuth: 180°}}",
        )
    fed = feeds(site)
    if not fed:
        refuse(
            site,
            "no charger takes its power from the sun",
            "a charger with `from: sun`",
            "add a charger with `from: sun` and the name of its array",
        )
    loose = sorted(set(site.arrays) - {array for arrays in fed.values() for array in arrays})
    if loose:
        refuse(
            site,
            f"no sun charger takes its power from {', '.join(loose)}",
            "each array named by one charger",
            f"write array: {loose[0]} at its charger",
        )
