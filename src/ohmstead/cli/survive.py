"""`ohmstead survive FILE`: what to switch off to come through the worst days with what there is."""

import sys
from argparse import ArgumentParser, ArgumentTypeError, Namespace
from collections.abc import Iterator
from dataclasses import asdict
from typing import TYPE_CHECKING

from ..site.read import read_site
from .as_json import VERSION, dump
from .paper import Paper, columns, paper, wrapped
from .season_texts import SURVIVE
from .season_years import kwh, percent
from .texts import HELP, SEASON

if TYPE_CHECKING:
    from ..season.ledger import Ledger
    from ..season.survive import Survival

FINE, FAILS, UNUSABLE = 0, 1, 2


def declare(parser: ArgumentParser) -> None:
    """Its arguments."""
    parser.add_argument("file", help=HELP["file"])
    parser.add_argument("--days", type=_days, default=7, metavar="N", help=SURVIVE["days"])
    parser.add_argument("--years", type=_years, metavar="N", help=SEASON["years"])
    parser.add_argument("--json", action="store_true", help=HELP["json"])
    parser.add_argument("--colour", choices=("auto", "always", "never"), default="auto", help=HELP["colour"])


def _days(text: str) -> int:
    if not text.isdigit() or not 1 <= int(text) <= 60:
        raise ArgumentTypeError(SURVIVE["days-bad"])
    return int(text)


def _years(text: str) -> int:
    if not text.isdigit() or not 1 <= int(text) <= 1000:
        raise ArgumentTypeError(SEASON["years-bad"])
    return int(text)


def run(options: Namespace) -> int:
    """Tell what to switch off; 0 when it can be survived, 1 when not, 2 when the season cannot be reckoned."""
    site = read_site(options.file)
    try:
        from ..season.reckon import reckon, with_years
        from ..season.survive import survive

        site = with_years(site, options.years)
        ledger = reckon(site)
        found = survive(site, ledger, options.days)
    except ImportError as error:
        print(SEASON["needs"].format(name=error.name), file=sys.stderr)
        return UNUSABLE
    if options.json:
        first, last = (_day(ledger, hour) for hour in (found.stretch.first, found.stretch.last - 1))
        print(dump({"ohmstead_json": VERSION, "site": site.about.name, "n_day": options.days,
                    "first_day": first, "last_day": last, **asdict(found)}))  # fmt: skip
    else:
        print("\n".join(lines(found, ledger, options.days, site.about.name, paper(options.colour))))
    return FAILS if found.verdict == "impossible" else FINE


def lines(found: "Survival", ledger: "Ledger", n_day: int, name: str, sheet: Paper) -> Iterator[str]:
    """The answer in words."""
    yield sheet.rule("━")
    yield sheet.ink(name, "title")
    stretch = found.stretch
    yield from wrapped(SURVIVE["stretch"].format(
        days=n_day, n=ledger.hours.n_year, first=_day(ledger, stretch.first), last=_day(ledger, stretch.last - 1),
        lead=round(stretch.days)), 0)  # fmt: skip
    yield sheet.rule("━")
    style = {"nothing": "fine", "possible": "strong", "impossible": "fails"}[found.verdict]
    text = SURVIVE[found.verdict].format(lowest=percent(found.lowest_fraction), left=kwh(found.left_wh))
    yield from (sheet.ink(line, style) for line in wrapped(text, 0))
    if found.verdict == "nothing":
        return
    yield ""
    rows = [(str(one.priority), one.device, SURVIVE["held"].format(state=one.state) if one.state else SURVIVE["off"],
             f"{kwh(one.kept_back_wh)} kWh", f"{kwh(one.saved_wh)} kWh") for one in found.measures]  # fmt: skip
    yield from columns(SURVIVE["head"].split("|"), rows, right=(0, 3, 4))
    yield ""
    kept = SURVIVE["kept"].format(names=", ".join(found.kept)) if found.kept else SURVIVE["kept-none"]
    before = SURVIVE["before"].format(lacking=kwh(found.lacking_wh), left=kwh(found.left_wh),
                                      lowest=percent(found.lowest_fraction))  # fmt: skip
    anyway = [SURVIVE["anyway"].format(names=", ".join(found.anyway))] if found.anyway else []
    for text in (kept, *anyway, before, *([SURVIVE[found.how]] if found.verdict == "possible" else [])):
        yield from wrapped(text, 0)
    if len(ledger.loads.by_priority_w) < 2:
        yield from wrapped(SURVIVE["all-alike"], 0)


def _day(ledger: "Ledger", hour: int) -> str:
    """The day of an hour of the ledger, as year-month-day."""
    from ..season.year import calendar_days

    month, day = calendar_days()
    number = (hour // 24) % 365
    return f"{int(ledger.hours.year[hour])}-{int(month[number]) + 1:02d}-{int(day[number]):02d}"
