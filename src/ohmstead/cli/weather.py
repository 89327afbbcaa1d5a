"""`ohmstead weather FILE`: what weather the site has; `--fetch` gets true years from an open service."""

import sys
from argparse import ArgumentParser, Namespace
from dataclasses import asdict
from pathlib import Path
from typing import Any

from ..quantity.show import show
from ..site.model import Site
from ..site.read import read_site
from .as_json import VERSION, dump
from .paper import columns, paper, wrapped
from .texts import HELP, WEATHER

UNUSABLE = 2


def declare(parser: ArgumentParser) -> None:
    """Its arguments."""
    parser.add_argument("file", help=HELP["file"])
    parser.add_argument("--fetch", action="store_true", help=WEATHER["fetch"])
    parser.add_argument("--from", type=int, dest="first", metavar="YEAR", default=2010, help=WEATHER["from"])
    parser.add_argument("--to", type=int, dest="last", metavar="YEAR", default=2020, help=WEATHER["to"])
    parser.add_argument("--folder", default="", help=WEATHER["folder"])
    parser.add_argument("--json", action="store_true", help=HELP["json"])
    parser.add_argument("--colour", choices=("auto", "always", "never"), default="auto", help=HELP["colour"])


def run(options: Namespace) -> int:
    """Show the weather, or fetch some; 2 when it cannot be used."""
    site = read_site(options.file)
    try:
        if options.fetch:
            return _fetch(site, options)
        document = _document(site)
    except ModuleNotFoundError as error:
        print(WEATHER["needs"].format(package=error.name), file=sys.stderr)
        return UNUSABLE
    if options.json:
        print(dump(document))
        return 0
    sheet = paper(options.colour)
    for number, line in enumerate(_lines(document)):
        print(sheet.ink(line, "strong") if number == 0 else line)
    return 0


def _fetch(site: Site, options: Namespace) -> int:
    from ..sun import fetch

    about = site.about
    if about.latitude is None or about.longitude is None:
        print(f"{WEATHER['no-place']}\n   mend   {WEATHER['no-place-mend']}", file=sys.stderr)
        return UNUSABLE
    folder = Path(options.folder) if options.folder else Path(options.file).parent / "weather"
    years = (options.first, options.last)
    path = fetch.fetch_weather(about.latitude, about.longitude, years, folder, fetch.SERVICE,
                             lambda text: print(text, file=sys.stderr))  # fmt: skip
    try:
        shown = path.resolve().relative_to(Path(options.file).resolve().parent).as_posix()
    except ValueError:
        shown = str(path)
    print(WEATHER["fetched"].format(file=shown))
    return 0


def _document(site: Site) -> dict[str, Any]:
    """Everything that is shown, as data."""
    from ..sun.months import months_of, years_of
    from ..sun.weather import holds_series, read_given, read_hours

    head: dict[str, Any] = {"ohmstead_json": VERSION, "site": site.about.name, "file": site.path}
    if site.weather is not None and site.weather.file and holds_series(site):
        given = read_given(site)
        assert given is not None
        hours = given.hours
        head |= {"kind": given.kind, "mean": {name: float(v.mean()) for name, v in given.by_array.items()}}
        months: list[dict[str, Any]] = []
        years: list[dict[str, Any]] = []
    else:
        hours = read_hours(site)
        months = [asdict(month) for month in months_of(hours)]
        years = [{"year": year, "sun_wh_per_m2": sun.tolist()} for year, sun in years_of(hours)]
        head["kind"] = "weather"
    return head | {
        "latitude": hours.latitude, "longitude": hours.longitude, "elevation_m": hours.elevation_m,
        "timezone": hours.timezone, "n_year": hours.n_year, "first_year": int(hours.year[0]), "months": months,
        "years": years, "notes": list(hours.notes),
    }  # fmt: skip


def _lines(document: dict[str, Any]) -> list[str]:
    title = WEATHER["one-year" if document["n_year"] == 1 else "years"].format(**document)
    lines = [title, ""]
    if document["kind"] == "weather":
        rows = [_row(month) for month in document["months"]]
        lines += columns(WEATHER["head"].split("|"), rows, right=range(1, 8))
        lines += ["", *wrapped(WEATHER["legend"], 0)]
    else:
        lines += [WEATHER[document["kind"]].format(name=name or WEATHER["all"], mean=show(mean, "power"))
                  for name, mean in document["mean"].items()]  # fmt: skip
    lines += ["", WEATHER["notes"]]
    for note in document["notes"]:
        first, *rest = wrapped(note, 4)
        lines += ["  - " + first.strip(), *rest]
    return lines


def _row(month: dict[str, Any]) -> tuple[str, ...]:
    sun = [show(month[name], "daily sun") for name in ("sun_wh_per_m2", "dimmest_wh_per_m2", "brightest_wh_per_m2")]
    air = [show(month[name], "temperature") for name in ("air_c", "coldest_c", "hottest_c")]
    return (WEATHER["months"].split()[month["number"] - 1], *sun, *air, str(month["n_dim"]))
