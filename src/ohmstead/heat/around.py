"""What surrounds a cabinet, hour by hour: air, what its faces look at, sun on each face, wind, damp."""

from collections.abc import Mapping, Sequence
from dataclasses import field

from ..site.record import record


@record(frozen=True)
class Around:
    """Means of each hour; every sequence has the length of air_c.

    radiant_c: what the faces exchange radiation with, such as a hot roof deck; None: as warm as the air. sun_w_per_m2
    by face, missing faces are in shade. wind_m_per_s: None is still air. sky_w_per_m2: heat that a level black face
    loses to a clear sky beyond what it would to surroundings at air temperature; None: under a roof. dew_point_c:
    of the outside air. elevation_m: above the sea.
    """

    air_c: Sequence[float]
    radiant_c: Sequence[float] | None = None
    sun_w_per_m2: Mapping[str, Sequence[float]] = field(default_factory=dict)
    wind_m_per_s: Sequence[float] | None = None
    sky_w_per_m2: Sequence[float] | None = None
    dew_point_c: Sequence[float] | None = None
    elevation_m: float = 0.0

    @property
    def n_hour(self) -> int:
        """How many hours."""
        return len(self.air_c)


def still(air_c: float, elevation_m: float = 0.0) -> Around:
    """One moment of still air, no sun: what a sealed box in a room sees.

    Parameters
    ----------
    air_c : float
        Of the room. [°C]
    elevation_m : float
        Above the sea. [m]

    Returns
    -------
    Around
        One hour.

    Source
    ------
    None needed.

    Examples
    --------
    >>> still(45.0).n_hour
    1
    """
    return Around((air_c,), elevation_m=elevation_m)
