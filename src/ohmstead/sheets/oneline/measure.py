"""The room that each part and its run take, before anything has a place."""

from ...site.kinds import Charger, Converter
from . import words
from .figures import Figures
from .label import FULL, Label, Word, label
from .node import HUBS, Node
from .symbols import SIZE
from .text import broken

CLEAR = 1.3  # between a line and the lettering above or below it: half of a fuse and some air
TIGHT = 0.7  # between a sign and its lettering
ABOVE = {"low-voltage disconnect": 6.2, "switch": 2.2, "battery": 3.2, "charger": 3.2, "converter": 3.2, "device": 2.0}
BELOW = {"low-voltage disconnect": 0.6, "switch": 0.6, "battery": 4.8, "charger": 3.2, "converter": 3.2, "device": 2.0}
RAYS = 4.8  # the light on a solar charger reaches this far above its line
HANGING = 4.9  # an isolated converter's own negative reaches this far below
WIDEST_SHEET = 88  # sheets are numbered after they are packed; room for two figures


def measure(node: Node, figures: Figures, most: float = FULL) -> None:
    """Letter one node and its run, and say how far both reach above and below the line.

    `most` is the width of a row of lettering at runs to loads; other runs have narrow rows.
    """
    node.symbol = SIZE.get(node.kind, SIZE["device"])
    node.manner = _manner(node)
    if node.is_flag:
        node.head = flag_label(node, figures, WIDEST_SHEET)
    else:
        node.head, node.foot = figures.head(node), figures.foot(node)
    run = node.run
    wide = most if node.manner == "beside" else FULL
    node.run_head = figures.run_head(run, wide) if run is not None else Label()
    node.run_foot = figures.run_foot(run, wide) if run is not None else Label()
    node.up, node.down = _reach(node, figures)


def _manner(node: Node) -> str:
    if node.is_flag:
        return "into" if node.children else "beside"
    if node.kind in HUBS:
        return "hub"
    return "centred" if node.children or node.left or node.kind != "device" else "beside"


def flag_label(node: Node, figures: Figures, sheet: int) -> Label:
    """What a flag says: the letter of a tie, the part at its other end, the sheet where that stands."""
    template = words.FROM if node.children else words.TO
    if node.leads_to is not None and node.leads_to.copy > 1 and not node.children:
        template = words.GOES_ON
    rows = [(Word(line, "name"),) for line in broken(template.format(name=figures.names.part(node.name)))]
    if node.leads_to is None:
        return label([(Word(node.tabs[0], "tab", "bold"),), *rows])
    return label([*rows, (Word(words.TO_SHEET.format(number=sheet), "sheet", "bold"),)])


def _reach(node: Node, figures: Figures) -> tuple[float, float]:
    """How far a node and the run to it reach above and below their line."""
    up = CLEAR + node.run_head.height if node.run_head.rows else 1.0
    down = CLEAR + node.run_foot.height if node.run_foot.rows else 1.0
    if node.manner == "hub":
        return up, down
    if node.manner in ("beside", "into"):
        half = max(node.head.height + node.foot.height, node.symbol[1]) / 2
        return max(up, half), max(down, half)
    over, under = above(node, figures), below(node, figures)
    return max(up, over + TIGHT + node.head.height), max(down, under + TIGHT + node.foot.height)


def above(node: Node, figures: Figures) -> float:
    """How far a sign reaches above its line."""
    part = figures.asked.site.parts.get(node.name)
    sunlit = isinstance(part, Charger) and part.supply == "sun"
    return RAYS if sunlit else ABOVE.get(node.kind, ABOVE["device"])


def below(node: Node, figures: Figures) -> float:
    """How far a sign reaches below its line."""
    part = figures.asked.site.parts.get(node.name)
    isolated = isinstance(part, Converter) and part.isolated == "yes"
    return HANGING if isolated else BELOW.get(node.kind, BELOW["device"])
