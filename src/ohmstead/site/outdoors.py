"""Goes through weather, arrays, shade and season, and makes drafts of what is in them.

Only loaded for a file that has one of these sections.
"""

from .drafts import Draft, Reading, section
from .guess import did_you_mean, listed, nearest, quoted
from .kinds import Charger
from .naming import check_name
from .nodes import Mapping, Node, Scalar, is_empty
from .place import Place
from .plans import plan
from .sky import Array, Goal, Horizon, Obstacle, Weather
from .skysense import check_sky_sense
from .walk import Drafts

_WEATHER = "weather: {file: skerry.epw, format: epw}"
_ARRAY = "south field: {module power: 200 W, tilt: 50°, azimuth: 180°}"
_HORIZON = "horizon: {line: {90°: 4°, 180°: 11°, 270°: 3°}}"
_OBSTACLE = "rowan: {shape: tree, east: 3 m, north: -8 m, top: 5 m, width: 4 m}"
_GOAL = "season: {unserved: 1 %}"


def walk_outdoors(drafts: Drafts, reading: Reading) -> None:
    """Adds the drafts of the four sections, their sense and their references looked at."""
    found = drafts.sections
    for name, cls, example in (("weather", Weather, _WEATHER), ("season", Goal, _GOAL)):
        node = found.get(name)
        if node is not None and not is_empty(node):
            drafts.outdoors[name] = _filled(reading, Draft(cls, name, f"section {name}", _place(node), node), example)
    arrays = _things(found.get("arrays"), "arrays", Array, _ARRAY, reading)
    drafts.arrays.update(arrays)
    shade = section(reading, found.get("shade"), "shade", f"shade:, and below it {_HORIZON}")
    for name, (key, node) in shade.items():
        if name == "horizon":
            draft = Draft(Horizon, name, "the horizon", key.place, node)
            drafts.outdoors[name] = _filled(reading, draft, _HORIZON)
        elif name == "obstacles":
            drafts.obstacles.update(_things(node, "obstacles", Obstacle, _OBSTACLE, reading))
        else:
            reading.tell(
                key.place,
                f"{quoted(name)} is not a key of section shade",
                "one of: horizon, obstacles",
                did_you_mean(name, ("horizon", "obstacles"), f"write obstacles:, and below it {_OBSTACLE}"),
            )
    _check_names(drafts, reading)
    _check_place(drafts, reading)
    _check_chargers(drafts, reading)


def _check_chargers(drafts: Drafts, reading: Reading) -> None:
    """Every array that a charger names exists, and feeds one charger only."""
    fed: dict[str, Draft] = {}
    for draft in drafts.parts.values():
        if draft.cls is not Charger or draft.value("supply") != "sun":
            continue
        for name in draft.value("arrays") or ():
            place = draft.place_of("arrays")
            if name not in drafts.arrays:
                _no_array(name, "array", draft, "arrays", drafts, reading)
            elif name in fed:
                what = f"array {quoted(name)} feeds two chargers: {quoted(fed[name].name)} and {quoted(draft.name)}"
                reading.tell(place, what, "one charger for each array", "split the array in two, or name it once")
            fed.setdefault(name, draft)


def _place(node: Node) -> Place:
    if isinstance(node, Mapping) and node.entries:
        return next(iter(node.entries.values()))[0].place
    return node.place


def _things(node: Node | None, name: str, cls: type, example: str, reading: Reading) -> dict[str, Draft]:
    """The named things of a section."""
    entries = section(reading, node, name, f"{name}:, and below it {example}")
    bare = [key for key, (_, value) in entries.items() if key in plan(cls) and not isinstance(value, Mapping)]
    if bare:
        reading.tell(
            entries[bare[0]][0].place,
            f"{name} says {quoted(bare[0])} without a name",
            "a name for each, and its values below the name",
            f"write {name}:, and below it {example}",
        )
        return {}
    what = "array" if cls is Array else "obstacle"
    found = {}
    for label, (key, value) in entries.items():
        check_name(label, key, reading)
        found[label] = _filled(reading, Draft(cls, label, f"{what} {quoted(label)}", key.place, value), example)
    return found


def _filled(reading: Reading, draft: Draft, example: str) -> Draft:
    reading.draft(draft, example)
    check_sky_sense(draft, reading)
    return draft


def _check_names(drafts: Drafts, reading: Reading) -> None:
    for name, draft in drafts.arrays.items():
        first: Scalar | None = drafts.names.get(name)
        if first is not None:
            reading.tell(
                draft.place,
                f"{quoted(name)} is the name of an array and of a part or battery (first in line {first.line})",
                "one name for one thing",
                "rename one of the two",
            )
    for draft in drafts.obstacles.values():
        shades = draft.value("shades")
        if shades and shades not in drafts.arrays:
            _no_array(shades, "shades", draft, "shades", drafts, reading)


def _no_array(name: str, key: str, draft: Draft, attribute: str, drafts: Drafts, reading: Reading) -> None:
    known = list(drafts.arrays)
    meant = nearest(name, known)
    reading.tell(
        draft.place_of(attribute),
        f"{key}: there is no array {quoted(name)}",
        f"one of: {listed(known)}" if known else "an array of section arrays; there are none",
        f"did you mean '{meant}'?" if meant else f"add it to section arrays, such as {_ARRAY}",
    )


def _check_place(drafts: Drafts, reading: Reading) -> None:
    """Where the sun is reckoned from the site's own place, the place must be known."""
    weather = drafts.outdoors.get("weather")
    if weather is None or weather.value("format") in ("epw", "tmy2", "tmy3", "nasa power"):
        return
    missing = [name for name in ("latitude", "longitude") if name not in drafts.about.nodes]
    if missing:
        reading.tell(
            weather.place,
            f"section weather needs the {' and '.join(missing)} of the site: the path of the sun comes from it",
            "latitude and longitude in section site",
            "add to section site: "
            + ", ".join({"latitude": "latitude: 57.6", "longitude": "longitude: -7.5"}[m] for m in missing),
        )
