"""Walls, finishes and mats of the site file, found in the published tables, and masses."""

from ...heat.box import Skin
from ...tables.reader import numbers, words

GEAR_J_PER_KG_K = 700.0  # electronics, mixed; from memory
BATTERY_J_PER_KG_K = 1000.0  # lithium pack; from memory
INSIDE_EMISSIVITY = 0.9  # painted or dusty inside; bare metal has its own
SCREEN_PA = 3.0  # insect mesh at 1 m/s; common practice
CLEAR_SKY_W_PER_M2 = 68.0  # lost by a level black face to a clear sky: 4 K at 17 W/(m²·K); ashrae-fundamentals
GROUND_FRACTION = 0.2  # of light thrown back by the ground; common practice
_ROOFS = {"dark": "dark shingle", "dark with foil": "dark shingle with radiant barrier"}
_BATTERY_WH_PER_KG = {"LFP": 110.0, "NMC": 150.0}  # packs with case and electronics; from memory
_LEAD_WH_PER_KG = 35.0
# Word of the site file -> row of the table, and the usual thickness of a wall [m]; common practice.
_MATERIALS = {
    "steel": ("steel", 0.0015),
    "stainless steel": ("stainless steel", 0.0015),
    "aluminium": ("aluminium", 0.002),
    "plastic": ("polyester", 0.003),
    "wood": ("plywood", 0.015),
}
_FINISHES = {
    "white": "white aged",
    "grey": "medium grey",
    "bare galvanised": "new galvanised",
    "bare stainless": "stainless steel",
}


def sheet_of(material: str) -> float:
    """Usual thickness of a wall. [m]"""
    return _MATERIALS[material][1]


def skin_of(material: str, colour: str) -> Skin:
    """Walls of a material with a finish, by the words of the site file."""
    row = words("walls", "material").index(_MATERIALS[material][0])
    look = words("finishes", "finish").index(_FINISHES.get(colour, colour))
    emissivity = numbers("finishes", "emissivity")[look]
    bare = colour.startswith(("bare", "aged"))
    return Skin(
        thickness_m=sheet_of(material),
        conductivity_w_per_m_k=numbers("walls", "conductivity_w_per_m_k")[row],
        density_kg_per_m3=numbers("walls", "density_kg_per_m3")[row],
        specific_j_per_kg_k=numbers("walls", "specific_j_per_kg_k")[row],
        emissivity=emissivity,
        inside_emissivity=emissivity if bare else INSIDE_EMISSIVITY,
        absorptance=numbers("finishes", "absorptance")[look],
    )


def table_roof(roof: str) -> str:
    """What the table calls a covering of the site file."""
    return _ROOFS.get(roof, roof)


def clean_pa(mat: str) -> float:
    """Pressure drop of a clean mat at 1 m/s, by its class. [Pa]"""
    if mat == "screen":
        return SCREEN_PA
    return numbers("filter_mats", "clean_pa")[words("filter_mats", "class").index(mat)]


def battery_wh_per_kg(chemistry: str) -> float:
    """Energy in the mass of a pack. [Wh/kg]"""
    return _BATTERY_WH_PER_KG.get(chemistry, _LEAD_WH_PER_KG)
