"""What comes of a box: temperatures, flows of heat and air, by hour; a steady state is one hour."""

from collections.abc import Mapping, Sequence
from dataclasses import field, fields
from typing import TYPE_CHECKING

from ..site.record import record
from .box import Box

if TYPE_CHECKING:
    import pandas

ABOVE = 7.0 / 6.0  # level from three quarters of the height on, and still the mean of the upper half: iec-tr-60890


def up_share(box: Box, height_m: float) -> float:
    """Where the air at a height stands between the lower air (0) and the upper air (1).

    The lower air to a quarter of the height, from there straight to three quarters, level to the roof; a little above
    the mean of the upper half, as it is near its middle.

    Parameters
    ----------
    box : Box
        The cabinet.
    height_m : float
        From its floor. [m]

    Returns
    -------
    float
        Share, up to 7/6.

    Source
    ------
    iec-tr-60890: straight from mid height to three quarters, level above.

    Examples
    --------
    >>> box = Box(0.6, 0.5, 0.3)
    >>> [round(up_share(box, height), 3) for height in (0.0, 0.3, 0.6)]
    [0.0, 0.583, 1.167]
    """
    return ABOVE * min(max(2.0 * height_m / box.height_m - 0.5, 0.0), 1.0)


@record(frozen=True)
class Trace:
    """One value an hour in every sequence (tuples of a day, arrays of a year).

    lower_c and upper_c: mean air of the two halves of the box; `_high_c` and `_low_c` their extremes within the hour.
    heat_w: given off inside, with the fan's where it blows in. sun_w: absorbed by the faces. wall_w: lost through the
    walls to what is around, sun and sky counted on the way in. vent_w: carried off by air. stored_w: taken up by air,
    walls and gear: heat + sun = wall + vent + stored. fan_fraction: share of the hour, or of the speed. air_kg_per_s:
    that passes through the box. n_switched: times that the fan was switched; from `SWITCHES` on it hunts, and the
    hour is then reckoned with the share of time that keeps the middle of the band (not told of a settled box).
    coldest_c: the coldest
    inner surface, its lowest in the hour. face_c: outer sheet by face, hottest half, end of the hour. lump_c: gear by
    half and lump ("lower", "upper", "lower battery"), end of the hour.
    """

    box: Box
    lower_c: Sequence[float]
    upper_c: Sequence[float]
    lower_high_c: Sequence[float]
    upper_high_c: Sequence[float]
    lower_low_c: Sequence[float]
    upper_low_c: Sequence[float]
    heat_w: Sequence[float]
    sun_w: Sequence[float]
    wall_w: Sequence[float]
    vent_w: Sequence[float]
    stored_w: Sequence[float]
    fan_fraction: Sequence[float]
    fan_w: Sequence[float]
    air_kg_per_s: Sequence[float]
    n_switched: Sequence[float]
    coldest_c: Sequence[float]
    face_c: Mapping[str, Sequence[float]] = field(default_factory=dict)
    lump_c: Mapping[str, Sequence[float]] = field(default_factory=dict)

    @property
    def n_hour(self) -> int:
        """How many hours."""
        return len(self.lower_c)

    def air_c(self, height_m: float) -> list[float]:
        """Mean air at a height, see `up_share`. [°C]"""
        return self._at(height_m, self.lower_c, self.upper_c)

    def high_c(self, height_m: float) -> list[float]:
        """Hottest air of each hour at a height. [°C]"""
        return self._at(height_m, self.lower_high_c, self.upper_high_c)

    def low_c(self, height_m: float) -> list[float]:
        """Coldest air of each hour at a height. [°C]"""
        return self._at(height_m, self.lower_low_c, self.upper_low_c)

    def hours_above(self, limit_c: float, height_m: float) -> int:
        """Hours in which the air at a height is above a limit at some time."""
        return sum(x > limit_c for x in self.high_c(height_m))

    def hottest(self, height_m: float) -> tuple[int, float]:
        """The hour with the hottest air at a height, and that air. [°C]"""
        found = self.high_c(height_m)
        value = max(found)
        return found.index(value), value

    def coldest(self, height_m: float) -> tuple[int, float]:
        """The hour with the coldest air at a height, and that air. [°C]"""
        found = self.low_c(height_m)
        value = min(found)
        return found.index(value), value

    def table(self) -> "pandas.DataFrame":
        """All that has one value an hour, a row an hour; faces and lumps as `face top`, `gear lower`. Needs pandas."""
        import pandas

        named = {column.name: getattr(self, column.name) for column in fields(self)}
        plain = {name: values for name, values in named.items() if name not in ("box", "face_c", "lump_c")}
        plain |= {f"face {name}": values for name, values in self.face_c.items()}
        plain |= {f"gear {name}": values for name, values in self.lump_c.items()}
        return pandas.DataFrame(plain)

    def _at(self, height_m: float, lower: Sequence[float], upper: Sequence[float]) -> list[float]:
        up = up_share(self.box, height_m)
        return [float(a) + up * (float(b) - float(a)) for a, b in zip(lower, upper, strict=True)]
