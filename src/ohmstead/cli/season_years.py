"""What is told of years, priorities and the back-up source under `ohmstead season`."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from ..quantity.show import show
from .paper import Paper, columns
from .season_texts import MATTERS, YEARS

if TYPE_CHECKING:
    from ..season.enough import Enough
    from ..season.matters import Matters
    from ..season.spread import Spread
    from ..season.year import Summary

LEAST_TOLD = 1e-4


def percent(fraction: float) -> str:
    """A share, with more digits where it is small."""
    if 0.0 < fraction < LEAST_TOLD:
        return f"< {100 * LEAST_TOLD:.2f} %"
    return f"{100 * fraction:.1f} %" if fraction >= 0.0995 or fraction == 0.0 else f"{100 * fraction:.2f} %"


def kwh(energy_wh: float) -> str:
    """Energy in kWh, unit left out."""
    return f"{energy_wh / 1000:.2f}"


def more_figures(found: "Summary", enough: "Enough | None") -> Iterator[tuple[str, str]]:
    """Label and text of each further figure."""
    if enough is not None:
        yield YEARS["looks"], _looks(found, enough)
    elif found.n_year > 1:
        bad_least, bad_most = found.bad_years_fraction
        yield YEARS["good"], YEARS["good-text"].format(least=percent(1.0 - bad_most), most=percent(1.0 - bad_least),
                                                       sure=percent(found.confidence_fraction))  # fmt: skip
    if len(found.priorities) > 1:
        for one in found.priorities:
            yield (
                YEARS["priority"].format(n=one.priority),
                YEARS["priority-text"].format(
                    lacking=kwh(one.unserved_wh_a_day),
                    asked=kwh(one.asked_wh_a_day),
                    share=percent(one.unserved_fraction),
                ),
            )
    if found.backup is not None:
        use = found.backup
        text = YEARS["backup-text"].format(
            name=use.name, hours=round(use.hours), starts=round(use.starts_a_year), given=f"{use.given_wh / 1000:.1f}",
            share=percent(use.of_load_fraction), taken=f"{use.taken_wh / 1000:.1f}", source=YEARS[use.source],
        )  # fmt: skip
        yield YEARS["backup"], text + ("" if use.fuel_l is None else YEARS["fuel"].format(fuel=f"{use.fuel_l:.1f}"))


def _looks(found: "Summary", enough: "Enough") -> str:
    last, n_look = enough.looks[-1], len(enough.looks)
    looks = YEARS["once"] if n_look == 1 else YEARS["times"].format(n=n_look)
    shares = {
        "least": max(last.least_fraction, 0.0), "most": last.most_fraction, "goal": found.goal_fraction,
        "good_least": last.good_least_fraction, "good_most": last.good_most_fraction,
        "look": enough.look_confidence_fraction, "sure": found.confidence_fraction,
    }  # fmt: skip
    told = {name: percent(share) for name, share in shares.items()}
    words = YEARS["look-open" if last.verdict == "open" else "look-ends"]
    return words.format(n=last.n_year, looks=looks, verdict=YEARS.get(last.verdict, ""), **told)


def spread_lines(found: "Summary", sheet: Paper) -> Iterator[str]:
    """The table of how far the years lie apart; nothing for one year."""
    if not found.spread:
        return
    yield ""
    yield sheet.ink(YEARS["spread"], "strong")
    rows = [(one.name, *(_value(one, value) for value in (one.low, one.middle, one.high))) for one in found.spread]
    yield from columns(YEARS["spread-head"].split("|"), rows, right=(1, 2, 3))


def matters_lines(found: "Matters", sheet: Paper) -> Iterator[str]:
    """The ranking of what matters most."""
    yield ""
    title = MATTERS["title"].format(unserved=percent(found.unserved_fraction), lowest=percent(found.lowest_fraction))
    yield sheet.ink(title, "strong")
    rows = [(one.name, one.better, percent(one.unserved_better_fraction), percent(one.lowest_better_fraction),
             one.worse, percent(one.unserved_worse_fraction), percent(one.lowest_worse_fraction))
            for one in found.turns]  # fmt: skip
    yield from columns(MATTERS["head"].split("|"), rows, right=range(1, 7))


def _value(one: "Spread", value: float) -> str:
    if one.dimension == "share":
        return percent(value)
    if one.dimension == "energy":
        return f"{kwh(value)} {YEARS['energy']}"
    return f"{value:.0f}" if one.dimension == "count" else f"{show(value, 'number')} {YEARS['number']}"
