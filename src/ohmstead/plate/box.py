"""Upright rectangles on the plate, measured from its upper left corner, y downwards. [mm]"""

from typing import NamedTuple

Spot = tuple[float, float]
SIDES = ("top", "right", "bottom", "left")
"""In the order in which a clockwise quarter turn moves them on."""
TOUCH = 1e-6  # rectangles that share an edge do not overlap, whatever the arithmetic left over


class Box(NamedTuple):
    """Left, top, right and bottom edge."""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def width(self) -> float:
        """From left to right."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """From top to bottom."""
        return self.bottom - self.top

    @property
    def middle(self) -> Spot:
        """The centre."""
        return (self.left + self.right) / 2, (self.top + self.bottom) / 2

    def grown(self, top: float, right: float, bottom: float, left: float) -> "Box":
        """With so much more on each side."""
        return Box(self.left - left, self.top - top, self.right + right, self.bottom + bottom)

    def shrunk(self, by: float) -> "Box":
        """With so much less on every side."""
        return self.grown(-by, -by, -by, -by)

    def overlaps(self, other: "Box") -> bool:
        """Do the two share an area? Touching edges do not count."""
        return (
            self.left < other.right - TOUCH
            and other.left < self.right - TOUCH
            and self.top < other.bottom - TOUCH
            and other.top < self.bottom - TOUCH
        )

    def holds(self, other: "Box") -> bool:
        """Does the other lie within this one?"""
        return (
            self.left <= other.left + TOUCH
            and self.top <= other.top + TOUCH
            and other.right <= self.right + TOUCH
            and other.bottom <= self.bottom + TOUCH
        )

    def gap(self, other: "Box") -> float:
        """Shortest distance between the two, zero when they touch or overlap."""
        across = max(other.left - self.right, self.left - other.right, 0.0)
        down = max(other.top - self.bottom, self.top - other.bottom, 0.0)
        return float((across * across + down * down) ** 0.5)


def at(spot: Spot, width: float, height: float) -> Box:
    """The rectangle of a size with its upper left corner at a spot."""
    return Box(spot[0], spot[1], spot[0] + width, spot[1] + height)


def around(boxes: list[Box]) -> Box:
    """The smallest rectangle that holds them all. Raises ValueError when there is none."""
    return Box(
        min(box.left for box in boxes),
        min(box.top for box in boxes),
        max(box.right for box in boxes),
        max(box.bottom for box in boxes),
    )
