"""What is fed, over which circuits, what a short circuit does to them, and the cases that were solved."""

from collections.abc import Iterator

from ...evidence.listing import case_rows
from ...evidence.views import DeviceView, RunView
from ...quantity.show import show, show_span
from ..asked import Asked
from ..document import Block, Heading, Table, Terms
from ..render.measure import NOTHING, area, figure, length
from .words import HEAD, SECTIONS


def loads(asked: Asked) -> Iterator[Block]:
    """Every device with its states, its window and the voltages that reach it."""
    views = asked.evidence.devices
    yield Heading(SECTIONS["loads"])
    raw = tuple(
        (
            v.name,
            v.fed_by,
            v.idle_w,
            max((d.power_w.high for d in v.device.draws), default=None),
            v.low_v,
            v.high_v,
            v.lowest.value if v.lowest else None,
            v.highest.value if v.highest else None,
            v.daily_wh,
        )
        for v in views
    )
    yield Table(
        "loads",
        HEAD["loads"],
        tuple(_load(v) for v in views),
        "lllrrrr",
        widths=(16, 14, 30, 15, 9, 9, 10),
        raw_head=(
            "device",
            "fed_by",
            "least_w",
            "most_w",
            "window_low_v",
            "window_high_v",
            "lowest_v",
            "highest_v",
            "daily_wh",
        ),
        raw=raw,
    )


def _load(view: DeviceView) -> tuple[str, ...]:
    states = []
    for draw in view.device.draws:
        power = show_span(draw.power_w, "power")
        brief = f" for {show(draw.seconds, 'time')}" if draw.seconds is not None else ""
        states.append(f"{draw.state} {power}{brief}".strip())
    window = show_span(view.device.input_v, "voltage") if view.device.input_v else NOTHING
    return (
        view.name,
        view.fed_by or NOTHING,
        "; ".join(states) or NOTHING,
        window,
        figure(view.lowest.value if view.lowest else None, "voltage"),
        figure(view.highest.value if view.highest else None, "voltage"),
        show(view.daily_wh, "energy"),
    )


def circuits(asked: Asked, terms: Terms) -> Iterator[Block]:
    """Every run with its wire, its fuse, what it may carry and what it carries."""
    views = asked.evidence.runs
    yield Heading(SECTIONS["circuits"])
    rows = tuple(
        (
            v.name,
            length(v.run.length_m, terms),
            wire_text(v, terms),
            fuse_text(v),
            figure(v.ampacity.value_a if v.ampacity else None, "current"),
            show(v.sustained.value, "current"),
            show(v.current.value, "current"),
            show(v.drop.value, "voltage"),
        )
        for v in views
    )
    raw = tuple(
        (
            v.name,
            v.run.length_m,
            v.wire.area_mm2 if v.wire else None,
            v.own_fuse.rating_a if v.own_fuse else None,
            v.ampacity.value_a if v.ampacity else None,
            v.sustained.value,
            v.current.value,
            v.drop.value,
        )
        for v in views
    )
    yield Table(
        "circuits",
        HEAD["circuits"],
        rows,
        "llllrrrr",
        widths=(24, 14, 13, 13, 9, 9, 9, 9),
        raw_head=("circuit", "length_m", "area_mm2", "fuse_a", "ampacity_a", "sustained_a", "peak_a", "drop_v"),
        raw=raw,
    )


def wire_text(view: RunView, terms: Terms) -> str:
    """The wire or network cable of a run in words."""
    if view.wire is None:
        return str(view.run.cable or view.run.origin_of("wire"))
    return area(view.wire.area_mm2, terms)


def fuse_text(view: RunView) -> str:
    """The fuse in a run as the builder named it."""
    return str(view.own_fuse.fuse) if view.own_fuse else NOTHING


def faults(asked: Asked) -> Iterator[Block]:
    """Prospective currents beside what the nearest fuse can break."""
    views = [view for view in asked.evidence.runs if view.fault_near or view.fault_far]
    yield Heading(SECTIONS["faults"])
    raw = tuple(
        (
            v.name,
            v.guard.rating_a if v.guard else None,
            breaks_a(v),
            v.fault_near.largest_a if v.fault_near else None,
            v.fault_far.smallest_a if v.fault_far else None,
            v.fault_near.limited_by if v.fault_near else None,
        )
        for v in views
    )
    rows = tuple(
        (
            name,
            _guard(view),
            figure(breaks, "current"),
            figure(near, "current"),
            figure(far, "current"),
            limited or NOTHING,
        )
        for view, (name, _, breaks, near, far, limited) in zip(views, raw, strict=True)
    )
    yield Table(
        "faults",
        HEAD["faults"],
        rows,
        "llrrrl",
        widths=(26, 26, 10, 13, 13, 12),
        raw_head=("circuit", "fuse_a", "breaks_a", "largest_near_a", "smallest_far_a", "limited_by"),
        raw=raw,
    )


def _guard(view: RunView) -> str:
    if view.guard is None:
        return NOTHING
    return str(view.guard.fuse) if view.guard.run == view.name else f"{view.guard.fuse} in {view.guard.run}"


def breaks_a(view: RunView) -> float | None:
    """What the fuse that guards a run can break at the voltage before it. [A]"""
    if view.guard is None or view.fault_near is None:
        return None
    return view.guard.fuse.breaking_capacity_a(view.fault_near.largest_v)


def cases(asked: Asked) -> Iterator[Block]:
    """Every case with the current of all batteries together."""
    rows = list(case_rows(asked.operation))
    yield Heading(SECTIONS["cases"])
    yield Table(
        "cases",
        HEAD["cases"],
        tuple(
            (r["name"], r["title"], show(r["battery_a"], "current"), "; ".join(r["events"]) or NOTHING) for r in rows
        ),
        "llrl",
        widths=(26, 42, 12, 20),
        raw_head=("case", "title", "battery_a", "events"),
        raw=tuple((r["name"], r["title"], r["battery_a"], "; ".join(r["events"])) for r in rows),
    )
