"""Looks for the few faults that explain the readings best: one more at a time, several ways kept open.

All suspects are screened at once with the straight line of a state; the best ones are weighed exactly. While
screening, a large residual counts as less exact, since the supply with the fault is not the one that was
linearised. Suspects whose effects on the readings are parallel are weighed from one solution.
"""

from collections.abc import Iterator

import numpy as np

from ..site.record import record
from .watched import Floats
from .weigh import Fault, State, gains, weigh

BLUR_FRACTION = 0.15  # of a residual, while screening
PARALLEL = 0.9995  # cosine of two effects, in units of what the readings can tell
MOST_FAULTS = 3
WAYS = 3  # states that are carried on with one more fault
FIRST_CLASSES, MORE_CLASSES, MOST_ALIKE = 7, 4, 8
HOPELESS = -4.0  # a further fault that raises the weight by less than e to this is not weighed
FAR = 12.0  # and a state that is so much less likely than the best is not carried on


@record(frozen=True)
class Screened:
    """Suspects whose effects are parallel, best first: index, size, and log gain with its odds."""

    members: tuple[tuple[int, int, float], ...]

    @property
    def score(self) -> float:
        """The best member's."""
        return self.members[0][2]


def search(roots: tuple[State, ...]) -> tuple[State, ...]:
    """Every state that was weighed, likeliest first. `roots` hold no suspect: as written, or with circuits swapped."""
    found = {root.key: root for root in roots}
    front = sorted(roots, key=lambda s: -s.log_weight)[:WAYS]
    for depth in range(MOST_FAULTS):
        for state in front:
            for child in _children(state, FIRST_CLASSES if depth == 0 else MORE_CLASSES):
                known = found.get(child.key)
                if known is None or child.log_weight > known.log_weight:
                    found[child.key] = child
        best = max(state.log_weight for state in found.values())
        deeper = [s for s in found.values() if len(s.faults) == depth + 1 and s.log_weight > best - FAR]
        front = sorted(deeper, key=lambda s: -s.log_weight)[:WAYS]
        if not front:
            break
    for state in _exchanged(max(found.values(), key=lambda s: s.log_weight)):
        if state.key not in found or state.log_weight > found[state.key].log_weight:
            found[state.key] = state
    return tuple(sorted(found.values(), key=lambda s: -s.log_weight))


def _children(state: State, n_class: int) -> Iterator[State]:
    for screened in screen(state)[:n_class]:
        if state.faults and screened.score < HOPELESS:
            break
        first: State | None = None
        for suspect, size, score in screened.members[:MOST_ALIKE]:
            if first is not None and score < screened.score - 5.0:
                break
            child = weigh(state.ground, (*state.faults, Fault(suspect, size)), first or state)
            first = first or child
            yield child


def _exchanged(best: State) -> Iterator[State]:
    """Each fault of the best state looked for anew: the first was found while the others were missing."""
    if len(best.faults) < 2:
        return
    for fault in best.faults:
        rest = weigh(best.ground, tuple(f for f in best.faults if f is not fault), best)
        yield rest
        yield from _children(rest, 2)


def screen(state: State) -> list[Screened]:
    """All further suspects, those of parallel effect together, best first."""
    white, target = _blurred(state)
    taken = {fault.suspect for fault in state.faults}
    a = np.einsum("ij,ij->j", white, white)
    b = white.T @ target
    scored = []
    for j, suspect in enumerate(state.ground.suspects):
        if j in taken or a[j] <= 0.0:
            continue
        logs = gains(suspect, float(a[j]), float(b[j]))
        top = float(np.max(logs))
        gain = top + float(np.log(np.sum(np.exp(logs - top)))) + float(np.log(suspect.odds))
        scored.append((j, int(np.argmax(logs)), gain))
    scored.sort(key=lambda entry: -entry[2])
    return _classes(scored[:120], white / np.sqrt(np.maximum(a, 1e-300)))


def _classes(scored: list[tuple[int, int, float]], unit: Floats) -> list[Screened]:
    found: list[list[tuple[int, int, float]]] = []
    for entry in scored:
        for members in found:
            if abs(float(unit[:, members[0][0]] @ unit[:, entry[0]])) > PARALLEL:
                members.append(entry)
                break
        else:
            found.append([entry])
    return [Screened(tuple(members)) for members in found]


def _blurred(state: State) -> tuple[Floats, Floats]:
    """Effects of all suspects and the residual, whitened with large residuals counted as less exact."""
    ground, inner = state.ground, state.inner
    lower = np.linalg.inv(inner.whitener)
    covariance = lower @ lower.T
    covariance[np.diag_indices_from(covariance)] += (BLUR_FRACTION * inner.residual) ** 2
    blurred = np.linalg.cholesky(covariance)
    both = np.column_stack([ground.columns(inner.slopes), inner.residual])
    solved = np.linalg.solve(blurred, both)
    return np.asarray(solved[:, :-1], dtype=np.float64), np.asarray(solved[:, -1], dtype=np.float64)
