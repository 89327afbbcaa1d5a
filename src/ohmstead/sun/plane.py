"""Sun in the plane of an array: beam, the bright ring around the sun, the grey sky, and the ground."""

from dataclasses import dataclass

import numpy as np

from .hours import FloatArray, Hours
from .sky import SunPath

LOWEST_COS = 0.01745  # of the zenith angle, 89°: below it the ring around the sun is no longer magnified
REFLECTED = 0.05  # coefficient of glass at a slant; duffie-beckman, 5.7, after ASHRAE 93


@dataclass(frozen=True, slots=True)
class Plane:
    """Mean sun on a tilted plane in each hour, shape (n_hour,), before any shade. cos_incidence: of the beam."""

    beam_w_per_m2: FloatArray
    ring_w_per_m2: FloatArray
    sky_w_per_m2: FloatArray
    ground_w_per_m2: FloatArray
    cos_incidence: FloatArray

    @property
    def total_w_per_m2(self) -> FloatArray:
        """All four together."""
        return self.beam_w_per_m2 + self.ring_w_per_m2 + self.sky_w_per_m2 + self.ground_w_per_m2


def cos_incidence(
    zenith_deg: FloatArray, sun_azimuth_deg: FloatArray, tilt_deg: float, azimuth_deg: float
) -> FloatArray:
    """Cosine of the angle between the sun and straight out of a plane; below zero behind it.

    cos θ = cos z · cos β + sin z · sin β · cos(γs - γ)

    Parameters
    ----------
    zenith_deg : array
        Of the sun. [°]
    sun_azimuth_deg : array
        Of the sun, from north over east. [°]
    tilt_deg : float
        Of the plane. [°]
    azimuth_deg : float
        Of the plane, from north over east. [°]

    Returns
    -------
    array
        Cosine of the angle of incidence.

    Source
    ------
    duffie-beckman, equation 1.6.3.

    Examples
    --------
    >>> round(float(cos_incidence(np.array([50.11162]), np.array([194.34024]), 30.0, 170.0)[0]), 6)
    0.904924
    """
    zenith, tilt = np.radians(zenith_deg), np.radians(tilt_deg)
    aside = np.cos(np.radians(sun_azimuth_deg - azimuth_deg))
    found: FloatArray = np.cos(zenith) * np.cos(tilt) + np.sin(zenith) * np.sin(tilt) * aside
    return found


def plane(hours: Hours, path: SunPath, facing: tuple[float, float], ground_fraction: FloatArray) -> Plane:
    """Sun on a tilted plane.

    The sky is parted after Hay and Davies: as much of it as the beam is of the sun outside the air comes from the
    ring around the sun, the rest evenly from everywhere.

    Parameters
    ----------
    hours : Hours
        The weather.
    path : SunPath
        The sun over these hours.
    facing : tuple of float
        Tilt and azimuth of the plane. [°]
    ground_fraction : array
        Share of light that the ground throws back, one for each hour. [1]

    Returns
    -------
    Plane
        The four parts, shape (n_hour,). [W/m²]

    Source
    ------
    duffie-beckman, equation 2.16.4 (Hay and Davies), without the brighter horizon.

    Examples
    --------
    >>> sun = SunPath(*(np.array([x]) for x in (50.0, 180.0, 1367.0, 0.0, 0.0)), latitude=40.0)
    >>> ghi, dni, dhi = np.array([450.0]), np.array([600.0]), np.array([120.0])
    >>> hour = Hours(np.zeros(1), ghi, dni, dhi, dhi, None, np.zeros(1, int), 40.0, 0.0, 0.0, "UTC")
    >>> parts = plane(hour, sun, (30.0, 180.0), np.array([0.25]))
    >>> [round(float(x[0]), 3) for x in (parts.beam_w_per_m2, parts.ground_w_per_m2, parts.total_w_per_m2)]
    [563.816, 7.536, 711.17]
    """
    tilt_deg, azimuth_deg = facing
    incidence = cos_incidence(path.zenith_deg, path.azimuth_deg, tilt_deg, azimuth_deg)
    front = np.maximum(incidence, 0.0)
    upward = np.maximum(np.cos(np.radians(path.zenith_deg)), LOWEST_COS)
    ring_fraction = np.clip(hours.dni_w_per_m2 / path.extra_w_per_m2, 0.0, 1.0)
    rise = float(np.cos(np.radians(tilt_deg)))
    return Plane(
        beam_w_per_m2=hours.dni_w_per_m2 * front,
        ring_w_per_m2=hours.dhi_w_per_m2 * ring_fraction * front / upward,
        sky_w_per_m2=hours.dhi_w_per_m2 * (1.0 - ring_fraction) * ((1.0 + rise) / 2.0),
        ground_w_per_m2=hours.ghi_w_per_m2 * ground_fraction * ((1.0 - rise) / 2.0),
        cos_incidence=incidence,
    )


def through_glass(cos_incidence: FloatArray) -> FloatArray:
    """Share of light that enters glass at a slant, against light that falls straight on it.

    K = 1 - b0 · (1 / cos θ - 1), zero from where that is below zero on.

    Parameters
    ----------
    cos_incidence : array
        Cosine of the angle of incidence.

    Returns
    -------
    array
        Share that enters.

    Source
    ------
    duffie-beckman, 5.7, after ASHRAE 93; b0 = 0.05 for one glass.

    Examples
    --------
    >>> through_glass(np.array([1.0, 0.5, 0.04, -0.2])).round(3).tolist()
    [1.0, 0.95, 0.0, 0.0]
    """
    safe = np.where(cos_incidence > 1e-6, cos_incidence, 1e-6)
    found: FloatArray = np.clip(1.0 - REFLECTED * (1.0 / safe - 1.0), 0.0, 1.0)
    return found


def grey_angles_deg(tilt_deg: float) -> tuple[float, float]:
    """Angles at which grey sky and ground, taken together, seem to fall on tilted glass.

    Parameters
    ----------
    tilt_deg : float
        Of the plane. [°]

    Returns
    -------
    tuple of float
        For the sky, for the ground. [°]

    Source
    ------
    duffie-beckman, equations 5.4.1 and 5.4.2.

    Examples
    --------
    >>> [round(angle, 1) for angle in grey_angles_deg(45.0)]
    [56.5, 69.4]
    """
    sky = 59.7 - 0.1388 * tilt_deg + 0.001497 * tilt_deg**2
    return sky, 90.0 - 0.5788 * tilt_deg + 0.002693 * tilt_deg**2
