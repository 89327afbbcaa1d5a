"""A part on the plate with everything that decides where it can stand."""

from collections.abc import Mapping

from ..plate.box import SIDES, Box, Spot, at
from ..plate.turning import turned_side, turned_size, turned_spot
from ..site.place import Place
from ..site.record import record

KINDS = ("hands", "air", "bends", "lights", "gap")
"""Why room is kept free beside a part."""
Room = Mapping[str, float]
"""Side of the part as it stands -> free millimetres."""


@record(frozen=True)
class Terminal:
    """Where a cord meets a part: a spot on its upright outline, and the side that it is on."""

    spot: Spot
    side: str


@record(frozen=True)
class Body:
    """A part before it is placed; sizes and sides are those of the part upright.

    `wants` are the millimetres wanted for each reason by side, sides as the part stands upright except those of
    "air", which is wanted above and below however it is turned. `assumed` names what was not written.
    """

    name: str
    place: Place
    width: float
    height: float
    depth: float
    holes: tuple[Spot, ...]
    hole: float
    wants: Mapping[str, Room]
    terminals: Mapping[tuple[int, str], Terminal]  # (number of the run, "start" or "end")
    plug: float
    lights: str
    heat_w: float
    mains: str
    band: Spot | None = None  # from..to, down from the upper edge, where its middle may be
    bend: float = 0.0  # diameters that it asks for; 0 when its cables decide
    fixed: Spot | None = None
    turns: tuple[int, ...] = (0,)  # quarter turns that may be tried
    assumed: tuple[str, ...] = ()

    def room(self, turns: int, reasons: tuple[str, ...] = KINDS) -> Room:
        """Free millimetres on each side as the part stands after so many quarter turns."""
        found = dict.fromkeys(SIDES, 0.0)
        for reason in reasons:
            for side, wanted in self.wants.get(reason, {}).items():
                lies = side if reason == "air" else turned_side(side, turns)
                if lies in found:
                    found[lies] = max(found[lies], wanted)
        return found

    def size(self, turns: int) -> Spot:
        """Width and height as it stands."""
        return turned_size(self.width, self.height, turns)

    def spot_of(self, terminal: Terminal, turns: int) -> Spot:
        """A terminal measured from the upper left corner of the part as it stands."""
        return turned_spot(terminal.spot, self.width, self.height, turns)


@record(frozen=True)
class Stand:
    """A part in its place."""

    body: Body
    corner: Spot
    turns: int

    @property
    def box(self) -> Box:
        """What it covers."""
        return at(self.corner, *self.body.size(self.turns))

    @property
    def name(self) -> str:
        """What it is called."""
        return self.body.name

    def spot(self, terminal: Terminal) -> Spot:
        """A terminal on the plate."""
        right, down = self.body.spot_of(terminal, self.turns)
        return self.corner[0] + right, self.corner[1] + down

    def side(self, terminal: Terminal) -> str:
        """The side of a terminal as the part stands."""
        return turned_side(terminal.side, self.turns)

    def holes(self) -> tuple[Spot, ...]:
        """Its screw holes on the plate."""
        spots = [turned_spot(hole, self.body.width, self.body.height, self.turns) for hole in self.body.holes]
        return tuple((self.corner[0] + right, self.corner[1] + down) for right, down in spots)

    def kept_free(self, reasons: tuple[str, ...] = KINDS) -> Box:
        """Its outline with the room around it."""
        room = self.body.room(self.turns, reasons)
        return self.box.grown(room["top"], room["right"], room["bottom"], room["left"])
