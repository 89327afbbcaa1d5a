"""All that a sweep over designs needs of a site: one thing that can be sent to another process or machine."""

import sys
from dataclasses import dataclass, replace
from hashlib import sha256
from weakref import WeakKeyDictionary

import numpy as np

from ..network.operate import with_settled_air
from ..site.model import Site
from ..site.sky import Goal
from ..sun.harvest import Harvest, feeds, harvest_w, wind_notes
from ..sun.hours import FloatArray, Hours
from ..sun.planes import Facing, Outlook, outlook_of, plane_w
from ..sun.weather import read_given, read_hours
from .bank import Bank, bank_of
from .given import harvest_of
from .kernel import Drive
from .ledger import Ledger
from .loads import Loads, loads_of
from .reckon import check, delivered_w, drive_of, rules_of, settle, zone_air_c
from .trouble import refuse

MANNERS = ("grows", "stays")


def version() -> str:
    """The version of the program, which a scene carries: all who work on it must have the same."""
    return str(getattr(sys.modules[__name__.partition(".")[0]], "__version__", ""))


@dataclass(frozen=True, slots=True, eq=False, weakref_slot=True)
class Scene:
    """A site in years of hours, its load tabulated and its arrays at hand.

    turned: the array whose facing may vary, "" when none may. manner: "grows" when controllers and their wires grow
    with the arrays, "stays" when they are kept as they are. as_is: the arrays as they stand. drive: what drives the
    recursion with the site's own bank.
    """

    site: Site
    hours: Hours
    bank: Bank
    loads: Loads
    as_is: Harvest
    drive: Drive
    cells_c: FloatArray
    turned: str
    manner: str
    start_fraction: float
    notes: tuple[str, ...]
    version: str

    @property
    def rated_w(self) -> float:
        """Power of all arrays together, as the site has them."""
        return sum(array.power_w * array.series * array.parallel for array in self.site.arrays.values())

    @property
    def facing(self) -> Facing:
        """How the array that may turn faces on the site; with none, the first array."""
        array = self.site.arrays[self.turned or next(iter(self.site.arrays))]
        return array.tilt_deg, array.azimuth_deg

    @property
    def asked_wh(self) -> float:
        """What the load asks for over all hours."""
        return float(self.drive.load_w[1].sum())

    def mark(self) -> str:
        """The same for the same scene: a fingerprint of all that the figures hang on, the version included."""
        found = sha256(f"{self.version} {self.turned} {self.manner} {self.site.arrays!r}".encode())
        found.update(self.site.text.encode())
        rules = rules_of(self.bank, self.loads, self.start_fraction)
        drive, hours = self.drive, self.hours
        wind = drive.load_w if hours.wind_m_per_s is None else hours.wind_m_per_s
        for values in (hours.start_utc_s, hours.ghi_w_per_m2, hours.dni_w_per_m2, hours.dhi_w_per_m2, hours.air_c, wind,
                       drive.harvest_w, drive.load_w, drive.passing_w, drive.loss_per_w, drive.charge_most_w,
                       rules.numbers()):  # fmt: skip
            found.update(np.ascontiguousarray(values).tobytes())
        return found.hexdigest()


_outlooks: WeakKeyDictionary[Scene, Outlook] = WeakKeyDictionary()


def scene_of(site: Site, turned: str = "", manner: str = "grows") -> Scene:
    """The scene of a site. Raises SiteError with what is missing.

    `turned` names the array whose facing may vary; left out, the only one.
    """
    check(site)
    site, _ = with_settled_air(site)
    given = read_given(site) if site.weather is not None and site.weather.file else None
    hours = given.hours if given is not None else read_hours(site)
    if turned and turned not in site.arrays:
        refuse(site, f"there is no array {turned!r}", ", ".join(site.arrays), "name one of these")
    if turned and given is not None:
        refuse(
            site,
            "the weather file holds a series of the panels as they stand, so they cannot be turned",
            "weather: sun on the level",
            "leave out tilt and azimuth, or give a file of weather",
        )
    if not turned and given is None and len(site.arrays) == 1:
        turned = next(iter(site.arrays))
    as_is = harvest_of(site, given) if given is not None else _as_it_stands(site, hours)
    bank = bank_of(site)
    loads = loads_of(site, bank, hours)
    cells_c, air_note = zone_air_c(site, bank.zone, hours)
    brought_w, night_w = delivered_w(site, as_is, bank, hours.n_hour)
    loads = replace(loads, load_w=loads.load_w + night_w, passing_w=loads.passing_w + night_w)
    brought_w = np.maximum(brought_w - loads.charging_loss_per_w * brought_w**2, 0.0)
    goal = site.goal or Goal()
    notes = (*hours.notes, *as_is.notes, *loads.notes, air_note)
    drive = drive_of(bank, loads, brought_w, cells_c)
    start = goal.start_fraction
    return Scene(site, hours, bank, loads, as_is, drive, cells_c, turned, manner, start, notes, version())


def _as_it_stands(site: Site, hours: Hours) -> Harvest:
    """The harvest of every array as it faces; without the current where no controller needs it."""
    if any(getattr(site.parts[charger], "type", "") == "switching" for charger in feeds(site)):
        found = harvest_w(site, hours)
        return replace(found, unshaded_w={}, light_w_per_m2={})
    powers = {name: plane_w(outlook_of(site, name, hours), (array.tilt_deg, array.azimuth_deg))
              for name, array in site.arrays.items()}  # fmt: skip
    return Harvest(powers, {}, {}, {}, wind_notes(hours))


def harvest_at(scene: Scene, facing: Facing, size: float = 1.0) -> FloatArray:
    """What reaches the battery when the array that turns faces so and all arrays are so much larger; (n_hour,). [W]

    With controllers that grow it is `size` times that of the arrays as they stand.
    """
    harvest = scene.as_is if facing == scene.facing else _turned(scene, facing)
    if scene.manner == "stays":
        powers = {name: size * power for name, power in harvest.by_array_w.items()}
        currents = {name: size * current for name, current in harvest.by_array_a.items()}
        harvest = replace(harvest, by_array_w=powers, by_array_a=currents)
    brought_w, _ = delivered_w(scene.site, harvest, scene.bank, scene.hours.n_hour)
    found: FloatArray = np.maximum(brought_w - scene.loads.charging_loss_per_w * brought_w**2, 0.0)
    return found if scene.manner == "stays" else size * found


def _turned(scene: Scene, facing: Facing) -> Harvest:
    """The harvest with one array facing another way."""
    name, site = scene.turned, scene.site
    holders = [charger for charger, arrays in feeds(site).items() if name in arrays]
    if any(getattr(site.parts[charger], "type", "") == "switching" for charger in holders):
        array = replace(site.arrays[name], tilt_deg=facing[0], azimuth_deg=facing[1])
        return harvest_w(replace(site, arrays={**site.arrays, name: array}), scene.hours)
    outlook = _outlooks.get(scene)
    if outlook is None:
        outlook = _outlooks[scene] = outlook_of(site, name, scene.hours)
    power = plane_w(outlook, facing)
    return replace(scene.as_is, by_array_w={**scene.as_is.by_array_w, name: power})


def ledger_at(scene: Scene, facing: Facing, size: float, ratio: float, cut: tuple[float, float]) -> Ledger:
    """The whole ledger of one design, its load followed over the battery's voltage; `ratio` is that of the bank."""
    loads = scene.loads if cut == (0.0, 0.0) else replace(scene.loads, off_v=cut[0], on_v=cut[1])
    brought_w = harvest_at(scene, facing, size)
    array_w = size * (scene.as_is if facing == scene.facing else _turned(scene, facing)).total_w()
    larger = scene.bank.times(ratio)
    return settle(scene.hours, larger, loads, scene.cells_c, (array_w, brought_w), scene.start_fraction, scene.notes)


def cut_of(scene: Scene, ratio: float, cut: tuple[float, float]) -> tuple[float, float]:
    """States at which the disconnect opens and closes, as shares of full, with so large a bank and these voltages."""
    loads = scene.loads if cut == (0.0, 0.0) else replace(scene.loads, off_v=cut[0], on_v=cut[1])
    rules = rules_of(scene.bank.times(ratio), loads, scene.start_fraction)
    full = max(rules.full_wh, 1e-12)
    return rules.cut_wh / full, rules.back_wh / full
