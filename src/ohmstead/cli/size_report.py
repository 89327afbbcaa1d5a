"""What `ohmstead size` tells, in words and as JSON."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import asdict
from typing import Any

from ..choose.recommend import Recommendation
from ..choose.sizing import Pick
from ..quantity.show import show
from ..season import thumb
from ..season.year import MONTHS
from .as_json import VERSION
from .paper import Paper, columns, wrapped
from .size_texts import SIZE

MOST_LINES = 12


def lines(found: Recommendation, sheet: Paper) -> Iterator[str]:
    """The report in words."""
    sizing, scene, swept = found.sizing, found.scene, found.sizing.swept
    yield sheet.rule("━")
    yield sheet.ink(scene.site.about.name, "title")
    yield from wrapped(_title(found), 0)
    goal = sizing.goal
    yield SIZE["asked"].format(goal=_percent(goal.unserved_fraction), sure=_percent(goal.confidence_fraction))
    yield sheet.rule("━")
    if swept.n_year < 4:
        yield from wrapped(SIZE["few-years"], 0)
    if found.chosen is None:
        least = sizing.pick(int(swept.unserved_fraction.argmin()))
        yield sheet.ink(SIZE["none"], "fails")
        yield from wrapped(SIZE["none-mend"].format(least=_percent(least.unserved_fraction), array=_array(least),
                                                    battery=_battery(least)), 0)  # fmt: skip
    else:
        yield sheet.ink(SIZE["frontier"], "strong")
        yield from _picks(found, _fewer(found.frontier))
        if found.cheapest:
            yield ""
            yield sheet.ink(SIZE["cheapest"], "strong")
            yield from _picks(found, found.cheapest)
        yield ""
        yield from _chosen(found, sheet)
    yield ""
    yield sheet.ink(SIZE["more"], "strong")
    yield from _one_more(found)
    yield from _beside(found, sheet)


def _title(found: Recommendation) -> str:
    swept, scene = found.sizing.swept, found.scene
    arrays, banks = (sorted(set(values.tolist())) for values in (swept.array_w, swept.battery_ah))
    more = SIZE["facings"].format(n=len(swept.offer.facings)) if len(swept.offer.facings) > 1 else ""
    more += SIZE["cuts"].format(n=len(swept.offer.cuts)) if len(swept.offer.cuts) > 1 else ""
    years = SIZE["one-year"] if scene.hours.n_year == 1 else SIZE["years-of"].format(n=scene.hours.n_year)
    return SIZE["title"].format(
        n=swept.offer.n_design,
        years=years,
        arrays=SIZE["arrays"].format(low=show(arrays[0], "power", 2), high=show(arrays[-1], "power", 2)),
        banks=SIZE["banks"].format(low=show(banks[0], "charge", 2), high=show(banks[-1], "charge", 2)),
        more=more,
    )


def _picks(found: Recommendation, picks: Sequence[Pick]) -> Iterator[str]:
    """A line a pick; facing, thresholds and cost only where they are not the same for all, or not known."""
    offer, scene = found.sizing.swept.offer, found.scene
    cells: list[tuple[str, Callable[[Pick], str]]] = [
        ("battery", lambda pick: show(pick.battery_ah, "charge")),
        ("", lambda pick: show(pick.battery_wh, "energy")),
        ("array", _array),
    ]
    if scene.turned:
        cells += [("tilt", lambda pick: _angle(pick.tilt_deg)), ("azimuth", lambda pick: _angle(pick.azimuth_deg))]
    if len(offer.cuts) > 1:
        cells += [
            ("opens", lambda pick: show(pick.off_v, "voltage")),
            ("closes", lambda pick: show(pick.on_v, "voltage")),
        ]
    cells += [
        ("unserved", lambda pick: _percent(pick.unserved_fraction)),
        ("surely", lambda pick: _percent(pick.most_unserved_fraction)),
        ("dark", lambda pick: f"{pick.dark_h:.0f}"),
        ("lowest", lambda pick: _percent(pick.lowest_fraction)),
        ("not-full", lambda pick: str(pick.longest_not_full_days)),
        ("spilled", lambda pick: _percent(pick.spilled_fraction)),
    ]
    if picks and picks[0].cost is not None:
        cells.append(("cost", lambda pick: f"{pick.cost:.0f}"))
    head = [SIZE[f"head-{name}"] if name else "" for name, _ in cells]
    yield from columns(head, [[tell(pick) for _, tell in cells] for pick in picks], right=range(len(cells)))


def _fewer(picks: Sequence[Pick]) -> Sequence[Pick]:
    """At most so many lines, ends among them."""
    n = len(picks)
    if n <= MOST_LINES:
        return picks
    return [picks[round(i * (n - 1) / (MOST_LINES - 1))] for i in range(MOST_LINES)]


def _chosen(found: Recommendation, sheet: Paper) -> Iterator[str]:
    pick, full = found.chosen, found.in_full
    assert pick is not None and full is not None
    yield sheet.ink(SIZE[f"chosen-{found.by}"], "strong")
    facing = SIZE["in-full-facing"].format(tilt=_angle(pick.tilt_deg), azimuth=_angle(pick.azimuth_deg))
    text = SIZE["in-full"].format(
        array=_array(pick), battery=_battery(pick), facing=facing if found.scene.turned else "",
        unserved=_percent(full.unserved_fraction), dark=round(full.dark_h), lowest=_percent(full.lowest_fraction),
        full=round(full.full_days_a_year))  # fmt: skip
    yield from wrapped(text, 2)
    key = f"controller-{found.scene.manner}"
    yield from wrapped(SIZE[key].format(amps=show(pick.controller_a, "current"),
                                        now=show(found.one_more[0].controller_a, "current")), 2)  # fmt: skip


def _one_more(found: Recommendation) -> Iterator[str]:
    now, module, battery = found.one_more
    rows = []
    for pick, text in ((now, "as-is"), (module, "more-module"), (battery, "more-battery")):
        label = SIZE[text].format(array=_array(pick), battery=_battery(pick))
        rows.append((label, _percent(pick.unserved_fraction), f"{pick.dark_h:.0f}", _percent(pick.lowest_fraction),
                     str(pick.longest_not_full_days)))  # fmt: skip
    yield from columns(SIZE["more-head"].split("|"), rows, right=range(1, 5))


def _beside(found: Recommendation, sheet: Paper) -> Iterator[str]:
    """Best tilt, the usual arithmetic, what stands behind it all."""
    tilts, usual, scene = found.tilts, found.usual, found.scene
    if tilts is not None:
        yield ""
        yield sheet.ink(SIZE["tilt-title"], "strong")
        best, now = tilts.best, tilts.nearest(scene.facing[0])
        dark = tilts.cover[best].min() < 0.01
        text = SIZE["tilt-dark" if dark else "tilt-text"].format(
            tilt=_angle(tilts.tilts_deg[best]), azimuth=_angle(tilts.azimuth_deg),
            month=MONTHS[tilts.worst_month(best)], cover=_percent(tilts.cover[best].min()),
            now=_percent(tilts.cover[now].min()), worst=MONTHS[tilts.worst_month(now)],
            year=_angle(tilts.tilts_deg[tilts.best_of_year]))  # fmt: skip
        yield from wrapped(text, 2)
    elif len(scene.site.arrays) > 1:
        yield ""
        yield from wrapped(SIZE["tilt-which"].format(arrays=", ".join(scene.site.arrays)), 0)
    yield ""
    yield sheet.ink(SIZE["usual"], "strong")
    text = SIZE["usual-dark" if usual.sun_h < 0.05 else "usual-text"].format(
        load=show(usual.load_wh_a_day, "energy"), month=usual.month, sun=f"{usual.sun_h:.2f}",
        tilt=_angle(usual.tilt_deg), days=f"{usual.autonomy_days:g}", depth=_percent(usual.depth_fraction),
        battery=show(usual.battery_wh, "energy"), margin=f"{thumb.MARGIN:g}",
        array=show(usual.array_w, "power", 2))  # fmt: skip
    yield from wrapped(text, 2)
    yield ""
    yield sheet.ink(SIZE["taken"], "strong")
    for note in (SIZE["note-half"], SIZE[f"note-{scene.manner}"], SIZE["note-field"], SIZE["note-new"], *scene.notes):
        first, *rest = wrapped(note, 4)
        yield f"  - {first.strip()}"
        yield from rest


def _array(pick: Pick) -> str:
    return show(pick.array_w, "power", 2)


def _battery(pick: Pick) -> str:
    return show(pick.battery_ah, "charge", 2)


def _angle(degrees: float) -> str:
    return f"{degrees:.3g}°"


def _percent(fraction: float) -> str:
    if fraction - fraction != 0.0:
        return "–"
    return f"{100 * fraction:.1f} %" if fraction >= 0.0995 or fraction == 0.0 else f"{100 * fraction:.2f} %"


def document(found: Recommendation) -> dict[str, Any]:
    """The same for other programs."""
    sizing, scene, tilts = found.sizing, found.scene, found.tilts
    return {
        "ohmstead_json": VERSION,
        "site": scene.site.about.name,
        "n_design": sizing.swept.offer.n_design,
        "n_year": scene.hours.n_year,
        "goal_fraction": sizing.goal.unserved_fraction,
        "confidence_fraction": sizing.goal.confidence_fraction,
        "controller": scene.manner,
        "currency": sizing.prices.currency if sizing.prices else "",
        "frontier": [asdict(pick) for pick in found.frontier],
        "cheapest": [asdict(pick) for pick in found.cheapest],
        "chosen": asdict(found.chosen) if found.chosen else None,
        "chosen_by": found.by if found.chosen else "",
        "in_full": asdict(found.in_full) if found.in_full else None,
        "one_more": {name: asdict(pick) for name, pick in
                     zip(("as_is", "module", "battery"), found.one_more, strict=True)},
        "tilts": None if tilts is None else {
            "azimuth_deg": tilts.azimuth_deg, "tilt_deg": tilts.tilts_deg.tolist(),
            "harvest_wh_a_day": tilts.harvest_wh_a_day.tolist(), "load_wh_a_day": tilts.load_wh_a_day.tolist(),
            "best_deg": float(tilts.tilts_deg[tilts.best]), "worst_month": MONTHS[tilts.worst_month(tilts.best)],
            "best_of_year_deg": float(tilts.tilts_deg[tilts.best_of_year])},
        "usual": asdict(found.usual),
        "notes": list(scene.notes),
    }  # fmt: skip
