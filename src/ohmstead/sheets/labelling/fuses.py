"""Labels for the ways of fuse blocks and for fuses in line."""

from collections.abc import Iterator

from ...quantity.show import show
from ...site.kinds import Distribution
from ..asked import Asked
from ..cutting.pieces import tag_of
from ..fuse_schedule import fuse_name, where
from ..oneline.names import Names
from ..owner.fuses import not_under_load
from ..schedule.circuits import Circuit, circuits, in_words, ways_of
from . import words
from .label import Label, Words


def fuses(asked: Asked, names: Names) -> Iterator[Label]:
    """One label for every way, used or spare, then one for every fuse in line or on a terminal."""
    found = circuits(asked)
    arcing = {view.run.number for view in not_under_load(asked.evidence)}
    for part in asked.site.parts.values():
        if isinstance(part, Distribution):
            for way in range(1, ways_of(part, found) + 1):
                on_it = [c for c in found if (c.block, c.way) == (part.name, way)]
                yield _way(asked, (part.name, way), on_it, names, arcing)
    for circuit in found:
        if not circuit.block:
            yield _in_line(asked, circuit, names, arcing)


def _way(asked: Asked, at: tuple[str, int], found: list[Circuit], names: Names, arcing: set[int]) -> Label:
    tag = f"{at[0]} / {at[1]}"
    if not found:
        return Label("way", tag, (Words(words.SPARE, 1.2), Words(at[0], 0.8)), sign=str(at[1]))
    said: list[Words] = []
    for circuit in found:
        said += [Words(in_words(asked.site, circuit.run), 1.1, "bold"), *_fuse(circuit, arcing)]
    tags = ", ".join(tag_of(asked.site, circuit.run) for circuit in found)
    foot = Words(words.WAY_FOOT.format(block=at[0], tag=tags), 0.85)
    return Label("way", tag, (*said, foot), "", str(at[1]), names.run_id(found[0].run))


def _in_line(asked: Asked, circuit: Circuit, names: Names, arcing: set[int]) -> Label:
    tag = tag_of(asked.site, circuit.run)
    fuse, *more = _fuse(circuit, arcing)
    said = (
        Words(words.FUSE_HEAD.format(tag=tag, fuse=fuse.text), 1.1, "bold"),
        *more,
        Words(in_words(asked.site, circuit.run)),
        Words(where(circuit), 0.85),
    )
    return Label("fuse", tag, said, anchor=names.run_id(circuit.run))


def _fuse(circuit: Circuit, arcing: set[int]) -> Iterator[Words]:
    """Rating and kind, the voltage that must stand on it, and whether it may be pulled under load."""
    fuse = circuit.run.fuse
    name = fuse_name(circuit)
    volts = "" if fuse is None else show(fuse.family.rated_v, "voltage")
    yield Words(words.RATED.format(fuse=name, volts=volts) if volts else name)
    if circuit.run.number in arcing:
        yield Words(words.NOT_UNDER_LOAD, 1.0, "bold")
