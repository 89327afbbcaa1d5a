"""A sweep: every design of an offer run through the same years of hours, piece by piece, here or on a cluster.

A piece is a stretch of designs that share one harvest. What comes of a design does not depend on the piece it is in,
nor on who reckons it, so that a sweep that was stopped and resumed, or whose workers died, ends in the same figures.
"""

import threading
import time
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, Future, ThreadPoolExecutor, wait
from dataclasses import dataclass, replace
from os import cpu_count
from typing import NamedTuple

import numpy as np

from ..sun.hours import FloatArray
from ..sun.planes import Facing
from .designs import Mixes, Offer, mixes_of
from .keep import Keep
from .lanes import LANES, N_SUM, Designs, sweep
from .reckon import rules_of
from .scene import Scene, cut_of, harvest_at
from .swept import Swept

PIECE = 100_000_000  # hours of designs in a piece: about a fifth of a second


class Piece(NamedTuple):
    """A stretch of designs that share one harvest; sizes, banks and cuts of shape (n_design,)."""

    number: int
    facing: Facing
    size: float  # of the arrays, where controllers stay as they are; 1.0 where they grow
    first: int
    arrays: FloatArray
    banks: FloatArray
    cuts: FloatArray
    backs: FloatArray


@dataclass(frozen=True, slots=True)
class Progress:
    """How far a sweep is. left_s: about how long it still takes, None before that can be told."""

    n_done: int
    n_piece: int
    left_s: float | None


Watch = Callable[[Progress], None]
Done = Iterator[tuple[int, FloatArray]]
Engine = Callable[[Scene, Sequence[Piece]], Done]


class Stopped(Exception):
    """A sweep that was stopped; what was finished is kept where a file was named."""

    def __init__(self, n_done: int, n_piece: int) -> None:
        super().__init__(f"stopped with {n_done} of {n_piece} pieces done")
        self.n_done, self.n_piece = n_done, n_piece


def pieces_of(scene: Scene, offer: Offer) -> tuple[Mixes, list[Piece]]:
    """The designs of an offer and the pieces they are reckoned in."""
    mixes = mixes_of(offer)
    sizes = np.asarray(offer.arrays)[mixes.array]
    banks = np.asarray(offer.banks)[mixes.bank]
    table = np.array([[cut_of(scene, bank, cut) for cut in offer.cuts] for bank in offer.banks])
    thresholds = table[mixes.bank, mixes.cut]
    stays = scene.manner == "stays"
    group = mixes.facing * len(offer.arrays) + mixes.array if stays else mixes.facing
    edges = np.flatnonzero(np.diff(group, prepend=-1, append=group[-1] + 1))
    most = max(1, PIECE // scene.hours.n_hour // LANES) * LANES
    found: list[Piece] = []
    for begin, end in zip(edges[:-1], edges[1:], strict=True):
        for first in range(int(begin), int(end), most):
            cut = slice(first, min(first + most, int(end)))
            size = float(sizes[first]) if stays else 1.0
            arrays = np.ones(cut.stop - first) if stays else sizes[cut]
            found.append(Piece(len(found), offer.facings[mixes.facing[first]], size, first, arrays, banks[cut],
                               thresholds[cut, 0], thresholds[cut, 1]))  # fmt: skip
    return mixes, found


def reckon_piece(scene: Scene, piece: Piece, harvest_w: FloatArray) -> FloatArray:
    """What the designs of a piece come to, shape (11 + n_year, n_design); see `swept.Swept.rows`."""
    mine = replace(scene.drive, harvest_w=harvest_w)
    rules = rules_of(scene.bank, scene.loads, scene.start_fraction)
    most = np.full(piece.arrays.size, 1e12)
    outcome = sweep(mine, rules, Designs(piece.arrays, piece.banks, most, piece.cuts, piece.backs))
    whole = harvest_w.sum() * piece.arrays
    return np.ascontiguousarray(np.concatenate([outcome.sums, whole[None], outcome.by_year_wh]))


class Harvests:
    """Harvests by facing and size, each reckoned once; the last few are kept. For several threads at once."""

    def __init__(self, scene: Scene, n_kept: int = 4) -> None:
        self._scene, self._n_kept = scene, n_kept
        self._lock = threading.Lock()
        self._kept: dict[tuple[Facing, float], Future[FloatArray]] = {}

    def at(self, facing: Facing, size: float) -> FloatArray:
        """The harvest of a facing and size."""
        key = (facing, size)
        with self._lock:
            found = self._kept.get(key)
            mine = found is None
            if found is None:
                while len(self._kept) >= self._n_kept:
                    del self._kept[next(iter(self._kept))]
                found = self._kept[key] = Future()
        if mine:
            try:
                found.set_result(harvest_at(self._scene, facing, size))
            except BaseException as fault:
                found.set_exception(fault)
                raise
        return found.result()


def here(scene: Scene, pieces: Sequence[Piece]) -> Done:
    """Reckon pieces on all cores of this machine; the compiled code lets several threads run at once."""
    harvests = Harvests(scene)
    n_thread = cpu_count() or 1
    with ThreadPoolExecutor(n_thread) as pool:
        ahead: dict[Future[FloatArray], int] = {}
        waiting = iter(pieces)
        try:
            while True:
                while len(ahead) < 2 * n_thread and (piece := next(waiting, None)) is not None:
                    ahead[pool.submit(_one, scene, piece, harvests)] = piece.number
                if not ahead:
                    return
                for future in wait(ahead, return_when=FIRST_COMPLETED).done:
                    yield ahead.pop(future), future.result()
        finally:
            pool.shutdown(wait=False, cancel_futures=True)


def _one(scene: Scene, piece: Piece, harvests: Harvests) -> FloatArray:
    return reckon_piece(scene, piece, harvests.at(piece.facing, piece.size))


def run_sweep(scene: Scene, offer: Offer, keep: str = "", engine: Engine = here, watch: Watch | None = None) -> Swept:
    """Run every design of an offer through the years of a scene.

    keep: a file that holds what is finished; a sweep begun there goes on. watch: called after every piece; when it
    raises KeyboardInterrupt, or the keyboard does, the sweep ends with Stopped. Raises KeepError for a file that
    holds something else.
    """
    mixes, pieces = pieces_of(scene, offer)
    rows = np.empty((N_SUM + 1 + scene.hours.n_year, offer.n_design))
    store = Keep(keep, f"{scene.mark()} {offer!r}") if keep else None
    done = store.done() if store else {}
    try:
        left = []
        for piece in pieces:
            if piece.number in done:
                rows[:, piece.first : piece.first + piece.arrays.size] = done[piece.number]
            else:
                left.append(piece)
        begun = time.monotonic()
        n_done, n_before = len(pieces) - len(left), len(pieces) - len(left)
        try:
            for number, found in engine(scene, left) if left else ():
                if store:
                    store.add(number, found)
                first = pieces[number].first
                rows[:, first : first + found.shape[1]] = found
                n_done += 1
                if watch:
                    each_s = (time.monotonic() - begun) / (n_done - n_before)
                    watch(Progress(n_done, len(pieces), each_s * (len(pieces) - n_done)))
        except KeyboardInterrupt:
            raise Stopped(n_done, len(pieces)) from None
    finally:
        if store:
            store.close()
    return Swept(scene, offer, mixes, rows)
