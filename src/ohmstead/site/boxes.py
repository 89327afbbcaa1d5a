"""What a site says of its cabinets: the box, its openings, its fan and filter, and what is around it.

A cabinet makes the air of one zone, and stands in the air of the zone around that one. What the builder knows
(a measured rise, W/K of the walls, a fan curve) takes the place of what would be reckoned.
"""

from collections.abc import Mapping
from dataclasses import field

from .declare import key
from .place import Origin, Place
from .record import record

NOWHERE = Place("", 0, 0, 0, 0)
SIDES = "left|right|front|back|top|bottom"
COLOURS = "white|light grey|grey|dark grey|black|green|red|brown|aluminium paint|bare galvanised|aged galvanised|bare aluminium|bare stainless"  # noqa: E501 - one declaration
ROOFS = "dark|red tile|white metal|white tile|dark with foil"


@record(frozen=True)
class Vent:
    """An opening in the wall: its free area, its side, and its height above the floor where that is said."""

    area_m2: float = 0.0
    side: str = ""
    height_m: float | None = None


@record(frozen=True)
class RiseAt:
    """A rise that was measured, and the heat inside while it was."""

    rise_k: float
    power_w: float


@record(frozen=True)
class CabinetFan:
    """The fan of a cabinet."""

    part: str = key(
        "part", "part", "the device in section parts that it is; its power and its supply are those", default=""
    )
    free_m3_per_s: float | None = key("free flow", "number:air flow", "what it moves with nothing in its way")
    shut_pa: float | None = key("pressure", "number:air pressure", "most pressure, when nothing flows")
    curve: tuple[tuple[float, float], ...] = key(
        "curve", "fan curve", "its curve, flow: pressure, in place of the two ends", default=()
    )
    power_w: float | None = key("power", "number:power", "what it takes, when it is none of the parts")
    blows: str = key(
        "blows", "word:in|out", "into the box, or out of it", default="out", assumed="blows out of the box"
    )
    at: str = key(
        "at",
        "word:low|high",
        "where its opening is; left out: low when it blows in, high when it blows out",
        default="",
    )
    opening_m2: float | None = key(
        "opening", "number:opening", "free area of its hole; left out: that of a fan of its free flow"
    )
    guard: str = key(
        "guard",
        "word:none|wire|slots",
        "what keeps fingers out: none, wire rings, or slots in the sheet",
        default="wire",
        assumed="a guard of wire rings",
    )
    on_c: float | None = key(
        "on", "number:temperature", "air inside at which a thermostat starts it; left out: it always runs",
        choosable="choose",
    )  # fmt: skip
    off_c: float | None = key("off", "number:temperature", "air inside at which it stops again", choosable="choose")
    senses: str = key(
        "senses", "word:low|middle|high", "where the thermostat sits", default="high", assumed="thermostat high up"
    )
    speed: tuple[tuple[float, float], ...] = key(
        "speed", "fan speed", "share of its speed by the air inside, in place of on and off", default=()
    )
    place: Place = NOWHERE
    origin: Mapping[str, Origin] = field(default_factory=dict)


@record(frozen=True)
class CabinetFilter:
    """The filter mat in the way of the air."""

    class_: str = key(
        "class", "word:G1|G2|G3|G4|screen", "what it holds back, by EN 779; `screen` is an insect mesh", default="G3",
        assumed="class G3",
    )  # fmt: skip
    area_m2: float | None = key(
        "area", "number:opening", "free area of the mat", default=None, choosable="choose",
        assumed="as large as the opening before it",
    )  # fmt: skip
    drop_pa: float | None = key(
        "drop", "number:air pressure", "of the clean mat at 1 m/s, in place of that of its class"
    )
    loaded_fraction: float = key(
        "loaded",
        "number:share",
        "how far it is towards being thrown away",
        default=0.0,
        assumed="a clean mat",
        bounds="0..1",
    )
    change_ratio: float = key(
        "change at", "number:number", "times the clean drop at which it is changed", default=3.0,
        assumed="the mat is changed at 3 times its clean drop", bounds="1..20",
    )  # fmt: skip
    before: str = key(
        "before", "word:inlet|both", "which openings have one", default="inlet", assumed="a mat where air comes in"
    )
    place: Place = NOWHERE
    origin: Mapping[str, Origin] = field(default_factory=dict)


@record(frozen=True)
class Cabinet:
    """The box that makes the air of a zone."""

    name: str
    size_mm: tuple[float, float, float] = key(
        "size", "box", "width, height and depth outside", default=(0.0, 0.0, 0.0), why="heat leaves through its walls"
    )
    material: str = key(
        "material",
        "word:steel|stainless steel|aluminium|plastic|wood",
        "of its walls",
        default="steel",
        assumed="walls of steel",
    )
    sheet_m: float | None = key("sheet", "number:length", "thickness of its walls; left out: usual for the material")
    colour: str = key("colour", f"word:{COLOURS}", "outside", default="light grey", assumed="light grey paint")
    mounting: str = key(
        "mounted",
        "word:free|floor|wall|corner|recessed",
        "how many of its sides have air: on feet or hung free, on the floor, on a wall, in a corner, in a niche",
        default="wall",
        assumed="hangs on a wall",
    )
    stands: str = key(
        "stands",
        "word:indoors|roof space|outdoors",
        "outdoors the sun is on it, and the sky cools it by night",
        default="indoors",
        assumed="indoors, out of the sun",
    )
    faces_deg: float = key(
        "door faces", "number:angle", "which way the door looks, from north over east; 180° is south", default=180.0,
        assumed="door to the south", bounds="0..360",
    )  # fmt: skip
    shaded_fraction: float = key(
        "shaded", "number:share", "sun kept off by a roof or a plate before it", default=0.0, assumed="no shade",
        bounds="0..1",
    )  # fmt: skip
    swing_k: float = key(
        "daily swing", "number:temperature difference", "how far the air around it falls from afternoon to dawn",
        default=10.0, assumed="the air around swings by 10 K a day", bounds="0 or more",
    )  # fmt: skip
    roof: str = key(
        "roof", f"word:{ROOFS}",
        "for a roof space: what covers it, when the zone around is outdoors; left out: that zone is the roof space",
        default="",
    )  # fmt: skip
    roof_points: tuple[tuple[float, float], ...] = key(
        "roof measured", "two temperatures", "for a roof space: air outdoors, and air there at the same time",
        default=(),
    )  # fmt: skip
    humidity_fraction: float | None = key(
        "humidity", "number:share", "of the air around it, at its coldest; left out: nothing is said of condensation"
    )
    days: str = key(
        "days", "word:zone|weather",
        "hottest and coldest day from the zone around it, or from section weather", default="zone",
        assumed="hottest and coldest air of the zone around it",
    )  # fmt: skip
    low_vent: Vent | None = key(
        "low vent", "vent", "free area near the floor, such as `60 cm2 left`", choosable="choose"
    )
    high_vent: Vent | None = key(
        "high vent", "vent", "free area near the roof, such as `60 cm2 right at 0.5 m`", choosable="choose"
    )
    leak_m2: float = key(
        "leaks", "number:opening", "gaps at door, glands and joints", default=2e-4, assumed="2 cm² of gaps",
        bounds="0 or more",
    )  # fmt: skip
    fan: CabinetFan | None = key("fan", "cabinet fan", "moves air through it; left out: none", choosable="choose")
    filter: CabinetFilter | None = key("filter", "cabinet filter", "a mat where air comes in; left out: none")
    stirred: str = key("stirred", "word:no|yes", "`yes` when a fan inside moves the air round", default="no")
    wall_w_per_k: float | None = key(
        "wall loss", "number:heat per kelvin", "of all its walls together, as measured or by its sheet"
    )
    rise: RiseAt | None = key("measured rise", "rise at", "of the air inside, closed, such as `11 K at 35 W`")
    inside_w_per_m2_k: float | None = key("inside film", "number:film", "from air inside to wall, with radiation")
    outside_w_per_m2_k: float | None = key("outside film", "number:film", "from wall to air outside, with radiation")
    absorptance_fraction: float | None = key(
        "absorptance", "number:share", "share of sunlight that its colour takes up", bounds="0..1"
    )
    emissivity_fraction: float | None = key("emissivity", "number:share", "of its outside, for heat", bounds="0..1")
    gear_kg: float = key(
        "gear", "number:mass", "of all that is in it", default=5.0, assumed="5 kg of gear inside", bounds="0 or more"
    )
    place: Place = NOWHERE
    origin: Mapping[str, Origin] = field(default_factory=dict)
