"""Every text on the pictures of a cabinet."""

DAY = {
    "title": "{zone}: air by the hour, hottest and coldest day",
    "note": "Band: from the air at the floor to the air at the roof of the box. Limits are those of the parts, "
    "at their height.",
    "hot": "hottest day, °C",
    "cold": "coldest day, °C",
    "heat": "heat inside, W",
    "around": "air around",
    "inside": "air inside, floor to roof",
    "roof": "roof",
    "floor": "floor",
    "wall": "coldest wall inside",
    "dew": "dew point",
    "fan": "fan runs",
    "limit": "{name} {limit:.0f} °C",
    "more": "{name} and {n} more {limit:.0f} °C",
    "peak": "{high:.1f} °C at {hour}:00",
    "deepest": "{low:.1f} °C at {hour}:00",
    "none": "no fan",
}
FAN = {
    "title": "{zone}: where the fan works",
    "note": "Fan at full speed in the hottest air, and what the way of the air asks for; where they cross, it works. "
    "Draught by warmth is left out.",
    "x": "m³/h",
    "y": "Pa",
    "curve": "fan",
    "clean": "way with a clean mat",
    "open": "way without a mat",
    "now": "way with the mat as stated",
    "full": "way with a full mat",
    "point": "{flow:.0f} m³/h at {pressure:.0f} Pa: {share:.0f} % of free flow",
    "need": "{flow:.0f} m³/h carry {heat:.0f} W at {rise:.0f} K",
}
