"""Tables of the plate's sheets: parts and holes, wires, ducts."""

from ...plan.plan import Plan
from ...quantity.show import show
from ..asked import Asked
from ..cutting.lengths import both
from ..cutting.pieces import tag_of
from ..document import Table, Terms
from ..render.phrase import NO_BREAK
from . import words


def part_table(plan: Plan) -> Table:
    """Every part: where its corner is, its size, its holes."""
    printed, raw = [], []
    for stand in plan.stands:
        body = stand.body
        wide, high = body.size(stand.turns)
        corner = _spot(*stand.corner)
        mark = words.ASSUMED_MARK if "size" in body.assumed else ""
        holes = [(x - stand.corner[0], y - stand.corner[1]) for x, y in stand.holes()]
        told = "; ".join(_spot(x, y) for x, y in holes) or words.NONE
        turned = words.TURNED.format(deg=90 * stand.turns) if stand.turns else words.NONE
        drill = words.HOLE.format(diameter=body.hole) if holes else words.NONE
        printed.append((stand.name, corner, turned, f"{wide:g} x {high:g}{mark}", told, drill, f"{body.depth:g}"))
        raw.append(
            (stand.name, *stand.corner, 90 * stand.turns, wide, high, body.depth, body.hole)
            + ("; ".join(f"{x:g},{y:g}" for x, y in stand.holes()), " ".join(body.assumed))
        )
    widths = (0.18, 0.1, 0.08, 0.13, 0.36, 0.07, 0.08)
    return Table("plate-parts", words.PARTS_HEAD, tuple(printed), "lllllll", "", widths, words.PARTS_RAW, tuple(raw))


def _spot(right: float, down: float) -> str:
    """To the right and down, kept on one line."""
    return f"{right:g},{NO_BREAK}{down:g}"


def wire_table(plan: Plan, asked: Asked, terms: Terms) -> Table:
    """Every wire on the plate: how long by the plan, and what the file says."""
    printed, raw = [], []
    for led in plan.wires:
        run = led.link.cord.run
        inside = led.entries == ("", "")
        in_file = words.FROM_PLAN if run.origin_of("length_m") == "plan" else both(run.length_m, terms.units)
        ends = [entry or str(end) for entry, end in zip(led.entries, (run.start, run.end), strict=True)]
        printed.append(
            (
                tag_of(asked.site, run),
                *ends,
                f"{led.way_mm:.0f} mm",
                f"{led.rise_mm:.0f} mm",
                both(led.length_m, terms.units),
                in_file if inside else words.NONE,
            )
        )
        raw.append(
            (tag_of(asked.site, run), *ends, round(led.way_mm, 1), round(led.rise_mm, 1), round(led.length_m, 4))
            + (run.length_m, " ".join(entry for entry in led.entries if entry))
        )
    widths = (0.07, 0.19, 0.19, 0.11, 0.1, 0.17, 0.17)
    return Table("plate-wires", words.WIRES_HEAD, tuple(printed), "lllrrrr", "", widths, words.WIRES_RAW, tuple(raw))


def duct_table(plan: Plan) -> Table:
    """Every duct: where it lies, how long to cut it, how full it gets."""
    printed, raw = [], []
    for fill in plan.fills:
        duct = fill.duct
        edge = duct.box.top if duct.way == "level" else duct.box.left
        long = duct.ends[1] - duct.ends[0]
        section = f"{duct.width:g} x {duct.height:g}"
        where = words.DUCT_EDGE[duct.way].format(edge=edge)
        limit = show(plan.fill_limit, "share") + (f" ({plan.fill_named})" if plan.fill_named else "")
        printed.append((duct.name, where, f"{long:g}", section, show(fill.fraction, "share", 2), limit))
        raw.append((duct.name, duct.way, edge, long, duct.width, duct.height, round(fill.fraction, 4), plan.fill_limit))
    return Table("plate-ducts", words.DUCTS_HEAD, tuple(printed), "llrlrl", "", (), words.DUCTS_RAW, tuple(raw))
