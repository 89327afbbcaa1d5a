"""The same sweep on many machines: pieces are sent to the workers of a Dask scheduler.

The scheduler keeps what makes the scene, so that a worker that comes late, or in place of one that died, gets it too.
"""

import re
import threading
from collections.abc import Sequence
from pickle import dumps, loads
from typing import Any
from warnings import catch_warnings, filterwarnings

from ..sun.hours import FloatArray
from .scene import Scene, version
from .sweep import Done, Engine, Harvests, Piece, reckon_piece

PATIENCE_S = 15
_here = threading.Lock()
_last: tuple[str, Harvests, Scene] | None = None


class ClusterError(RuntimeError):
    """A cluster that cannot do the sweep; the message says why."""


def cluster(address: str) -> Engine:
    """An engine that reckons on the cluster whose scheduler has this address, such as tcp://10.0.0.5:8786."""

    def engine(scene: Scene, pieces: Sequence[Piece]) -> Done:
        from distributed import Client, as_completed

        if not re.fullmatch(r"(tcp|tls)://\S+:\d+", address):
            raise ClusterError(f"{address} is no address of a scheduler: write it as tcp://10.0.0.5:8786")
        try:
            client = Client(address, timeout=PATIENCE_S, set_as_default=False)
        except (OSError, ValueError, TimeoutError) as fault:
            raise ClusterError(f"no scheduler answers at {address} ({type(fault).__name__})") from None
        with client:
            _check(client, address)
            mark = scene.mark()
            with catch_warnings():
                filterwarnings("ignore", "Sending large graph")  # it is sent once, as it must be
                whole = client.submit(bytes, dumps(scene, protocol=5), key=f"scene-{mark}", retries=3)
            ahead = [client.submit(_piece, whole, mark, piece, key=f"piece-{mark}-{hash_of(piece)}", retries=3)
                     for piece in pieces]  # fmt: skip
            try:
                for future, found in as_completed(ahead, loop=client.loop, with_results=True):
                    number, rows = found
                    future.release()
                    yield number, rows
            finally:
                client.cancel(ahead)

    return engine


def hash_of(piece: Piece) -> str:
    """A name of a piece that no other has."""
    from hashlib import sha256

    return sha256(dumps((piece.number, piece.facing, piece.size, piece.first, *(a.tobytes() for a in piece[4:])),
                        protocol=5)).hexdigest()[:24]  # fmt: skip


def _check(client: Any, address: str) -> None:
    """There must be workers, and they must have our version."""
    try:
        known = client.run(version)
    except Exception as fault:
        raise ClusterError(f"a worker at {address} cannot run this program: {fault}") from None
    if not known:
        raise ClusterError(f"the scheduler at {address} has no workers")
    others = {found for found in known.values() if found != version()}
    if others:
        raise ClusterError(f"workers have version {', '.join(sorted(others))}, here is {version()}")


def _piece(whole: bytes, mark: str, piece: Piece) -> tuple[int, FloatArray]:
    """One piece, on a worker; the scene is unpacked once and its harvests kept."""
    global _last
    with _here:
        if _last is None or _last[0] != mark:
            scene: Scene = loads(whole)
            _last = (mark, Harvests(scene), scene)
        _, harvests, scene = _last
    return piece.number, reckon_piece(scene, piece, harvests.at(piece.facing, piece.size))
