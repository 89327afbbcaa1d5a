"""`ohmstead page [FILE or FOLDER]`: the local page, in the browser of this machine or of a phone."""

import sys
from argparse import ArgumentParser, Namespace
from pathlib import Path

from .texts import PAGE

UNUSABLE = 2


def declare(parser: ArgumentParser) -> None:
    """Its arguments."""
    parser.add_argument("where", nargs="?", default=".", help=PAGE["where"])
    parser.add_argument("--port", type=int, default=0, help=PAGE["port"])
    parser.add_argument("--listen", metavar="ADDRESS", default="127.0.0.1", help=PAGE["listen"])
    parser.add_argument("--quiet", action="store_true", help=PAGE["quiet"])


def run(options: Namespace) -> int:
    """Serve until stopped; 2 when there is nothing to serve or no port."""
    where = Path(options.where)
    if not where.exists():
        print(PAGE["nothing"].format(where=where), file=sys.stderr)
        return UNUSABLE
    try:
        from ..web.serve import NoPort, listen, offer, run
    except ModuleNotFoundError as missing:
        print(f"{missing}\n   mend   {PAGE['needs']}", file=sys.stderr)
        return UNUSABLE
    folder, file = (where, "") if where.is_dir() else (where.parent, where.name)
    try:
        sock = listen(options.listen, options.port)
    except NoPort as fault:
        print(PAGE["no-port"].format(reason=fault), file=sys.stderr)
        return UNUSABLE
    application, pairing, hosts = offer(folder, sock)
    path = f"s/{file}" if file else ""
    if pairing.token:
        print(PAGE["open-to-others"].format(address=options.listen), file=sys.stderr)
        path = f"pair?code={pairing.new_code()}"
    address = f"http://{hosts[0] if not pairing.token else hosts[-1]}/{path}"
    print(PAGE["address"].format(address=address), flush=True)
    if not options.quiet:
        import webbrowser

        webbrowser.open(address)
    run(application, sock)
    return 0
