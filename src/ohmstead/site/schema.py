"""The published JSON Schema of site files, made from the declarations, for completion in editors.

It is a sieve, not the judge: it knows keys, words and units, and leaves sense and references to the reader.
"""

from re import escape
from typing import Any

from ..quantity.units import DIMENSIONS, units_of
from .bounds import SANE, bounds_of
from .boxes import Cabinet, CabinetFan, CabinetFilter
from .declare import Field, declared
from .duty import EXPECTED as TIMES
from .examples import example
from .kinds import KINDS
from .model import About, Acceptance, Battery, Run, Zone
from .plates import Entry, Mount, Plate
from .sections import FORMAT, SECTIONS
from .sky import Array, Goal, Horizon, Obstacle, Weather

Schema = dict[str, Any]
DRAFT = "https://json-schema.org/draft/2020-12/schema"
_UNITLESS = ("count", "number", "share")
_USED = tuple(name for name in SANE if name not in _UNITLESS)
_TEXT: Schema = {"type": "string", "minLength": 1}
_SKY = (Weather, Array, Horizon, Obstacle, Goal)
_INDOORS = (Cabinet, CabinetFan, CabinetFilter, Plate, Entry, Mount)


def site_schema() -> Schema:
    """The whole schema, ready to be written as JSON."""
    known = {_slug(cls.__name__): _thing(cls) for cls in (About, Zone, Battery, Run, Acceptance, *_SKY, *_INDOORS)}
    known |= {_slug(kind): _part(kind, cls) for kind, cls in KINDS.items()}
    return {
        "$schema": DRAFT,
        "title": "Ohmstead site file",
        "description": "A battery-fed extra-low-voltage DC supply, as its builder describes it.",
        "type": "object",
        "required": ["ohmstead"],
        "additionalProperties": False,
        "properties": _sections(),
        "$defs": {_slug(name): _unit(name) for name in _USED}
        | {f"{_slug(name)}-range": _unit_range(name) for name in _USED}
        | known,
    }


def _sections() -> dict[str, Schema]:
    name: Schema = {"minLength": 1, "not": {"pattern": " / | -> "}}
    kinds = [
        {
            "if": {"properties": {"kind": {"const": kind}}, "required": ["kind"]},
            "then": {"$ref": f"#/$defs/{_slug(kind)}"},
        }
        for kind in KINDS
    ]
    part = {
        "type": "object",
        "required": ["kind"],
        "properties": {"kind": {"enum": list(KINDS)}},
        "allOf": kinds,
    }
    found: dict[str, Schema] = {
        "ohmstead": {"description": "format of this file", "enum": [FORMAT, str(FORMAT)]},
        "site": _ref("about"),
        "zones": _optional({"type": "object", "additionalProperties": _ref("zone")}),
        "battery": _optional({"type": "object", "propertyNames": name, "additionalProperties": _ref("battery")}),
        "parts": _optional({"type": "object", "propertyNames": name, "additionalProperties": part}),
        "runs": _optional({"type": "array", "items": _ref("run")}),
        "accepted": _optional({"type": "array", "items": _ref("acceptance")}),
        "weather": _optional(_ref("weather")),
        "arrays": _optional({"type": "object", "propertyNames": name, "additionalProperties": _ref("array")}),
        "shade": _optional(_shade(name)),
        "season": _optional(_ref("goal")),
        "cabinet": _optional({"type": "object", "additionalProperties": _ref("cabinet")}),
        "plate": _optional(_ref("plate")),
    }
    found["site"] = _optional(found["site"])
    return {section: found[section] for section in SECTIONS}


def _shade(name: Schema) -> Schema:
    obstacles = {"type": "object", "propertyNames": name, "additionalProperties": _ref("obstacle")}
    shade: Schema = {"horizon": _ref("horizon"), "obstacles": _optional(obstacles)}
    return {"type": "object", "additionalProperties": False, "properties": shade}


def _optional(schema: Schema) -> Schema:
    """A section whose line stands there with nothing below it."""
    return {"anyOf": [schema, {"type": "null"}]}


def _ref(name: str) -> Schema:
    return {"$ref": f"#/$defs/{name}"}


def _slug(name: str) -> str:
    return name.lower().replace(" ", "-")


def _thing(cls: type) -> Schema:
    """Every key of a class; what is needed is required."""
    fields = declared(cls).values()
    found: Schema = {
        "type": "object",
        "description": (cls.__doc__ or "").partition("\n")[0],
        "additionalProperties": False,
        "required": [field.key for field in fields if field.why],
        "properties": {field.key: _value(field) for field in fields},
    }
    if cls is Plate:
        for section, held in (("entries", "entry"), ("parts", "mount")):
            found["properties"][section] = _optional({"type": "object", "additionalProperties": _ref(held)})
    if cls is Battery:
        found["anyOf"] = [{"required": ["cells"]}, {"required": ["voltage"]}]
    if cls is Run:
        data = {"properties": {"carries": {"const": "data"}}, "required": ["carries"]}
        found["anyOf"] = [{"required": ["wire"]}, {"required": ["cable"]}, data]
        found["not"] = {"required": ["wire", "cable"]}
    return found


def _part(kind: str, cls: type) -> Schema:
    found = _thing(cls)
    found["required"] = ["kind", *found["required"]]
    found["properties"] = {"kind": {"const": kind}} | found["properties"]
    return found


def _value(field: Field) -> Schema:
    form, _, rest = field.form.partition(":")
    schema = dict(_FORMS[form] if form in _FORMS else _measured(field, form, rest))
    if field.choosable:
        schema = {"anyOf": [{"const": "choose", "description": "left open, to be chosen for you"}, schema]}
    if field.derived:
        schema = {"anyOf": [{"const": field.derived, "description": "taken from the plan of the plate"}, schema]}
    told = field.doc + (f". Needed: {field.why}" if field.why else "")
    told += f". Unwritten: {field.assumed}" if field.assumed else ""
    return {"description": told, "examples": [example(field)]} | schema


def _measured(field: Field, form: str, rest: str) -> Schema:
    """Schemas of words and numbers, which carry something behind the colon of their form."""
    if form == "word":
        return {"enum": rest.split("|")}
    if form.endswith("twelve"):
        return _months(form, rest)
    if form == "span":
        return _ref(f"{_slug(rest)}-range")
    if rest not in _UNITLESS:
        return _ref(_slug(rest))
    if rest == "share":
        return _SHARE
    bounds = bounds_of(field.bounds, rest)
    found: Schema = {"type": "integer" if rest == "count" else "number"}
    for limit, key in ((bounds.low, "minimum"), (bounds.high, "maximum")):
        if abs(limit) != float("inf"):
            found["exclusiveMinimum" if key == "minimum" and bounds.kind == "above" else key] = int(limit)
    return found


def _months(form: str, dimension: str) -> Schema:
    """Twelve values, or one: a list of values with units, or numbers and their unit on one line."""
    value: Schema = _SHARE if dimension == "share" else _ref(_slug(dimension))
    row: Schema = {"type": "array", "minItems": 12 if form == "twelve" else 1, "maxItems": 12, "items": value}
    line: Schema = {"type": "string", "pattern": f"^[-0-9., ]*[0-9] *({_units(dimension)})$"}
    return {"anyOf": [row, line, value] if form != "twelve" else [row, line]}


def _units(dimension: str) -> str:
    return "|".join(escape(unit).replace(r"\ ", " ") for unit in sorted(units_of(dimension), key=len, reverse=True))


def _unit(dimension: str) -> Schema:
    known = DIMENSIONS[dimension]
    found: Schema = {
        "type": "string",
        "pattern": f"[0-9] *({_units(dimension)})$",
        "examples": list(known.examples),
    }
    return {"description": f"{known.noun} with its unit"} | found


def _unit_range(dimension: str) -> Schema:
    known = DIMENSIONS[dimension]
    pattern = f"[0-9] *({_units(dimension)})($|[^0-9]+[0-9.,]+ *({_units(dimension)}|%)?$)"
    return {
        "description": f"{known.noun}, a range or a tolerance",
        "type": "string",
        "pattern": f"{pattern}|%$",
    }


_SHARE: Schema = {
    "anyOf": [
        {"type": "number", "minimum": 0, "maximum": 1},
        {"type": "string", "pattern": "^[0-9.,]+ *(%|percent)$|^[0-9.,]+$"},
    ]
}
_DRAW: Schema = {"type": "string", "pattern": "[0-9] *(m|k|µ|μ|u)?(W|w|watts?|A|a|V|v)"}
_ONE_TIME: Schema = {"type": "string", "minLength": 1, "description": TIMES}
_TIMES: Schema = {"anyOf": [_ONE_TIME, {"type": "array", "minItems": 1, "items": _ONE_TIME}]}
_LEVEL: Schema = {"type": "string", "pattern": "[0-9] *(%|percent|v|V)$"}
_BY_AIR: Schema = {"type": "object", "minProperties": 2, "additionalProperties": _SHARE}
_STATE_TIMES: Schema = {"anyOf": [_TIMES, _SHARE, _BY_AIR]}  # a share stands behind a temperature

_MM = "[0-9.,]+ *[A-Za-z]*"
_LENGTH: Schema = {"type": "string", "pattern": f"^{_MM}$"}
_SPOT: Schema = {
    "anyOf": [
        {"type": "array", "minItems": 2, "maxItems": 2, "items": _LENGTH},
        {"type": "string", "pattern": f"^{_MM} *[,x×] *{_MM}$"},
    ]
}


def _named(keys: tuple[str, ...], needed: tuple[str, ...], value: Schema) -> Schema:
    """A small mapping with fixed keys."""
    found = {"type": "object", "additionalProperties": False, "minProperties": 1, "required": list(needed)}
    return found | {"properties": dict.fromkeys(keys, value)}


_FORMS: dict[str, Schema] = {
    "text": _TEXT,
    "zone": _TEXT,
    "part or battery": _TEXT,
    "slug": {"type": "string", "pattern": "^[a-z][a-z0-9]*(-[a-z0-9]+)*$"},
    "date": {"type": "string", "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}$"},
    "stud": {"type": "string", "pattern": '^M ?[0-9.]+$|^[0-9]+/[0-9]+ *(in|inch|")$'},
    "air": {"type": "string", "pattern": "[0-9] *(°|º|deg)? *(C|F|K)$|^from heat$"},
    "height": _TEXT,
    "part": _TEXT,
    "vent": {"type": "string", "pattern": f"^[0-9.,]+ *({_units('opening')})( [a-z]+)?( at .*)?$"},
    "rise at": {"type": "string", "pattern": "^[0-9.,]+ *(K|°C|°F) at [0-9.,]+ *m?W$"},
    "fan curve": {"type": "object", "minProperties": 2, "additionalProperties": _ref("air-pressure")},
    "fan speed": {"type": "object", "minProperties": 2, "additionalProperties": _SHARE},
    "two temperatures": {"type": "object", "minProperties": 2, "additionalProperties": _ref("temperature")},
    "cabinet fan": {"anyOf": [_ref("cabinetfan"), {"const": "none"}]},
    "cabinet filter": {"anyOf": [_ref("cabinetfilter"), {"const": "none"}]},
    "power": _DRAW,
    "draws": {"anyOf": [_DRAW, {"type": "object", "minProperties": 1, "additionalProperties": _DRAW}]},
    "duty": {"anyOf": [_TIMES, {"type": "object", "minProperties": 1, "additionalProperties": _STATE_TIMES}]},
    "level": _LEVEL,
    "shed": {"type": "object", "minProperties": 1, "additionalProperties": _LEVEL},
    "idle": _DRAW,
    "efficiency": {"anyOf": [_SHARE, {"type": "object", "minProperties": 1, "additionalProperties": _SHARE}]},
    "lockout": _named(("off", "on"), ("off", "on"), _ref("voltage")),
    "limits": _named(("discharge", "charge", "short-trip"), (), _ref("current")),
    "open circuit": _named(("full", "nominal", "cut-off"), ("full", "nominal", "cut-off"), _ref("voltage")),
    "rates": {"type": "object", "minProperties": 3, "maxProperties": 3, "additionalProperties": _ref("charge")},
    "fuse window": {"type": "object", "minProperties": 1, "additionalProperties": _ref("time-range")},
    "endpoint": _TEXT,
    "wire": _TEXT,
    "ethernet cable": _TEXT,
    "fuse": _TEXT,
    "end": _TEXT,
    "ends": {"type": "array", "minItems": 2, "maxItems": 2, "items": _TEXT},  # an item may be `choose`
    "months": {"anyOf": [_TEXT, {"type": "array", "minItems": 1, "items": _TEXT}]},
    "skyline": {"type": "object", "minProperties": 1, "additionalProperties": _ref("angle")},
    "columns": {"type": "object", "minProperties": 1, "additionalProperties": _TEXT},
    "millimetres": _LENGTH,
    "box": {"type": "string", "pattern": f"^{_MM}( *[x×] *{_MM}){{2}}$"},
    "area": {"type": "string", "pattern": f"^{_MM} *[x×] *{_MM}$"},
    "spot": _SPOT,
    "holes": {
        "anyOf": [
            {"const": "none"},
            {"type": "string", "pattern": f"^{_MM} *[x×] *{_MM}$"},
            {"type": "array", "items": _SPOT},
        ]
    },
    "distances": {"anyOf": [_LENGTH, {"type": "array", "items": _LENGTH}]},
    "stretch": {"type": "string", "pattern": r"^[^.]*[0-9.]+.*\.\..*[0-9]"},
    "names": {"anyOf": [_TEXT, {"type": "array", "minItems": 1, "items": _TEXT}]},
    "arrays": {"anyOf": [_TEXT, {"type": "array", "minItems": 1, "items": _TEXT}]},
    "array": _TEXT,
    "laid": {
        "type": "string",
        "pattern": "^(free air|clipped|in conduit|in trunking|bundled)( with [0-9]+)?$",
    },
}
