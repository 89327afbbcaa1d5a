"""Arrays of panels as the rules look at them: voltages in the cold, currents in strong sun, loss in their cable.

Plain arithmetic on what the file says; nothing is loaded that reckons seasons. Only loaded for a site with arrays.
"""

from ..site.kinds import Charger
from ..site.model import Site
from ..site.place import Place
from ..site.record import record
from ..site.sky import Array
from ..wiring.conductor import wire_loop_ohm

STANDARD_C = 25.0
HOT_CELL_RISE_K = 30.0  # cells over air in full sun; common practice, no source
RECORD_BELOW_MEAN_K = 15.0  # record cold below the mean of the coldest month; common practice, no source
WARM_CABLE_C = 50.0  # copper in the sun at full harvest; common practice, no source


@record(frozen=True)
class ArrayView:
    """One array with the controller it feeds; voltages of a string, currents of the whole array."""

    array: Array
    name: str
    place: Place
    charger: Charger | None
    coldest_c: float | None
    coldest_from: str  # where the coldest air is known from
    open_cold_v: float | None  # open voltage at the coldest air
    working_v: float | None  # best point at 25 °C
    working_hot_v: float | None  # best point in the hottest sun
    short_a: float | None
    working_a: float | None
    others_short_a: float | None  # short current of every other string on the same controller: what feeds one fault
    cable_ohm: float | None  # out and back, warm
    drop_v: float | None  # along the cable at full power


def array_views(site: Site) -> tuple[ArrayView, ...]:
    """Every array of a site."""
    owners = _owners(site)
    return tuple(_view(site, array, owners) for array in site.arrays.values())


def _owners(site: Site) -> dict[str, Charger]:
    """Array -> the charger that takes its power; a lone sun charger that names none takes all."""
    chargers = [part for part in site.parts.values() if isinstance(part, Charger) and part.supply == "sun"]
    if len(chargers) == 1 and not chargers[0].arrays:
        return dict.fromkeys(site.arrays, chargers[0])
    return {name: charger for charger in chargers for name in charger.arrays}


def _view(site: Site, array: Array, owners: dict[str, Charger]) -> ArrayView:
    coldest, known = _coldest(site, array)
    working_v = array.mp_v * array.series if array.mp_v else None
    hottest = site.air_of(array.zone).high if array.zone else 40.0
    warm = 1.0 + array.voltage_per_k * (hottest + HOT_CELL_RISE_K - STANDARD_C)
    open_v = array.open_v * array.series if array.open_v else None
    cold = None if coldest is None else 1.0 + array.voltage_per_k * (min(coldest, STANDARD_C) - STANDARD_C)
    working_a = array.mp_a * array.parallel if array.mp_a else None
    if working_a is None and working_v:
        working_a = array.power_w * array.series * array.parallel / working_v
    cable_ohm = None
    if array.cable_wire is not None and array.cable_m is not None:
        cable_ohm = wire_loop_ohm(array.cable_wire, array.cable_m, WARM_CABLE_C)
    return ArrayView(
        array=array, name=array.name, place=array.place, charger=owners.get(array.name),
        coldest_c=coldest, coldest_from=known,
        open_cold_v=open_v * cold if open_v and cold else None,
        working_v=working_v, working_hot_v=working_v * warm if working_v else None,
        short_a=array.short_a * array.parallel if array.short_a else None, working_a=working_a,
        others_short_a=_others(site, array, owners), cable_ohm=cable_ohm,
        drop_v=cable_ohm * working_a if cable_ohm and working_a else None,
    )  # fmt: skip


def _coldest(site: Site, array: Array) -> tuple[float | None, str]:
    """Coldest air at an array: of its zone, else well below the mean of the coldest month. [°C]"""
    zone = site.zones.get(array.zone)
    if zone is not None and zone.air is not None:
        return site.air_of(array.zone).low, f"coldest air of {array.zone}"
    if site.weather is not None and site.weather.monthly_air_c:
        coldest = min(site.weather.monthly_air_c) - RECORD_BELOW_MEAN_K
        return coldest, f"{RECORD_BELOW_MEAN_K:g} K below the mean of the coldest month"
    return None, ""


def _others(site: Site, array: Array, owners: dict[str, Charger]) -> float | None:
    """Short current of all strings beside one of this array, on the same controller. [A]"""
    if array.short_a is None:
        return None
    owner, total = owners.get(array.name), 0.0
    beside = [a for a in site.arrays.values() if a is array or (owner and owners.get(a.name) is owner)]
    for one in beside:
        if one.short_a is None:
            return None
        total += one.short_a * one.parallel
    return total - array.short_a
