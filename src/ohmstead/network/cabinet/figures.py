"""Figures of walls, paint, mats and masses."""

from ...heat.box import Skin

GEAR_J_PER_KG_K = 700.0  # electronics, mixed; from memory
BATTERY_J_PER_KG_K = 1000.0  # lithium pack; from memory
_BATTERY_WH_PER_KG = {"LFP": 110.0, "NMC": 150.0}
_LEAD_WH_PER_KG = 35.0
# thickness [m], conductivity, density, specific heat
_MATERIALS = {
    "steel": (0.0015, 50.0, 7850.0, 490.0),
    "stainless steel": (0.0015, 15.0, 7900.0, 500.0),
    "aluminium": (0.002, 200.0, 2700.0, 900.0),
    "plastic": (0.003, 0.2, 1300.0, 1300.0),
    "wood": (0.015, 0.13, 550.0, 1700.0),
}
# absorptance for sun, emissivity for heat
_COLOURS = {
    "white": (0.25, 0.9),
    "light grey": (0.5, 0.9),
    "grey": (0.7, 0.9),
    "dark grey": (0.87, 0.9),
    "black": (0.95, 0.95),
    "green": (0.8, 0.9),
    "red": (0.75, 0.9),
    "brown": (0.8, 0.9),
    "aluminium paint": (0.4, 0.45),
    "bare galvanised": (0.6, 0.25),
    "aged galvanised": (0.8, 0.28),
    "bare aluminium": (0.15, 0.08),
    "bare stainless": (0.4, 0.2),
}
_CLEAN_PA = {"G2": 10.0, "G3": 20.0, "G4": 30.0, "M5": 60.0, "screen": 3.0}


def sheet_of(material: str) -> float:
    """Usual thickness of a wall. [m]"""
    return _MATERIALS[material][0]


def skin_of(material: str, colour: str) -> Skin:
    """Walls of a material with a colour."""
    thickness, conductivity, density, specific = _MATERIALS[material]
    absorptance, emissivity = _COLOURS[colour]
    inside = emissivity if colour.startswith("bare") else 0.9
    return Skin(thickness, conductivity, density, specific, 0.0, emissivity, inside, absorptance)


def clean_pa(mat: str) -> float:
    """Pressure drop of a clean mat at 1 m/s. [Pa]"""
    return _CLEAN_PA[mat]


def battery_wh_per_kg(chemistry: str) -> float:
    """Energy in the mass of a pack. [Wh/kg]"""
    return _BATTERY_WH_PER_KG.get(chemistry, _LEAD_WH_PER_KG)
