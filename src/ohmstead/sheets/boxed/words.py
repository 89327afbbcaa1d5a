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
SHEET_TITLE = "Cabinet"
NO_CABINET = "The site file describes no cabinet."
LEAD = (
    "How warm {zone} gets on the hottest day that the file allows, and what it costs the parts. A calculation is not a "
    "measurement: hang a maximum thermometer at the roof of the box for a hot week, and write it here: ______ °C "
    "(reckoned: {hot})."
)
PARTS_HEAD = ("part", "above the floor", "heat", "hottest air", "hour", "bears", "left")
PARTS_CAPTION = "Each part in the air at its height; the one with least left first."
WAYS_HEAD = ("way", "at its roof", "cooler", "least left", "moves", "fan a day")
WAYS_CAPTION = "What would cool it, each tried on the same hottest day."
CARE = "To be done"
CARE_MAT = (
    "change the mat when the air that leaves is more than {rise} warmer than the air that enters ({now} when "
    "clean), the gear as busy as on a usual day"
)
CARE_MAT_LOOK = "hold the mat against the light each quarter: change it when little light comes through"
CARE_FAN = "hold a strip of paper to the opening of the fan: it must be {way}; listen for the bearing"
CARE_VENTS = "look that nothing covers the vents, inside and outside"
CARE_GAPS = "renew tape and seals where dust has come in"
SUCKED, BLOWN = "drawn to the inlet and blown from the outlet", "drawn to the fan"
