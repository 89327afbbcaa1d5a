"""Looks for the few faults that explain the readings best: one more at a time, several ways kept open.

All suspects are screened at once with the straight line of a state; the best ones are weighed exactly. While
screening, a large residual counts as less exact, since the supply with the fault is not the one that was
linearised. Suspects whose effects on the readings are parallel are weighed from one solution.
"""

from collections.abc import Iterable, Iterator

import numpy as np

from ..site.record import record
from .bounded import corrections
from .watched import Floats
from .weigh import Fault, State, gains, misfit_deviations, weigh

BLUR_FRACTION = 0.15  # of a residual, while screening
PARALLEL = 0.9995  # cosine of two effects, in units of what the readings can tell
MOST_FAULTS, MOST_EXCHANGES = 3, 3
WAYS = 3  # states that are carried on with one more fault
MOST_TOP, NEAR_TOP = 6, 3.0  # states of which every parallel one is weighed
FIRST_CLASSES, MORE_CLASSES, MOST_SCREENED = 7, 4, 120
MOST_ALIKE, FEW_READINGS = 8, 200  # of few readings more suspects are parallel, and each is weighed quickly
CLEAR = 5.0  # where one fault raises the weight so much, those that raise it by nothing are not weighed
FITS, BEHIND = 4.0, 8.0  # once one fits the readings, those so far behind it are not weighed
HOPELESS_SWAP = 300.0  # log fit by which swapped circuits may be behind before further faults are added to them
HOPELESS = -5.5  # a further fault that raises the weight by less than e to this is not weighed
FAR, FAR_FITTING = 12.0, 4.0  # a state so much less likely than the best is not carried on; less, when that one fits


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
            if state is not front[0] and _beaten(state, found.values()):
                continue
            for child in _children(state, FIRST_CLASSES if depth == 0 else MORE_CLASSES):
                known = found.get(child.key)
                if known is None or child.log_weight > known.log_weight:
                    found[child.key] = child
        best = max(found.values(), key=lambda s: s.log_weight)
        far = FAR_FITTING if misfit_deviations(best.inner) < FITS else FAR
        deeper = [s for s in found.values() if len(s.faults) == depth + 1 and s.log_weight > best.log_weight - far]
        front = sorted(deeper, key=lambda s: -s.log_weight)[:WAYS]
        if not front:
            break
    tried: set[object] = set()
    for _ in range(MOST_EXCHANGES):
        best_state = max(found.values(), key=lambda s: s.log_weight)
        if best_state.key in tried:
            break
        tried.add(best_state.key)
        for state in _exchanged(best_state):
            if state.key not in found or state.log_weight > found[state.key].log_weight:
                found[state.key] = state
    top = sorted(found.values(), key=lambda s: -s.log_weight)
    for state in [s for s in top[:MOST_TOP] if s.log_weight > top[0].log_weight - NEAR_TOP]:
        for sibling in _siblings(state):
            found.setdefault(sibling.key, sibling)
    return tuple(sorted(found.values(), key=lambda s: -s.log_weight))


def _beaten(state: State, found: Iterable[State]) -> bool:
    """A supply with circuits swapped that explains nothing by itself, while another state already fits."""
    if state.faults:
        return False
    fitting = [other for other in found if misfit_deviations(other.inner) < FITS]
    return any(state.log_fit < other.log_fit - HOPELESS_SWAP for other in fitting)


def _children(state: State, n_class: int) -> Iterator[State]:
    classes = screen(state)[:n_class]
    least = HOPELESS if state.faults else 0.0 if classes[0].score > CLEAR else -np.inf
    fits = False
    for screened in classes:
        if screened.score < least or (fits and screened.score < classes[0].score - BEHIND):
            break
        first: State | None = None
        n_alike = MOST_ALIKE + FEW_READINGS // len(state.inner.residual)
        for suspect, size, score in screened.members[:n_alike]:
            if first is not None and score < screened.score - 5.0:
                break
            child = weigh(state.ground, (*state.faults, Fault(suspect, size)), first or state)
            first = first or child
            fits = fits or (misfit_deviations(child.inner) < FITS and state.ground.suspects[suspect].column >= 0)
            yield child


def _exchanged(best: State) -> Iterator[State]:
    """Each fault of the best state looked for anew: the first was found while the others were missing."""
    if len(best.faults) < 2:
        return
    for fault in best.faults:
        rest = weigh(best.ground, tuple(f for f in best.faults if f is not fault), best)
        yield rest
        yield from _children(rest, 2)


def _siblings(state: State) -> Iterator[State]:
    """The state with one fault exchanged for another of parallel effect, so that no such suspect is left out."""
    ground = state.ground
    white = np.linalg.solve(np.linalg.cholesky(state.inner.covariance), ground.columns(state.inner.slopes))
    norms = np.sqrt(np.maximum(np.einsum("ij,ij->j", white, white), 1e-300))
    taken = {fault.suspect for fault in state.faults}
    for fault in state.faults:
        cosines = np.abs(white[:, fault.suspect] @ white) / norms / norms[fault.suspect]
        parallel = [
            int(j) for j in np.argsort(-cosines)[:MOST_SCREENED] if cosines[j] > PARALLEL and int(j) not in taken
        ]
        effect = ground.suspects[fault.suspect].sizes[fault.size] * norms[fault.suspect]
        for j in parallel[:MOST_ALIKE]:
            sizes = ground.suspects[j].sizes
            near = int(np.argmin(np.abs(np.abs(sizes * norms[j]) - abs(effect))))
            kept = tuple(f for f in state.faults if f is not fault)
            yield weigh(ground, (*kept, Fault(j, near)), state)


def screen(state: State) -> list[Screened]:
    """All further suspects, those of parallel effect together, best first."""
    white, target = _blurred(state)
    taken = {fault.suspect for fault in state.faults}
    freed = -corrections(state)  # a fault in a parameter frees it from its bounds
    a = np.einsum("ij,ij->j", white, white)
    b = white.T @ target
    scored = []
    for j, suspect in enumerate(state.ground.suspects):
        if j in taken or a[j] <= 0.0:
            continue
        logs = gains(suspect, float(a[j]), float(b[j]))
        top = float(np.max(logs))
        gain = top + float(np.log(np.sum(np.exp(logs - top)))) + float(np.log(suspect.odds))
        bonus = float(freed[suspect.column]) if 0 <= suspect.column < len(freed) else 0.0
        scored.append((j, int(np.argmax(logs)), gain, bonus))
    scored.sort(key=lambda entry: -entry[2] - entry[3])
    classes = _classes(scored[:MOST_SCREENED], white / np.sqrt(np.maximum(a, 1e-300)))
    return sorted(classes, key=lambda screened: -screened.score)


def _classes(scored: list[tuple[int, int, float, float]], unit: Floats) -> list[Screened]:
    """Suspects in their order, each put to the first one that its effect is parallel to.

    What is parallel frees the same parameters from their bounds, so that the largest bonus counts for all.
    """
    columns = unit[:, [entry[0] for entry in scored]]
    parallel = np.abs(columns.T @ columns) > PARALLEL
    found: dict[int, list[tuple[int, int, float, float]]] = {}
    for place, entry in enumerate(scored):
        head = next((h for h in found if parallel[h, place]), place)
        found.setdefault(head, []).append(entry)
    made = []
    for members in found.values():
        bonus = max(entry[3] for entry in members)
        ranked = sorted(((j, size, gain + bonus) for j, size, gain, _ in members), key=lambda entry: -entry[2])
        made.append(Screened(tuple(ranked)))
    return made


def _blurred(state: State) -> tuple[Floats, Floats]:
    """Effects of all suspects and the residual, whitened with large residuals counted as less exact."""
    ground, inner = state.ground, state.inner
    covariance = inner.covariance.copy()
    open_residual = inner.residual.copy()  # with the faults of the state at their likeliest sizes
    for fault in state.faults:
        suspect = ground.suspects[fault.suspect]
        if suspect.column >= 0:
            size = state.values[suspect.column] - ground.centre[suspect.column] - suspect.sizes[fault.size]
            open_residual -= inner.slopes[:, suspect.column] * size
    covariance[np.diag_indices_from(covariance)] += (BLUR_FRACTION * open_residual) ** 2
    blurred = np.linalg.cholesky(covariance)
    both = np.column_stack([ground.columns(inner.slopes), inner.residual])
    solved = np.linalg.solve(blurred, both)
    return np.asarray(solved[:, :-1], dtype=np.float64), np.asarray(solved[:, -1], dtype=np.float64)
