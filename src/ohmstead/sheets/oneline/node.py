"""A part as it stands in the drawing's tree, with the room it takes and the place it got."""

from dataclasses import dataclass, field

from ...site.model import Run
from .label import Label

HUBS = ("busbar", "distribution", "ethernet power source")
"""Drawn as a tall bar from which their runs leave, each at its own height."""


@dataclass(slots=True)
class Node:
    """A part, or a flag where a line ends.

    `run` leads here from the parent. `left` holds sources that feed into this part from its left. `flow` is
    "back" when energy flows from this part to its parent. Places are those of the connection, in millimetres.
    """

    name: str
    kind: str
    run: Run | None = None
    children: list["Node"] = field(default_factory=list)
    left: list["Node"] = field(default_factory=list)
    tabs: list[str] = field(default_factory=list)
    flow: str = "on"
    copy: int = 1
    leads_to: "Node | None" = None
    carried: Run | None = None  # the run that was drawn on the sheet before
    manner: str = "centred"  # how it is lettered: "centred", "hub", "beside", "into"
    symbol: tuple[float, float] = (0.0, 0.0)
    head: Label = Label()
    foot: Label = Label()
    run_head: Label = Label()
    run_foot: Label = Label()
    up: float = 0.0
    down: float = 0.0
    column: int = 0
    x: float = 0.0
    y: float = 0.0
    bar: tuple[float, float] = (0.0, 0.0)  # upper and lower end of a hub's bar
    head_top: float = 0.0

    def every(self) -> list["Node"]:
        """This node and all below and left of it, in drawing order."""
        found, waiting = [], [self]
        while waiting:
            node = waiting.pop()
            found.append(node)
            waiting += reversed(node.children)
            waiting += reversed(node.left)
        return found

    def upright(self) -> list["Node"]:
        """This node and all below it, without the sources that stand on the left."""
        found, waiting = [], [self]
        while waiting:
            node = waiting.pop()
            found.append(node)
            waiting += reversed(node.children)
        return found

    @property
    def is_flag(self) -> bool:
        """True for the end of a line that goes on elsewhere."""
        return self.kind == "flag"
