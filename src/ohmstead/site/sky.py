"""What a site says of sun and season: weather, arrays, what shades them, and how reliable it wants to be.

Azimuth runs from north over east (south is 180°), tilt from the horizontal. Obstacles stand in metres
east, north and up from the middle of the array they shade.
"""

from collections.abc import Mapping
from dataclasses import field

from ..parts.wire import Wire
from .declare import key
from .pieces import ShedStep
from .place import Origin, Place
from .record import record

NOWHERE = Place("", 0, 0, 0, 0)


@record(frozen=True)
class Weather:
    """A file of hours, or twelve monthly means from which years are drawn."""

    file: str = key("file", "text", "weather file, beside the site file", default="")
    format: str = key("format", "word:epw|tmy2|tmy3|nasa power|csv|parquet", "what kind of file it is", default="")
    columns: Mapping[str, str] | None = key(
        "columns", "columns", "for csv and parquet: the column that holds each quantity, with its unit"
    )
    timezone: str = key("timezone", "text", "zone of the stamps, such as UTC or UTC+2; never guessed", default="")
    stamps: str = key("stamps", "word:start|middle|end", "what part of its interval a stamp names", default="")
    monthly_sun_wh_per_m2: tuple[float, ...] = key(
        "monthly sun", "twelve:daily sun", "mean sun on the level a day, January first", default=(), bounds="0 or more"
    )
    monthly_air_c: tuple[float, ...] = key(
        "monthly air", "twelve:temperature", "mean air by day and night, January first", default=()
    )
    clear_sky: str = key(
        "clear sky", "word:yes|no", "`yes` to reckon with cloudless days only: optimistic, and said so", default="no"
    )
    n_year: int = key("years", "number:count", "how many years are drawn", default=20, assumed="20 years drawn")
    seed: int = key(
        "seed", "number:count", "which years are drawn", default=1, assumed="seed 1 for the years", bounds="0 or more"
    )
    place: Place = NOWHERE
    origin: Mapping[str, Origin] = field(default_factory=dict)


@record(frozen=True)
class Array:
    """One field of alike modules that faces one way."""

    name: str
    power_w: float = key(
        "module power",
        "number:power",
        "of one module at 1000 W/m² and 25 °C",
        default=0.0,
        why="harvest is reckoned from it",
    )
    mp_v: float | None = key("working voltage", "number:voltage", "of one module at its best")
    mp_a: float | None = key("working current", "number:current", "of one module at its best")
    open_v: float | None = key("open voltage", "number:voltage", "of one module, nothing connected")
    short_a: float | None = key("short current", "number:current", "of one module, shorted")
    power_per_k: float = key(
        "power per kelvin",
        "number:share per kelvin",
        "change of power with temperature",
        default=-0.0035,
        assumed="power -0.35 %/K",
        bounds="any",
    )
    voltage_per_k: float = key(
        "voltage per kelvin",
        "number:share per kelvin",
        "change of open voltage with temperature",
        default=-0.003,
        assumed="open voltage -0.3 %/K",
        bounds="any",
    )
    series_fuse_a: float | None = key("largest fuse", "number:current", "largest series fuse the module bears")
    string_fuse_a: float | None = key("string fuse", "number:current", "fuse in each string; left out: none")
    series: int = key("in series", "number:count", "modules in a string", default=1)
    parallel: int = key("in parallel", "number:count", "strings side by side", default=1)
    rows: int = key("rows", "number:count", "rows of modules up the slope", default=1, assumed="all modules in one row")
    lying: str = key(
        "modules stand", "word:upright|sideways", "how the long side lies", default="upright", assumed="modules upright"
    )
    tilt_deg: float = key(
        "tilt", "number:angle", "from the horizontal", default=0.0, why="harvest depends on it", bounds="0..90"
    )
    azimuth_deg: float = key(
        "azimuth",
        "number:angle",
        "from north over east; 180° is south",
        default=180.0,
        why="harvest depends on it",
        bounds="0..360",
    )
    mounting: str = key(
        "mounting",
        "word:open|close to roof|on insulation",
        "how air reaches its back",
        default="open",
        assumed="air reaches the back of the modules",
    )
    soiling_fraction: tuple[float, ...] = key(
        "soiling",
        "one or twelve:share",
        "light lost to dirt, one value or twelve",
        default=(0.03,),
        assumed="3 % of light lost to dirt",
        bounds="0..1",
    )
    snow_fraction: tuple[float, ...] = key(
        "snow", "one or twelve:share", "light lost to snow, one value or twelve", default=(0.0,), bounds="0..1"
    )
    albedo_fraction: tuple[float, ...] = key(
        "ground",
        "one or twelve:share",
        "light the ground throws back, one value or twelve",
        default=(0.2,),
        assumed="20 % of light thrown back by the ground",
        bounds="0..1",
    )
    mismatch_fraction: float = key(
        "mismatch",
        "number:share",
        "power lost because modules differ",
        default=0.02,
        assumed="2 % lost to unlike modules",
        bounds="0..1",
    )
    cable_wire: Wire | None = key("cable", "wire", "conductor from the field to its controller")
    cable_m: float | None = key("cable length", "number:length", "route from the field to its controller, one way")
    wiring_fraction: float = key(
        "wiring loss",
        "number:share",
        "power lost in the cable at full sun, when no cable is stated",
        default=0.02,
        assumed="2 % lost in the cable of the field at full sun",
        bounds="0..1",
    )
    bypass: int = key(
        "bypass", "number:count", "bypass diodes a module", default=3, assumed="3 bypass diodes a module", bounds="0..8"
    )
    width_m: float | None = key("width", "number:length", "of the whole field, sideways; else from its power")
    height_m: float | None = key("height", "number:length", "of the whole field, up the slope; else from its power")
    zone: str = key("zone", "zone", "where it stands; its coldest air sets the highest voltage", default="")
    place: Place = NOWHERE
    origin: Mapping[str, Origin] = field(default_factory=dict)


@record(frozen=True)
class Obstacle:
    """Something near that throws shade."""

    name: str
    shape: str = key("shape", "word:box|pole|tree", "what it is", default="tree", why="its shade is reckoned from it")
    shades: str = key(
        "shades", "array", "the array from whose middle it is measured; left out: every array", default=""
    )
    east_m: float = key(
        "east", "number:length", "from the middle of the array; west is negative", default=0.0, bounds="any"
    )
    north_m: float = key(
        "north", "number:length", "from the middle of the array; south is negative", default=0.0, bounds="any"
    )
    top_m: float = key(
        "top",
        "number:length",
        "height of its top above the middle of the array",
        default=0.0,
        why="its shade is reckoned from it",
        bounds="any",
    )
    bottom_m: float | None = key(
        "bottom",
        "number:length",
        "height where box, pole or crown begins above the middle of the array; left out: far below",
        bounds="any",
    )
    width_m: float = key(
        "width",
        "number:length",
        "across: of the crown, the pole or the box",
        default=0.0,
        why="its shade is reckoned from it",
    )
    depth_m: float | None = key("depth", "number:length", "the other way, for a box; left out: as wide")
    turned_deg: float = key(
        "turned",
        "number:angle",
        "which way the width of a box points, from north over east",
        default=90.0,
        bounds="0..360",
    )
    summer_fraction: float = key(
        "light in leaf",
        "number:share",
        "light that passes a tree in leaf",
        default=0.25,
        assumed="25 % of light passes in leaf",
        bounds="0..1",
    )
    winter_fraction: float = key(
        "light leafless",
        "number:share",
        "light that passes it leafless",
        default=0.7,
        assumed="70 % of light passes leafless",
        bounds="0..1",
    )
    leafy_months: tuple[int, ...] = key(
        "in leaf",
        "months",
        "months in leaf; left out: May-October, south of the equator November-April",
        default=(),
    )
    place: Place = NOWHERE
    origin: Mapping[str, Origin] = field(default_factory=dict)


@record(frozen=True)
class Horizon:
    """The far skyline: how high it stands in each direction."""

    line: tuple[tuple[float, float], ...] = key(
        "line", "skyline", "azimuth: elevation pairs, straight lines between them", default=()
    )
    file: str = key("file", "text", "csv of azimuth and elevation in degrees, beside the site file", default="")
    place: Place = NOWHERE
    origin: Mapping[str, Origin] = field(default_factory=dict)


@record(frozen=True)
class Goal:
    """The reliability that is asked for."""

    unserved_fraction: float = key(
        "unserved",
        "number:share",
        "share of the asked energy that may fail, averaged over years",
        default=0.01,
        assumed="1 % of the energy may fail",
        bounds="0..1",
    )
    confidence_fraction: float = key(
        "confidence", "number:share", "how sure the answer must be", default=0.9, assumed="90 % sure"
    )
    start_fraction: float = key(
        "start",
        "number:share",
        "state of charge in the first hour",
        default=0.8,
        assumed="80 % full at the start",
        bounds="0..1",
    )
    shed: tuple[ShedStep, ...] = key(
        "shed", "shed", "how empty the battery is when a priority and all less important ones go off", default=()
    )
    seed: int = key("seed", "number:count", "which uses `at random` are drawn", default=1, bounds="0 or more")
    place: Place = NOWHERE
    origin: Mapping[str, Origin] = field(default_factory=dict)
