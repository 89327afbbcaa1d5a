"""What is known of a cabinet, as frozen objects: shape, faces, openings, fan, thermostat, and the gear inside.

Heights are measured from the floor of the box. Where a builder knows a figure better than a correlation does, it
stands in a field that is None otherwise, and then takes the place of the correlation.
"""

from collections.abc import Mapping
from dataclasses import field

from ..site.record import record

FACES = ("front", "back", "left", "right", "top", "bottom")
FREE, COVERED, CLOSED = "free", "covered", "closed"

# Which faces stand against something, by mounting. "floor" stands on its floor, the others hang or stand on feet.
MOUNTINGS: Mapping[str, Mapping[str, str]] = {
    "free": {},
    "floor": {"bottom": CLOSED},
    "wall": {"back": COVERED},
    "corner": {"back": COVERED, "left": COVERED},
    "recessed": {"back": COVERED, "left": COVERED, "right": COVERED, "top": COVERED, "bottom": COVERED},
}


@record(frozen=True)
class Skin:
    """What the walls are made of and how they look.

    thickness, conductivity, density and specific heat of the sheet; insulation_m2_k_per_w: resistance of a lining
    inside; emissivity outside and inside for heat; absorptance outside for sunlight.
    """

    thickness_m: float = 0.0015
    conductivity_w_per_m_k: float = 50.0
    density_kg_per_m3: float = 7850.0
    specific_j_per_kg_k: float = 490.0
    insulation_m2_k_per_w: float = 0.0
    emissivity: float = 0.9
    inside_emissivity: float = 0.9
    absorptance: float = 0.5


@record(frozen=True)
class Filter:
    """A filter mat in front of an opening.

    area_m2: of the mat in the stream. clean_pa: pressure drop of the clean mat at 1 m/s through it; rises linearly
    with the flow. loading_fraction: 0 clean, 1 to be thrown away; the drop is then `loaded_factor` times the clean
    one. pa_per_m3_per_s: what the builder measured, of this mat as it is, in place of all that. arrestance_fraction:
    share of the dust that it holds. capacity_g_per_m2: dust it holds before it is to be changed.
    """

    area_m2: float
    clean_pa: float = 20.0
    loading_fraction: float = 0.0
    loaded_factor: float = 5.0
    pa_per_m3_per_s: float | None = None
    arrestance_fraction: float = 0.85
    capacity_g_per_m2: float = 450.0


@record(frozen=True)
class Opening:
    """A hole through which air may pass either way: a vent, or a leak.

    area_m2: free area of the hole. free_fraction: share of it that a grille, mesh or finger guard leaves open.
    discharge_fraction: of the flow that the free area would pass without contraction.
    """

    name: str
    height_m: float
    area_m2: float
    free_fraction: float = 1.0
    discharge_fraction: float = 0.6
    mat: Filter | None = None


@record(frozen=True)
class Fan:
    """A fan in an opening of the box.

    blows: "in" or "out". curve: volume [m³/s] and static pressure [Pa] at full speed and at density_kg_per_m3, from
    closed (volume 0) to free flow (pressure 0), falling. power_w: electrical, at full speed; idle_w: of it at
    standstill of a controlled fan. area_m2: of the opening; free_fraction of guard and grille; mat: filter in front.
    stopped_fraction: share of the opening that a standing rotor leaves to natural draught.
    """

    name: str
    height_m: float
    blows: str
    curve: tuple[tuple[float, float], ...]
    power_w: float
    area_m2: float
    idle_w: float = 0.0
    free_fraction: float = 0.6
    discharge_fraction: float = 0.6
    mat: Filter | None = None
    stopped_fraction: float = 0.3
    density_kg_per_m3: float = 1.2


@record(frozen=True)
class Thermostat:
    """Switches the fan on at on_c and off at off_c, by the air at height_m; its sensor follows that air with lag_s.

    Two minutes are usual for a snap disc or a probe on the plate: common practice, no source.
    """

    on_c: float
    off_c: float
    height_m: float
    lag_s: float = 120.0


@record(frozen=True)
class SpeedCurve:
    """Speed of the fan, 0 to 1, by the air at height_m: straight lines between (temperature [°C], share of speed)."""

    points: tuple[tuple[float, float], ...]
    height_m: float


@record(frozen=True)
class FixedSpeed:
    """The fan always runs at this share of its speed; 0 is a fan that stands still or has failed."""

    fraction: float = 1.0


@record(frozen=True)
class Gear:
    """Something in the box that may give off heat and that stores heat.

    height_m: of its middle, or of the air it draws. capacity_j_per_k: mass times specific heat. to_air_w_per_k: heat
    it gives to the air for each kelvin it is warmer, so that its own rise is heat / to_air. radiant_fraction: share
    of its heat that goes straight to the walls. lump: gear of one zone and one lump shares a node; a battery has a
    lump of its own.
    """

    name: str
    height_m: float
    capacity_j_per_k: float = 0.0
    to_air_w_per_k: float = 2.0
    radiant_fraction: float = 0.3
    lump: str = ""


@record(frozen=True)
class Stated:
    """Figures the builder knows, each in place of a correlation; None where he does not.

    outside_w_per_m2_k, inside_w_per_m2_k: film coefficients, radiation included. wall_w_per_k: all walls together,
    from the air inside to the air around. mixing_w_per_k: exchange between lower and upper air. From a measured rise
    `wall_w_per_k` is the heat over the rise.
    """

    outside_w_per_m2_k: float | None = None
    inside_w_per_m2_k: float | None = None
    wall_w_per_k: float | None = None
    mixing_w_per_k: float | None = None


@record(frozen=True)
class Box:
    """One cabinet. exposure: `free`, `covered` (a wall or neighbour against it) or `closed` (no heat passes) of the
    faces that differ from the mounting. skins: of faces that differ from `skin`. leak_m2: gaps, half of them at the
    floor and half at the roof of the box. control: what drives the fan; without one it always runs. stirred: "" or
    "stirred", by a fan that moves the air inside without changing it.
    """

    height_m: float
    width_m: float
    depth_m: float
    mounting: str = "wall"
    skin: Skin = Skin()
    exposure: Mapping[str, str] = field(default_factory=dict)
    skins: Mapping[str, Skin] = field(default_factory=dict)
    openings: tuple[Opening, ...] = ()
    leak_m2: float = 0.0
    fan: Fan | None = None
    control: Thermostat | SpeedCurve | FixedSpeed = FixedSpeed()
    gear: tuple[Gear, ...] = ()
    stated: Stated = Stated()
    stirred: str = ""

    def area_m2(self, face: str) -> float:
        """Of one face."""
        if face in ("top", "bottom"):
            return self.width_m * self.depth_m
        return self.height_m * (self.width_m if face in ("front", "back") else self.depth_m)

    def exposed(self, face: str) -> str:
        """`free`, `covered` or `closed`: as stated, else by the mounting."""
        return self.exposure.get(face) or MOUNTINGS[self.mounting].get(face, FREE)

    def skin_of(self, face: str) -> Skin:
        """What a face is made of."""
        return self.skins.get(face, self.skin)
