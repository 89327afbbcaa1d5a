"""`ohmstead heat FILE`: how warm each cabinet gets, what would cool it, and what it leaves open decided."""

import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from ..choose.cabinet.decide import Decision, decisions
from ..site.edit import EditRefused, replace_value, save
from ..site.read import read_text
from ..study import Study, open_site
from .as_json import dump
from .heat_texts import HEAT
from .heat_words import document, lines
from .paper import paper
from .texts import HELP

if TYPE_CHECKING:
    from ..choose.cabinet.years import Years
    from ..evidence.cabinets import CabinetView

FINE, FAILS, UNUSABLE = 0, 1, 2


def declare(parser: ArgumentParser) -> None:
    """Its arguments."""
    parser.add_argument("file", help=HELP["file"])
    parser.add_argument("--years", action="store_true", help=HEAT["years"])
    parser.add_argument("--pictures", metavar="DIR", help=HEAT["pictures"])
    parser.add_argument("--write", action="store_true", help=HEAT["write"])
    parser.add_argument("--json", action="store_true", help=HELP["json"])
    parser.add_argument("--colour", choices=("auto", "always", "never"), default="auto", help=HELP["colour"])


def run(options: Namespace) -> int:
    """Tell; 0 when every part stays within its limit, 1 when one does not, 2 when it cannot be told."""
    study = open_site(options.file)
    if not study.site.cabinets:
        print(HEAT["none"].format(file=options.file), file=sys.stderr)
        return UNUSABLE
    views = study.evidence.cabinets
    found = {view.name: decisions(view) for view in views}
    years = {}
    if options.years:
        if study.site.weather is None:
            print(HEAT["no-weather"], file=sys.stderr)
            return UNUSABLE
        try:
            years = _years(study, views)
        except ImportError as missing:
            print(HEAT["needs"].format(name=missing.name), file=sys.stderr)
            return UNUSABLE
    if options.json:
        print(dump(document(study, found, years)))
    else:
        for view in views:
            print("\n".join(lines(study, view, found[view.name], years.get(view.name), paper(options.colour))))
    try:
        for name in _pictures(study, options.pictures):
            print(HEAT["written"].format(file=name), file=sys.stderr)
    except OSError as error:
        print(HEAT["cannot-write"].format(file=error.filename, reason=error.strerror), file=sys.stderr)
        return UNUSABLE
    decided = [decision for of_box in found.values() for decision in of_box if decision.chosen]
    if decided and options.write:
        return _write(options.file, study, decided)
    if decided and not options.json:
        print(HEAT["hint"].format(file=options.file))
    passed = any(limit.limit_c < view.climate.local_air[limit.name].high for view in views for limit in view.limits)
    return FAILS if passed else FINE


def _years(study: Study, views: "tuple[CabinetView, ...]") -> "dict[str, Years]":
    from ..choose.cabinet.years import years_of

    return {view.name: years_of(study.operation.site, view) for view in views}


def _pictures(study: Study, where: str | None) -> Iterator[str]:
    if not where:
        return
    from ..sheets.boxed.pictures import pictures

    folder = Path(where)
    folder.mkdir(parents=True, exist_ok=True)
    for view in study.evidence.cabinets:
        for name, text in pictures(view).items():
            (folder / name).write_text(text, encoding="utf-8")
            yield str(folder / name)


def _write(file: str, study: Study, decided: list[Decision]) -> int:
    """Put the choices where `choose` stands, the last in the file first, so that places stay right."""
    text = study.site.text
    try:
        for decision in sorted(decided, key=lambda decision: decision.place.start, reverse=True):
            text = replace_value(text, decision.place, decision.chosen)
        read_text(text, file)
        save(file, study.site.text, text)
    except EditRefused as fault:
        print(HEAT["changed-while"].format(reason=fault), file=sys.stderr)
        return UNUSABLE
    print(HEAT["written"].format(file=file), file=sys.stderr)
    return FINE
