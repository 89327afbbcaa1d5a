"""Entry point: picks the command and imports only that one."""

import argparse
import gc
import os
import sys
from collections.abc import Sequence
from importlib import import_module

from .texts import ERRORS, HELP

COMMANDS = (
    "check", "list", "case", "explain", "rules", "netlist", "schema", "start", "sheets", "plan", "choose", "what-if",
    "weather", "season", "survive", "size", "shade", "heat", "bench", "readings", "diagnose", "learn",
    "page",
)  # fmt: skip
FINE, FAILS, UNUSABLE = 0, 1, 2


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command. Exit status: 0 fine, 1 something fails, 2 the input cannot be used."""
    gc.disable()  # a command ends before there is anything worth collecting
    _speak_utf8()
    words = list(sys.argv[1:] if arguments is None else arguments)
    try:
        return _run(words)
    except BrokenPipeError:
        sys.stdout = open(os.devnull, "w")  # noqa: SIM115 - the reader went away; nothing is left to say
        return FINE
    except KeyboardInterrupt:
        print(file=sys.stderr)
        return UNUSABLE
    except Exception as error:
        if os.environ.get("OHMSTEAD_TRACE"):
            raise
        print(ERRORS["inside"].format(reason=f"{type(error).__name__}: {error}"), file=sys.stderr)
        print(f"   mend   {ERRORS['inside-mend']}", file=sys.stderr)
        return UNUSABLE


def _run(words: list[str]) -> int:
    from ..site.problems import SiteError, render

    parser = build_parser(words[0] if words else "")
    options = parser.parse_args(words)
    if options.command is None:
        parser.print_help()
        return UNUSABLE
    module = import_module(f"{__package__}.{options.command.replace('-', '')}")
    try:
        return int(module.run(options))
    except SiteError as error:
        print(render(error.problems, error.text), file=sys.stderr)
        return UNUSABLE


def build_parser(wanted: str) -> argparse.ArgumentParser:
    """The parser; only the wanted command is imported, all when none is named."""
    parser = argparse.ArgumentParser(prog="ohmstead", description=HELP["program"])
    parser.add_argument("--version", action="version", version=_version())
    kinds = parser.add_subparsers(dest="command", metavar="command")
    for name in COMMANDS:
        command = kinds.add_parser(name, help=HELP[name], description=HELP[name])
        if name == wanted:
            import_module(f"{__package__}.{name.replace('-', '')}").declare(command)
    return parser


def _version() -> str:
    from .. import __version__

    return f"ohmstead {__version__}"


def _speak_utf8() -> None:
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(encoding="utf-8", errors="replace")
