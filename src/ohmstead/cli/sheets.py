"""`ohmstead sheets FILE`: write the sheets to build from."""

import os
import sys
from argparse import ArgumentParser, Namespace
from difflib import get_close_matches
from pathlib import Path
from typing import TYPE_CHECKING

from .. import open as open_site
from ..sheets import catalogue
from ..sheets.document import Document, Terms
from ..sheets.render.frame import NOT_FIT, frame_of
from ..sheets.render.pack import FORMS, missing, pack
from ..sheets.render.style import PAGE_MM
from ..study import Study
from .refusal import Refused
from .texts import HELP, SHEETS

if TYPE_CHECKING:
    from ..choose.worth import Stock

UNUSABLE = 2


def declare(parser: ArgumentParser) -> None:
    """Its arguments."""
    parser.add_argument("file", help=HELP["file"])
    parser.add_argument("--out", metavar="DIR", default="sheets", help=SHEETS["out"])
    parser.add_argument("--only", metavar="NAME", nargs="+", default=[], help=SHEETS["only"])
    parser.add_argument("--as", metavar="FORMS", dest="forms", default="", help=SHEETS["as"])
    parser.add_argument("--date", default="", help=SHEETS["date"])
    parser.add_argument("--revision", default="", help=SHEETS["revision"])
    parser.add_argument("--paper", choices=tuple(PAGE_MM), default="A4", help=SHEETS["paper"])
    parser.add_argument("--prices", metavar="LIST", default="", help=SHEETS["prices"])
    parser.add_argument("--units", choices=("metric", "imperial"), default="metric", help=SHEETS["units"])
    parser.add_argument("--anonymous", action="store_true", help=SHEETS["anonymous"])


def run(options: Namespace) -> int:
    """Write the sheets and say what was written; a site that fails its check gets them too, marked."""
    try:
        forms, left_out = forms_of(options.forms)
        _check_date(options.date)
        study = open_site(options.file)
        terms = Terms(
            options.date,
            options.revision,
            "anonymous" if options.anonymous else "named",
            options.paper,
            options.units,
            _prices(options.prices),
        )
        if options.anonymous:
            study = study.nameless()
        files = pack(study, terms, _documents(study, terms, options.only), forms)
        write_files(files, Path(options.out), Path(options.file))
    except Refused as refusal:
        problem, mend = refusal.args
        print(f"{problem}\n   mend   {mend}", file=sys.stderr)
        return UNUSABLE
    _say(study, terms, files, options.out)
    for form, package in left_out.items():
        print(SHEETS["left-out"].format(form=form, package=package))
    return 0


def forms_of(text: str) -> tuple[tuple[str, ...], dict[str, str]]:
    """The forms to write, and those that were not asked for by name and cannot be made here. Raises Refused."""
    wanted = tuple(dict.fromkeys(form.strip().lower() for form in text.split(",") if form.strip()))
    for form in wanted:
        if form not in FORMS:
            raise Refused(SHEETS["no-form"].format(form=form), SHEETS["no-form-mend"].format(forms=",".join(FORMS)))
    lacking = missing(wanted or FORMS)
    if wanted and lacking:
        form, package = next(iter(lacking.items()))
        raise Refused(SHEETS["missing"].format(form=form, package=package), SHEETS["missing-mend"])
    return tuple(form for form in wanted or FORMS if form not in lacking), lacking


def _prices(path: str) -> "Stock | None":
    """The price list in a file; None when none is named."""
    if not path:
        return None
    from ..choose.prices import read_prices

    try:
        return read_prices(path)
    except ModuleNotFoundError:
        raise Refused(SHEETS["no-workbook"], SHEETS["no-workbook-mend"]) from None


def _check_date(text: str) -> None:
    from datetime import date

    try:
        if text:
            date.fromisoformat(text)
    except ValueError:
        raise Refused(SHEETS["bad-date"].format(date=text), SHEETS["bad-date-mend"]) from None


def _documents(study: Study, terms: Terms, only: list[str]) -> tuple[Document, ...]:
    names = [name for word in only for name in word.split(",") if name]
    for name in names:
        if name not in catalogue.sheet_names():
            known = catalogue.sheet_names()
            near = get_close_matches(name, known, 2) or known
            raise Refused(SHEETS["no-sheet"].format(name=name), SHEETS["no-sheet-mend"].format(names=", ".join(near)))
    return catalogue.draw_all(study, terms, names)


def write_files(files: dict[str, bytes], folder: Path, site_file: Path) -> None:
    """Every file whole or not at all; only inside the folder, and never over the site file. Raises Refused."""
    where = folder
    try:
        taken = site_file.resolve()
        for name, data in files.items():
            where = folder / name
            if where.resolve() == taken:
                raise Refused(SHEETS["own-file"].format(file=where), SHEETS["own-file-mend"])
            where.parent.mkdir(parents=True, exist_ok=True)
            half = where.with_name(f".{where.name}.half")
            half.write_bytes(data)
            os.replace(half, where)
    except OSError as error:
        raise Refused(
            SHEETS["cannot-write"].format(file=where, reason=error.strerror), SHEETS["cannot-write-mend"]
        ) from None


def _say(study: Study, terms: Terms, files: dict[str, bytes], out: str) -> None:
    frame = frame_of(study, terms)
    if frame.reasons:
        print(SHEETS["marked"].format(mark=NOT_FIT))
        print("\n".join(f"  - {reason}" for reason in frame.reasons))
    print(SHEETS["wrote"].format(count=len(files), out=out))
    print("\n".join(f"  {name}" for name in files))
