"""`ohmstead size FILE`: which array with which battery keeps the goal, and which of them costs least."""

import sys
from argparse import ArgumentParser, Namespace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from ..quantity.faults import QuantityError
from ..site.read import read_site
from .as_json import dump
from .paper import paper
from .pictures import write_pictures
from .progress import watch
from .size_texts import SIZE
from .texts import HELP

if TYPE_CHECKING:
    from ..choose.recommend import Recommendation

FINE, FAILS, UNUSABLE = 0, 1, 2


def declare(parser: ArgumentParser) -> None:
    """Its arguments."""
    parser.add_argument("file", help=HELP["file"])
    for name in ("array", "battery", "tilt", "azimuth", "cut"):
        parser.add_argument(f"--{name}", metavar="LIST", default="", help=SIZE[name])
    parser.add_argument("--planes", type=count, metavar="N", default=0, help=SIZE["planes"])
    parser.add_argument("--turn", metavar="NAME", default="", help=SIZE["turn"])
    parser.add_argument("--controller", choices=("grows", "stays"), default="grows", help=SIZE["controller"])
    parser.add_argument("--years", type=count, metavar="N", help=SIZE["years"])
    parser.add_argument("--prices", metavar="LIST", default="", help=SIZE["prices"])
    parser.add_argument("--resume", metavar="FILE", default="", help=SIZE["resume"])
    parser.add_argument("--scheduler", metavar="ADDRESS", default="", help=SIZE["scheduler"])
    parser.add_argument("--csv", metavar="FILE", default="", help=SIZE["csv"])
    parser.add_argument("--parquet", metavar="FILE", default="", help=SIZE["parquet"])
    parser.add_argument("--pictures", metavar="DIR", default="", help=SIZE["pictures"])
    parser.add_argument("--png", action="store_true", help=SIZE["png"])
    parser.add_argument("--json", action="store_true", help=HELP["json"])
    parser.add_argument("--colour", choices=("auto", "always", "never"), default="auto", help=HELP["colour"])


def count(text: str) -> int:
    """A number of years, or of facings."""
    from argparse import ArgumentTypeError

    if not text.isdigit() or not 1 <= int(text) <= 1000:
        raise ArgumentTypeError(SIZE["bad-count"])
    return int(text)


def run(options: Namespace) -> int:
    """Size; 0 when a design keeps the goal, 1 when none does, 2 when it cannot be reckoned."""
    site = read_site(options.file)
    try:
        return _run(options, site)
    except ImportError as error:
        key = "needs-cluster" if error.name in ("distributed", "dask") else "needs"
        print(SIZE[key].format(name=error.name), file=sys.stderr)
    except QuantityError as error:
        print(f"{error.problem}\n   expected  {error.expected}\n   mend      {error.mend}", file=sys.stderr)
    except BrokenPipeError:
        raise  # the reader went away, which `main` knows
    except OSError as error:
        print(SIZE["cannot-write"].format(file=error.filename, reason=error.strerror), file=sys.stderr)
    return UNUSABLE


def _run(options: Namespace, site: Any) -> int:
    from ..choose.prices import read_prices
    from ..choose.recommend import recommend
    from ..season.asked import Wish
    from ..season.keep import KeepError
    from ..season.reckon import with_years
    from ..season.sweep import Engine, Stopped, here
    from .size_report import document, lines

    engine: Engine = here
    faults: tuple[type[Exception], ...] = (KeepError,)
    if options.scheduler:
        from ..season.cluster import ClusterError, cluster

        engine, faults = cluster(options.scheduler), (KeepError, ClusterError)
    wish = Wish(options.array, options.battery, options.tilt, options.azimuth, options.cut, options.planes)
    prices = read_prices(options.prices) if options.prices else None
    try:
        found = recommend(site=with_years(site, options.years), wish=wish, turned=options.turn,
                          manner=options.controller, prices=prices, run=(options.resume, engine, watch))  # fmt: skip
    except Stopped as stop:
        key = "stopped-kept" if options.resume else "stopped"
        print(file=sys.stderr)
        print(SIZE[key].format(done=stop.n_done, pieces=stop.n_piece, file=options.resume), file=sys.stderr)
        return UNUSABLE
    except faults as fault:
        print(fault, file=sys.stderr)
        return UNUSABLE
    written = _write(found, options)
    if options.json:
        print(dump(document(found)))
    else:
        print("\n".join(lines(found, paper(options.colour))))
        for name in written:
            print(SIZE["written"].format(file=name))
    return FINE if found.chosen else FAILS


def _write(found: "Recommendation", options: Namespace) -> list[str]:
    """The files asked for."""
    written = []
    for name in (options.csv, options.parquet):
        if name:
            Path(name).parent.mkdir(parents=True, exist_ok=True)
    if options.csv:
        found.sizing.swept.table().to_csv(options.csv, index=False, float_format="%.6g")
        written.append(options.csv)
    if options.parquet:
        found.sizing.swept.table().to_parquet(options.parquet, index=False)
        written.append(options.parquet)
    if options.pictures:
        from ..choose.recommend import ledger_of
        from ..choose.size_picture import size_map
        from ..season.pictures import pictures
        from ..season.tilt_picture import tilt_map

        made = {"sizes.svg": size_map(found.sizing)}
        if found.tilts is not None:
            site = found.scene.site
            made["tilts.svg"] = tilt_map(found.tilts, site.about.name, found.scene.facing[0])
        if found.chosen:
            made |= {f"chosen-{name}": text for name, text in pictures(ledger_of(found.sizing, found.chosen)).items()}
        written += write_pictures(made, options.pictures, "png" if options.png else "svg")
    return written
