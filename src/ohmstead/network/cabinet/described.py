"""A cabinet of the site file becomes a box of the heat room: skin, openings, fan, filter, gear."""

from dataclasses import replace

from ...heat.box import Box, Fan, Filter, FixedSpeed, Gear, Opening, Skin, SpeedCurve, Stated, Thermostat
from ...site.boxes import Cabinet, CabinetFan, CabinetFilter, Vent
from ...site.kinds import Device
from ...site.model import Battery, Site
from ...site.pieces import Height
from ..battery import cells_of
from ..duty import lasting
from .figures import BATTERY_J_PER_KG_K, GEAR_J_PER_KG_K, battery_wh_per_kg, clean_pa, sheet_of, skin_of
from .inside import WIRES, Inside, height_m

LOW_SHARE, HIGH_SHARE = 0.08, 0.92  # of the height of the box: where vents and fans are when nobody says
FAN_M_PER_S = 4.0  # of free flow through the opening of an axial fan; sheets of 80 and 120 mm fans, common practice
AMPLE_VENT_M2, AMPLE_MAT_M2 = 150e-4, 400e-4  # stand in for what is open; a fan of 120 mm does
AMPLE_FLOW_M3_PER_S, AMPLE_PA = 190.0 / 3600.0, 85.0
GUARD_FRACTIONS = {"none": 1.0, "wire": 0.85, "slots": 0.6}  # left open by a finger guard; common practice
BATTERY_TO_AIR_W_PER_K = 6.0  # a pack of a few kWh with air on five sides; common practice


def box_of(site: Site, zone: str, inside: Inside) -> Box:
    """The box that makes the air of a zone; for what is left open with `choose` something ample stands in."""
    cabinet = filled(site.cabinets[zone])
    width, height, depth = (length / 1000 for length in cabinet.size_mm)
    fan = fan_of(site, cabinet)
    return Box(
        height,
        width,
        depth,
        mounting=cabinet.mounting,
        skin=_skin(cabinet),
        openings=_openings(cabinet, fan),
        leak_m2=cabinet.leak_m2,
        fan=fan,
        control=control_of(cabinet) if fan is not None else FixedSpeed(1.0),
        gear=_gear(site, cabinet, inside),
        stated=_stated(cabinet),
        stirred="stirred" if cabinet.stirred == "yes" else "",
    )


def is_open(thing: object, attribute: str) -> bool:
    """Was a key left open with `choose`?"""
    origin = getattr(thing, "origin", {}).get(attribute)
    return origin is not None and origin.how == "choose"


def filled(cabinet: Cabinet) -> Cabinet:
    """The cabinet with something ample for what is open, so that it raises no fault by itself."""
    changed: dict[str, object] = {}
    for attribute in ("low_vent", "high_vent"):
        if is_open(cabinet, attribute):
            changed[attribute] = Vent(AMPLE_VENT_M2)
    if is_open(cabinet, "fan"):
        changed["fan"] = CabinetFan(free_m3_per_s=AMPLE_FLOW_M3_PER_S, shut_pa=AMPLE_PA, origin={})
        if cabinet.low_vent is None:
            changed["low_vent"] = Vent(AMPLE_VENT_M2)
    if cabinet.filter is not None and is_open(cabinet.filter, "area_m2"):
        changed["filter"] = replace(cabinet.filter, area_m2=AMPLE_MAT_M2)
    return replace(cabinet, **changed) if changed else cabinet  # type: ignore[arg-type]


def _skin(cabinet: Cabinet) -> Skin:
    found = skin_of(cabinet.material, cabinet.colour)
    return Skin(
        thickness_m=cabinet.sheet_m or sheet_of(cabinet.material),
        conductivity_w_per_m_k=found.conductivity_w_per_m_k,
        density_kg_per_m3=found.density_kg_per_m3,
        specific_j_per_kg_k=found.specific_j_per_kg_k,
        emissivity=_or(cabinet.emissivity_fraction, found.emissivity),
        inside_emissivity=found.inside_emissivity,
        absorptance=_or(cabinet.absorptance_fraction, found.absorptance) * (1.0 - cabinet.shaded_fraction),
    )


def _or(stated: float | None, otherwise: float) -> float:
    return otherwise if stated is None else stated


def _stated(cabinet: Cabinet) -> Stated:
    wall = cabinet.wall_w_per_k
    if cabinet.rise is not None:
        wall = cabinet.rise.power_w / cabinet.rise.rise_k
    return Stated(cabinet.outside_w_per_m2_k, cabinet.inside_w_per_m2_k, wall)


def mat_of(mat: CabinetFilter, opening_m2: float) -> Filter:
    """A filter before an opening."""
    return Filter(
        area_m2=mat.area_m2 or opening_m2,
        clean_pa=mat.drop_pa if mat.drop_pa is not None else clean_pa(mat.class_),
        loading_fraction=mat.loaded_fraction,
        loaded_factor=mat.change_ratio,
    )


def _openings(cabinet: Cabinet, fan: Fan | None) -> tuple[Opening, ...]:
    height = cabinet.size_mm[1] / 1000
    blows = fan.blows if fan is not None else ""
    found = []
    for name, vent, share in (("low vent", cabinet.low_vent, LOW_SHARE), ("high vent", cabinet.high_vent, HIGH_SHARE)):
        if vent is None:
            continue
        found.append(Opening(name, _vent_m(vent, height, share), vent.area_m2, mat=_mat(cabinet, vent, name, blows)))
    return tuple(found)


def _mat(cabinet: Cabinet, vent: Vent, name: str, blows: str) -> Filter | None:
    """Air comes in at the low vent unless a fan blows it in elsewhere; with a fan that blows out, at every vent."""
    mat = cabinet.filter
    if mat is None:
        return None
    inlet = blows != "in" and (name == "low vent" or cabinet.fan is not None)
    return mat_of(mat, vent.area_m2) if mat.before == "both" or inlet else None


def _vent_m(vent: Vent, height: float, share: float) -> float:
    if vent.height_m is not None:
        return vent.height_m
    return {"top": height, "bottom": 0.0}.get(vent.side, share * height)


def fan_of(site: Site, cabinet: Cabinet) -> Fan | None:
    """The fan, when it is known what it moves."""
    fan = cabinet.fan
    if fan is None:
        return None
    curve = fan.curve or _two_ends(fan)
    if not curve:
        return None
    at = fan.at or ("low" if fan.blows == "in" else "high")
    area = fan.opening_m2 or curve[-1][0] / FAN_M_PER_S
    mat = cabinet.filter
    filtered = mat is not None and (fan.blows == "in" or mat.before == "both")
    return Fan(
        name=fan.part or "fan",
        height_m=(LOW_SHARE if at == "low" else HIGH_SHARE) * cabinet.size_mm[1] / 1000,
        blows=fan.blows,
        curve=curve,
        power_w=fan_w(site, fan),
        area_m2=area,
        free_fraction=GUARD_FRACTIONS[fan.guard],
        mat=mat_of(mat, area) if filtered and mat is not None else None,
    )


def _two_ends(fan: CabinetFan) -> tuple[tuple[float, float], ...]:
    """The curve of a fan of which only free flow and greatest pressure are known."""
    if fan.free_m3_per_s is None or fan.shut_pa is None:
        return ()
    from ...heat.fan import fan_curve

    return fan_curve(fan.free_m3_per_s, fan.shut_pa)


def fan_w(site: Site, fan: CabinetFan) -> float:
    """What the fan takes: as its part draws, or as stated. [W]"""
    part = site.parts.get(fan.part)
    if isinstance(part, Device) and lasting(part):
        return max(draw.power_w.nominal for draw in lasting(part))
    return fan.power_w or 0.0


def control_of(cabinet: Cabinet) -> Thermostat | SpeedCurve | FixedSpeed:
    """What switches the fan; one that nothing switches always runs."""
    fan, box_m = cabinet.fan, cabinet.size_mm[1] / 1000
    assert fan is not None
    at = height_m(Height(fan.senses), box_m)
    if fan.speed:
        return SpeedCurve(fan.speed, at)
    if fan.on_c is not None and fan.off_c is not None:
        return Thermostat(fan.on_c, fan.off_c, at)
    return FixedSpeed(1.0)


def _gear(site: Site, cabinet: Cabinet, inside: Inside) -> tuple[Gear, ...]:
    """Everything inside with its share of the mass; batteries have a mass of their own."""
    parts = [name for name in inside.heights_m if name not in site.batteries]
    share = cabinet.gear_kg * GEAR_J_PER_KG_K / (len(parts) + 1)
    found = [Gear(name, inside.heights_m[name], share) for name in parts]
    found.append(Gear(WIRES, cabinet.size_mm[1] / 2000, share))
    for name in inside.heights_m:
        battery = site.batteries.get(name)
        if battery is not None:
            capacity = battery_kg(battery) * BATTERY_J_PER_KG_K
            found.append(Gear(name, inside.heights_m[name], capacity, BATTERY_TO_AIR_W_PER_K, 0.4, "battery"))
    return tuple(found)


def battery_kg(battery: Battery) -> float:
    """Mass of a battery, from its energy. [kg]"""
    from ...parts.cell import chemistry

    volts = cells_of(battery) * chemistry(battery.chemistry).nominal_v
    return battery.capacity_ah * volts / battery_wh_per_kg(battery.chemistry)
