"""`ohmstead shade FILE`: what trees, poles, walls and the skyline cost, by month and by hour of the day."""

import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

from ..site.model import Site
from ..site.place import Place
from ..site.problems import Problem, SiteError
from ..site.read import read_site
from .as_json import VERSION, dump
from .paper import Paper, columns, paper, wrapped
from .pictures import write_pictures
from .size import count
from .size_texts import SHADE
from .texts import HELP

if TYPE_CHECKING:
    from ..season.shading import Shading

FINE, UNUSABLE = 0, 2


def declare(parser: ArgumentParser) -> None:
    """Its arguments."""
    parser.add_argument("file", help=HELP["file"])
    parser.add_argument("--array", metavar="NAME", default="", help=SHADE["array"])
    parser.add_argument("--years", type=count, metavar="N", help=SHADE["years"])
    parser.add_argument("--csv", metavar="DIR", default="", help=SHADE["csv"])
    parser.add_argument("--pictures", metavar="DIR", default="", help=SHADE["pictures"])
    parser.add_argument("--png", action="store_true", help=SHADE["png"])
    parser.add_argument("--json", action="store_true", help=HELP["json"])
    parser.add_argument("--colour", choices=("auto", "always", "never"), default="auto", help=HELP["colour"])


def run(options: Namespace) -> int:
    """Tell what shade costs; 0, or 2 when it cannot be reckoned."""
    site = _checked(read_site(options.file), options.array)
    try:
        from ..season.reckon import with_years
        from ..season.shading import only, shading_of
        from ..sun.weather import read_hours

        site = with_years(only(site, options.array) if options.array else site, options.years)
        hours = read_hours(site)
        found = shading_of(site, hours)
        written = _write(site, hours, found, options)
    except ImportError as error:
        print(SHADE["needs"].format(name=error.name), file=sys.stderr)
        return UNUSABLE
    except OSError as error:
        print(SHADE["cannot-write"].format(file=error.filename, reason=error.strerror), file=sys.stderr)
        return UNUSABLE
    if options.json:
        print(dump(document(found, site.about.name)))
    else:
        print("\n".join(lines(found, site.about.name, paper(options.colour))))
        for name in written:
            print(SHADE["written"].format(file=name))
    return FINE


def _checked(site: Site, array: str) -> Site:
    place = Place(site.path, 0, 1, 0, 0)
    if not site.arrays:
        raise SiteError([Problem(place, SHADE["no-arrays"], SHADE["no-arrays-expected"], SHADE["no-arrays-mend"])])
    if array and array not in site.arrays:
        names = ", ".join(site.arrays)
        raise SiteError([Problem(place, SHADE["no-array"].format(name=array), names, SHADE["no-array-mend"])])
    return site


def _write(site: Site, hours: Any, found: "Shading", options: Namespace) -> list[str]:
    """The files asked for."""
    from ..season.day_picture import costs, day
    from ..season.sky_picture import sky

    written = []
    if options.csv:
        folder = Path(options.csv)
        folder.mkdir(parents=True, exist_ok=True)
        tables = {"shade-by-month.csv": found.table()}
        tables |= {f"day-{_slug(name)}.csv": found.day_table(name) for name in site.arrays}
        for name, table in tables.items():
            table.to_csv(folder / name, float_format="%.6g")
            written.append(str(folder / name))
    if options.pictures:
        made = {"shade.svg": costs(found, site.about.name)} if found.costs_wh else {}
        for name in site.arrays:
            made[f"sky-{_slug(name)}.svg"] = sky(site, name, hours)
            made[f"day-{_slug(name)}.svg"] = day(found, name, site.about.name)
        written += write_pictures(made, options.pictures, "png" if options.png else "svg")
    return written


def _slug(name: str) -> str:
    return "-".join("".join(sign if sign.isalnum() else " " for sign in name).split()) or "array"


def lines(found: "Shading", name: str, sheet: Paper) -> Iterator[str]:
    """The table in words."""
    yield sheet.rule("━")
    yield sheet.ink(name, "title")
    yield SHADE["title-one" if found.n_year == 1 else "title"].format(years=found.n_year)
    yield sheet.rule("━")
    if not found.costs_wh:
        yield SHADE["open"]
        return
    yield from wrapped(SHADE["costs"], 0)
    parts = {**found.costs_wh, SHADE["together"]: found.lost_wh}
    head = [SHADE["month-head"], SHADE["open-head"], *(text for label in parts for text in (label, ""))]
    table = found.table()
    rows = []
    for number, month in enumerate(table.index):
        row = [month, f"{table['open'].iloc[number]:.0f}"]
        for label, cost in parts.items():
            column = "together" if label == SHADE["together"] else label
            row += [f"{table[column].iloc[number]:.0f}", _percent(float(found.share(cost)[number]))]
        rows.append(row)
    whole = found.whole_year()
    rows.append([SHADE["year"], f"{whole['open'][0]:.0f}"])
    for label in parts:
        mean_wh, share = whole["together" if label == SHADE["together"] else label]
        rows[-1] += [f"{mean_wh:.0f}", _percent(share)]
    yield from columns(head, rows, right=range(1, len(head)))
    yield ""
    yield from wrapped(SHADE["overlap"], 0)


def _percent(share: float) -> str:
    return f"{100 * share:.1f} %"


def document(found: "Shading", name: str) -> dict[str, Any]:
    """The same for other programs."""
    return {
        "ohmstead_json": VERSION,
        "site": name,
        "n_year": found.n_year,
        "clock": found.clock,
        "open_wh": found.all_open_wh.tolist(),
        "lost_wh": found.lost_wh.tolist(),
        "costs_wh": {label: cost.tolist() for label, cost in found.costs_wh.items()},
        "days": {array: {"open_w": found.open_day_w[array].tolist(), "shaded_w": found.shaded_day_w[array].tolist()}
                 for array in found.open_wh},
    }  # fmt: skip
