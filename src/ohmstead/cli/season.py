"""`ohmstead season FILE`: whether sun and battery carry the load through the worst weeks."""

import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Iterator, Sequence
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, Any

from ..quantity.show import show
from ..site.read import read_site
from ..study import Study, season_findings
from ..tables.sources import source
from .as_json import VERSION, dump, finding_document
from .paper import Paper, columns, paper, wrapped
from .pictures import write_pictures
from .report import finding_lines
from .season_texts import MATTERS, YEARS
from .season_years import kwh as _kwh
from .season_years import matters_lines, more_figures, spread_lines
from .season_years import percent as _percent
from .size_texts import SIZE
from .texts import HELP, SEASON

if TYPE_CHECKING:
    from ..evidence.finding import Finding
    from ..season.enough import Enough
    from ..season.ledger import Ledger
    from ..season.matters import Matters
    from ..season.view import SeasonView
    from ..season.wear import Wear
    from ..season.year import Summary
    from ..site.model import Site

FINE, FAILS, UNUSABLE = 0, 1, 2
LONGEST_YEARS, TESTED_YEARS = 100.0, 15.0  # of the life of a battery: told at most, and believed


def declare(parser: ArgumentParser) -> None:
    """Its arguments."""
    parser.add_argument("file", help=HELP["file"])
    parser.add_argument("--years", type=_count, metavar="N|enough", help=SEASON["years"])
    parser.add_argument("--matters", action="store_true", help=MATTERS["matters"])
    parser.add_argument("--json", action="store_true", help=HELP["json"])
    parser.add_argument("--csv", metavar="DIR", help=SEASON["csv"])
    parser.add_argument("--pictures", metavar="DIR", help=SEASON["pictures"])
    parser.add_argument("--png", action="store_true", help=SIZE["png"])
    parser.add_argument("--colour", choices=("auto", "always", "never"), default="auto", help=HELP["colour"])


def _count(text: str) -> int:
    """Years; 0 stands for as many as are enough."""
    from argparse import ArgumentTypeError

    if text == "enough":
        return 0
    if not text.isdigit() or not 1 <= int(text) <= 1000:
        raise ArgumentTypeError(SEASON["years-bad"])
    return int(text)


def run(options: Namespace) -> int:
    """Reckon; 0 when the goal is met and no season rule fails, 2 when the season cannot be reckoned, else 1."""
    site = read_site(options.file)
    try:
        from ..season.enough import reckon_enough
        from ..season.reckon import reckon, with_years
        from ..season.view import view_of
    except ImportError as error:
        print(SEASON["needs"].format(name=error.name), file=sys.stderr)
        return UNUSABLE
    try:
        enough = reckon_enough(site) if options.years == 0 else None
        ledger = reckon(with_years(site, options.years)) if enough is None else enough.ledger
        view = view_of(site, ledger)
        findings = season_findings(site, view)
        ranked = _ranked(site, ledger) if options.matters else None
        written = _write(ledger, options)
    except ImportError as error:
        print(SEASON["needs"].format(name=error.name), file=sys.stderr)
        return UNUSABLE
    except OSError as error:
        print(SEASON["cannot-write"].format(file=error.filename, reason=error.strerror), file=sys.stderr)
        return UNUSABLE
    sheet = paper(options.colour)
    if options.json:
        found = [finding_document(finding) for finding in findings]
        looks = [asdict(look) for look in enough.looks] if enough is not None else []
        more: dict[str, Any] = {} if ranked is None else {"matters": asdict(ranked)}
        more |= {"looks": looks, "findings": found}
        print(dump(document(ledger, view.summary, site.about.name) | more))
    else:
        print("\n".join(lines(view, enough, sheet)))
        if ranked is not None:
            print("\n".join(matters_lines(ranked, sheet)))
        print("\n".join(told(Study(site), findings, sheet)))
        for name in written:
            print(SEASON["written"].format(file=name))
    grave = any(finding.severity in ("danger", "fails") and not finding.accepted for finding in findings)
    return FINE if view.summary.verdict == "met" and not grave else FAILS


def _ranked(site: "Site", ledger: "Ledger") -> "Matters":
    from ..season.matters import matters

    return matters(site, ledger)


def _write(ledger: "Ledger", options: Namespace) -> list[str]:
    """The files asked for."""
    written = []
    if options.csv:
        folder = Path(options.csv)
        folder.mkdir(parents=True, exist_ok=True)
        ledger.table().to_csv(folder / "hours.csv", float_format="%.6g")
        written.append(str(folder / "hours.csv"))
    if options.pictures:
        from ..season.pictures import pictures

        written += write_pictures(pictures(ledger), options.pictures, "png" if options.png else "svg")
    return written


def lines(view: "SeasonView", enough: "Enough | None", sheet: Paper) -> Iterator[str]:
    """The report in words."""
    ledger, found = view.ledger, view.summary
    yield sheet.rule("━")
    yield sheet.ink(view.site.about.name, "title")
    yield SEASON["years-line"].format(n=found.n_year, years="year" if found.n_year == 1 else "years")
    style = {"met": "fine", "missed": "fails", "open": "tight"}[found.verdict]
    yield sheet.ink(SEASON[found.verdict].format(goal=_percent(found.goal_fraction)), style)
    yield sheet.rule("━")
    for label, text in _figures(ledger, found):
        yield from _labelled(SEASON[label], text)
    for label, text in more_figures(found, enough):
        yield from _labelled(label, text)
    yield ""
    yield sheet.ink(_worst(found), "strong")
    backed = found.backup is not None
    rows = [(f"{d.year}-{d.month:02d}-{d.day:02d}", _kwh(d.harvest_wh), _kwh(d.asked_wh), _kwh(d.unserved_wh),
             _percent(d.lowest_fraction), *([_kwh(d.backup_wh)] if backed else [])) for d in found.worst]  # fmt: skip
    yield from columns(_head("worst-head", found), rows, right=range(1, 6))
    yield ""
    yield sheet.ink(SEASON["months"], "strong")
    months = [(m.name, _kwh(m.array_wh), _kwh(m.harvest_wh), _kwh(m.spilled_wh), _kwh(m.served_wh),
               _kwh(m.unserved_wh), _kwh(m.lost_wh), _percent(m.lowest_fraction),
               *([_kwh(m.backup_wh)] if backed else [])) for m in found.months]  # fmt: skip
    yield from columns(_head("months-head", found), months, right=range(1, 9))
    yield from spread_lines(found, sheet)
    yield ""
    yield sheet.ink(SEASON["taken"], "strong")
    for note in _behind(ledger, found):
        first, *rest = wrapped(note, 4)
        yield f"  - {first.strip()}"
        yield from rest


def _worst(found: "Summary") -> str:
    """Which fortnight is shown."""
    if any(day.unserved_wh > 0 for day in found.worst):
        return SEASON["worst-lack"]
    return YEARS["worst-backed"] if any(day.backup_wh > 0 for day in found.worst) else SEASON["worst-low"]


def _head(table: str, found: "Summary") -> list[str]:
    """Headings, with one for the back-up source where there is one."""
    return [*SEASON[table].split("|"), *([YEARS["given"]] if found.backup is not None else [])]


def _behind(ledger: "Ledger", found: "Summary") -> list[str]:
    wear = [SEASON["wear-by"].format(title=source(key).title) for key in found.wear.sources]
    return [*ledger.notes, *wear, *SEASON["not-modelled"].split("|")]


def told(study: Study, findings: "Sequence[Finding]", sheet: Paper) -> Iterator[str]:
    """What the season rules find, in words."""
    yield ""
    yield sheet.ink(SEASON["found" if findings else "nothing-found"], "strong")
    for finding in findings:
        yield ""
        yield from finding_lines(study, finding, sheet)


def _figures(ledger: "Ledger", found: "Summary") -> Iterator[tuple[str, str]]:
    least, most = found.bad_years_fraction
    yield "load", SEASON["load-text"].format(day=_kwh(found.asked_wh_a_day), idle=_percent(found.idle_fraction),
                                             idle_w=show(ledger.loads.idle_w, "power"),
                                             way=_percent(found.way_fraction))  # fmt: skip
    yield "harvest", SEASON["harvest-text"].format(day=_kwh(found.harvest_wh_a_day),
                                                   spilled=_percent(found.spilled_fraction),
                                                   lost=_percent(found.lost_fraction))  # fmt: skip
    sure = "" if found.n_year < 4 else SEASON["sure"].format(
        most=_percent(found.most_unserved_fraction), sure=_percent(found.confidence_fraction))  # fmt: skip
    yield "unserved", _percent(found.unserved_fraction) + sure
    yield "hours", SEASON["hours-text"].format(hours=round(found.dark_h))
    if found.n_year > 1:
        yield "bad", SEASON["bad-text"].format(bad=found.n_bad_year, n=found.n_year, goal=_percent(found.goal_fraction),
                                               least=_percent(least), most=_percent(most),
                                               sure=_percent(found.confidence_fraction))  # fmt: skip
    yield "battery", SEASON["battery-text" if found.full_days_a_year > 0 else "battery-never"].format(
        full=_kwh(ledger.bank.full_wh), days=f"{found.autonomy_days:.1f}", lowest=_percent(found.lowest_fraction),
        n_full=round(found.full_days_a_year), run=found.longest_not_full_days)  # fmt: skip
    if ledger.rules.cut_wh > ledger.rules.floor_wh:
        yield "cut", SEASON["cut-text"].format(off=_percent(ledger.rules.cut_wh / ledger.bank.full_wh),
                                               on=_percent(ledger.rules.back_wh / ledger.bank.full_wh))  # fmt: skip
    yield "wear", _wear(found.wear)


def _wear(wear: "Wear") -> str:
    endless = wear.life_years == float("inf")
    life = LONGEST_YEARS if endless else wear.life_years
    years = SEASON["wear-most" if life > TESTED_YEARS else "wear-years"].format(
        years=round(life) if life > 9.5 else f"{life:.1f}")  # fmt: skip
    return SEASON["wear-long" if endless else "wear-text"].format(
        cycles=round(wear.n_full_cycle), deepest=_percent(wear.deepest_fraction), life=years,
        first=_percent(wear.first_year_fraction), age=_percent(wear.calendar_fraction))  # fmt: skip


def _labelled(label: str, text: str) -> Iterator[str]:
    first, *rest = wrapped(text, 22)
    yield f"{label:<22}{first.strip()}"
    yield from rest


def document(ledger: "Ledger", found: "Summary", name: str) -> dict[str, Any]:
    """The summary for other programs."""
    figures = asdict(found)
    return {
        "ohmstead_json": VERSION, "site": name, **figures,
        "bank": {"full_wh": ledger.bank.full_wh, "chemistry": ledger.bank.chemistry, "cut_wh": ledger.rules.cut_wh,
                 "back_wh": ledger.rules.back_wh, "floor_wh": ledger.rules.floor_wh},
        "load_w_by_device": dict(ledger.loads.by_device_w), "idle_w": ledger.loads.idle_w,
        "notes": _behind(ledger, found),
    }  # fmt: skip
