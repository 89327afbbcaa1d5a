"""Sun on a box: what a surface makes of it, and how much falls on each face through a clear day."""

from collections.abc import Mapping
from math import acos, cos, exp, pi, radians, sin, sqrt

from .box import FACES

STILL_CONVECTION, STILL_RADIATION, SKY_BELOW_K = 12.4, 6.1, 10.0  # still-air-roof
# Degrees that a face looks aside from the front, clockwise from above; the left side is seen facing the front.
ASIDE = {"front": 0.0, "left": 90.0, "back": 180.0, "right": 270.0}


def sol_air_c(air_c: float, absorbed_w_per_m2: float, film_w_per_m2_k: float = 17.0, sky_k: float = 0.0) -> float:
    """Air temperature that would warm a wall as much as air, sun and sky do together.

    Te = To + α · E / ho - ε · ΔR / ho

    Parameters
    ----------
    air_c : float
        Outside. [°C]
    absorbed_w_per_m2 : float
        Sun on the face times its absorptance. [W/m²]
    film_w_per_m2_k : float
        Outside film with radiation; 17 is the handbook's, for light wind. [W/(m²·K)]
    sky_k : float
        What a clear sky takes off: 4 on the level, 0 upright. [K]

    Returns
    -------
    float
        Sol-air temperature. [°C]

    Source
    ------
    ashrae-fundamentals, sol-air temperature.

    Examples
    --------
    >>> [round(sol_air_c(40.0, share * 1000.0, sky_k=4.0), 1) for share in (0.25, 0.5, 0.9)]
    [50.7, 65.4, 88.9]
    """
    return air_c + absorbed_w_per_m2 / film_w_per_m2_k - sky_k


def still_rise_k(absorptance: float, emissivity: float, sun_w_per_m2: float) -> float:
    """Rise of a sunlit surface in still air, insulated behind.

    α · I = (hc + hr) · ΔT + hr · 10 K, hc = 12.4, hr = 6.1 · ε

    Parameters
    ----------
    absorptance : float
        For sunlight.
    emissivity : float
        For heat.
    sun_w_per_m2 : float
        On the surface. [W/m²]

    Returns
    -------
    float
        Rise over the air. [K]

    Source
    ------
    still-air-roof; fitted to 50 K of a black roof, within 30 %.

    Examples
    --------
    >>> round(still_rise_k(0.95, 0.9, 1000.0), 1)
    50.0
    """
    radiation = STILL_RADIATION * emissivity
    return (absorptance * sun_w_per_m2 - radiation * SKY_BELOW_K) / (STILL_CONVECTION + radiation)


def declination_deg(day_of_year: int) -> float:
    """Height of the sun over the equator.

    Parameters
    ----------
    day_of_year : int
        1 is the first of January.

    Returns
    -------
    float
        North positive. [°]

    Source
    ------
    duffie-beckman, equation 1.6.1a (Cooper).

    Examples
    --------
    >>> round(declination_deg(172), 2)
    23.45
    """
    return 23.45 * sin(radians(360.0 * (284 + day_of_year) / 365.0))


def clear_sky_w_per_m2(up_fraction: float) -> float:
    """Sun on the level under a clear sky.

    Parameters
    ----------
    up_fraction : float
        Cosine of the sun's angle from overhead. [1]

    Returns
    -------
    float
        Beam and sky together. [W/m²]

    Source
    ------
    haurwitz-1945

    Examples
    --------
    >>> round(clear_sky_w_per_m2(1.0))
    1035
    """
    return 1098.0 * up_fraction * exp(-0.059 / up_fraction) if up_fraction > 0.0 else 0.0


def sky_share(clear_fraction: float) -> float:
    """Share of the light on the level that comes from the whole sky and not from the sun.

    Parameters
    ----------
    clear_fraction : float
        Sun on the level over that outside the air. [1]

    Returns
    -------
    float
        Share.

    Source
    ------
    erbs-1982

    Examples
    --------
    >>> round(sky_share(0.75), 3)
    0.183
    """
    k = clear_fraction
    if k <= 0.22:
        return 1.0 - 0.09 * k
    if k <= 0.8:
        return 0.9511 - 0.1604 * k + 4.388 * k**2 - 16.638 * k**3 + 12.336 * k**4
    return 0.165


def day_on_faces(
    latitude: float,
    day_of_year: int,
    front_deg: float,
    peak_w_per_m2: float | None = None,
    ground_fraction: float = 0.2,
) -> Mapping[str, tuple[float, ...]]:
    """Sun on the six faces through a clear day, means of 24 hours of solar time.

    Parameters
    ----------
    latitude : float
        North positive. [°]
    day_of_year : int
        1 is the first of January.
    front_deg : float
        Where the front looks, from north over east. [°]
    peak_w_per_m2 : float, optional
        Largest sun on the level, to which the clear sky is scaled. [W/m²]
    ground_fraction : float
        Light that the ground throws back. [1]

    Returns
    -------
    mapping
        Face to 24 values. [W/m²]

    Source
    ------
    duffie-beckman, equations 1.6.2, 1.6.5 and 2.15.1; haurwitz-1945; erbs-1982.

    Examples
    --------
    >>> faces = day_on_faces(24.0, 172, 180.0)
    >>> round(max(faces["top"])), round(max(faces["left"])), faces["top"][0]
    (1025, 748, 0.0)
    """
    tilt = radians(declination_deg(day_of_year))
    place = radians(latitude)
    outside = 1367.0 * (1.0 + 0.033 * cos(2.0 * pi * day_of_year / 365.0))
    points = [_light(place, tilt, outside, hour + (i + 0.5) / 6.0) for hour in range(24) for i in range(6)]
    highest = max(level for _, level, _, _ in points)
    scale = 1.0 if peak_w_per_m2 is None or highest <= 0.0 else peak_w_per_m2 / highest
    found = {}
    for face in FACES:
        sun = [scale * _on_face(face, front_deg, ground_fraction, point) for point in points]
        found[face] = tuple(sum(sun[6 * hour : 6 * hour + 6]) / 6.0 for hour in range(24))
    return found


def _light(place: float, tilt: float, outside: float, hour: float) -> tuple[float, float, float, float]:
    """Cosine of the zenith, light on the level, from the sky, and the sun's azimuth from north (radians)."""
    turn = radians(15.0 * (hour - 12.0))
    up = sin(place) * sin(tilt) + cos(place) * cos(tilt) * cos(turn)
    if up <= 0.0:
        return up, 0.0, 0.0, 0.0
    level = clear_sky_w_per_m2(up)
    sky = level * sky_share(level / (outside * up))
    across = sqrt(1.0 - up**2)
    south = (up * sin(place) - sin(tilt)) / (across * cos(place)) if across * abs(cos(place)) > 1e-9 else 1.0
    aside = acos(max(-1.0, min(1.0, south)))
    return up, level, sky, pi + (aside if turn > 0.0 else -aside)


def _on_face(face: str, front_deg: float, ground: float, point: tuple[float, float, float, float]) -> float:
    up, level, sky, azimuth = point
    if level <= 0.0:
        return 0.0
    if face == "top":
        return level
    if face == "bottom":
        return ground * level
    facing = cos(azimuth - radians(front_deg + ASIDE[face])) * sqrt(1.0 - up**2)
    return (level - sky) * max(facing, 0.0) / max(up, 0.05) + 0.5 * sky + 0.5 * ground * level


def absorbed_w(box_faces_m2: Mapping[str, float], sun_w_per_m2: Mapping[str, float], absorptance: float) -> float:
    """Sun that a whole box takes in, most of which it gives back outside.

    Parameters
    ----------
    box_faces_m2 : mapping
        Area of each face. [m²]
    sun_w_per_m2 : mapping
        Sun on each face. [W/m²]
    absorptance : float
        Of all faces.

    Returns
    -------
    float
        Taken in. [W]

    Source
    ------
    first law of thermodynamics.

    Examples
    --------
    >>> faces, sun = {"top": 0.15, "front": 0.3, "left": 0.18}, {"top": 1000.0, "front": 500.0, "left": 300.0}
    >>> round(absorbed_w(faces, sun, 0.5))
    177
    """
    return absorptance * sum(area * sun_w_per_m2.get(face, 0.0) for face, area in box_faces_m2.items())
