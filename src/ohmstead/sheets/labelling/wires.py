"""Flags for both ends of every piece of wire and every network cable, with the tags of the cut list."""

from collections.abc import Iterator

from ...evidence.views import RunView
from ..asked import Asked
from ..cutting.colours import colours_of
from ..cutting.order import size_name
from ..cutting.pieces import Piece, cable_pieces, wire_pieces
from . import words
from .formats import wrap_mm
from .label import Label, Words


def flags(asked: Asked) -> Iterator[Label]:
    """Two flags a piece, the near end first."""
    site = asked.site
    views = {view.run.number: view for view in asked.evidence.runs}
    for piece in (*wire_pieces(site, colours_of(site)), *cable_pieces(site)):
        for side, said in zip(("near", "far"), piece.labels, strict=True):
            here, arrow, there = _ends(piece, side)
            assert said == f"{piece.tag} {here} {arrow} {there}"
            yield Label(
                "wire",
                piece.tag,
                (
                    Words(piece.tag, 1.7, "bold", "whole"),
                    Words(here),
                    Words(f"{arrow} {there}"),
                    Words(fuse_words(piece, views.get(piece.run.number))),
                    Words(size_words(piece)),
                ),
                side,
                wrap_mm=wrap_mm(piece.run),
            )


def _ends(piece: Piece, side: str) -> tuple[str, str, str]:
    start, end = piece.start.at, piece.end.at
    return (start, "->", end) if side == "near" else (end, "<-", start)


def size_words(piece: Piece) -> str:
    """Wire size or cable."""
    return size_name(piece.wire) if piece.sign else str(piece.run.cable or piece.run.wire or words.CABLE)


def fuse_words(piece: Piece, view: RunView | None) -> str:
    """Its fuse, else the fuse it lies behind."""
    run = piece.run
    if run.carries == "data":
        return words.DATA
    if run.fuse is not None:
        return words.OWN_FUSE.format(fuse=run.fuse)
    if run.origin_of("fuse") == "choose":
        return words.OPEN_FUSE
    guard = view.guard if view is not None else None
    return words.BEHIND.format(fuse=guard.fuse) if guard is not None else words.UNFUSED
