"""Quarter turns of a part: its size, its sides, and spots on it. Turns are clockwise, seen from the front."""

from .box import SIDES, Spot


def turned_size(width: float, height: float, turns: int) -> Spot:
    """Width and height after so many quarter turns.

    >>> turned_size(120, 80, 1)
    (80, 120)
    """
    return (height, width) if turns % 2 else (width, height)


def turned_side(side: str, turns: int) -> str:
    """Where a side comes to lie; the front stays the front.

    >>> turned_side("top", 1)
    'right'
    """
    return side if side not in SIDES else SIDES[(SIDES.index(side) + turns) % 4]


def turned_spot(spot: Spot, width: float, height: float, turns: int) -> Spot:
    """A spot, measured from the upper left corner before, measured from the upper left corner after.

    >>> turned_spot((10, 20), 120, 80, 1)
    (60, 10)
    """
    right, down = spot
    for _ in range(turns % 4):
        right, down, width, height = height - down, right, height, width
    return right, down
