"""From readings to the likeliest faults. How it works: docs/methods/diagnosis.md."""

from collections.abc import Sequence
from math import exp, log, sqrt

from .bounded import bounded
from .diagnosis import Diagnosis, Explanation, Fault, Suspicion
from .observation import Observation
from .search import search
from .situation import Bench
from .suspects import suspects_of
from .swaps import MANY_PAIRS, MOST_PAIRS, other_roots, swapped_roots
from .telling import next_readings
from .watched import watch
from .weigh import State, ground_of, misfit_deviations, weigh

LIKE_A_SWAP = ("misread", "draw", "idle", "wire")  # two of these may be two circuits swapped
MOST_SHOWN = 12
LEAST_SHOWN_FRACTION = 1e-4
NEAR = 12.0  # of log weight: what is farther behind the best is left out
SAME_FIT = log(3.0)
UNLIKELY_DEVIATIONS = 4.0  # of the misfit from what chance makes


def diagnose(bench: Bench, observations: Sequence[Observation]) -> Diagnosis:
    """The likeliest sets of up to three faults, and what to read next.

    Needs numpy. Raises KeyError for a point that the site has not, ValueError when there are no readings.
    """
    states = weighed(bench, observations)
    top = states[0].log_weight
    total = sum(exp(state.log_weight - top) for state in states)
    shares = [exp(state.log_weight - top) / total for state in states]
    shown = [k for k, share in enumerate(shares) if share >= LEAST_SHOWN_FRACTION][:MOST_SHOWN]
    kept = [states[k] for k in shown]
    explanations = tuple(_explanation(states[k], shares[k]) for k in shown)
    return Diagnosis(
        _verdict(states[0]),
        len(observations),
        explanations,
        _suspicions(states, shares),
        _alike(explanations),
        next_readings(kept, [shares[k] for k in shown]),
    )


def weighed(bench: Bench, observations: Sequence[Observation]) -> tuple[State, ...]:
    """Every set of faults that was looked at, likeliest first. Raises as `diagnose`."""
    if not observations:
        raise ValueError("no readings")
    watched = watch(bench, observations)
    root = weigh(ground_of(watched, suspects_of(bench, [o.value for o in observations])), ())
    states = search((root, *swapped_roots(root)))
    lost = misfit_deviations(states[0].inner) > UNLIKELY_DEVIATIONS
    if lost or sum(fault.kind in LIKE_A_SWAP for fault in named_faults(states[0])) > 1:
        others = other_roots(root, MANY_PAIRS if lost else MOST_PAIRS)
        more = search(tuple(others)) if others else ()
        states = tuple(sorted((*states, *more), key=lambda s: -s.log_weight))
    near = [bounded(s) for s in states if s.log_weight > states[0].log_weight - NEAR]
    return tuple(sorted(near, key=lambda s: -s.log_weight))


def _verdict(best: State) -> str:
    if misfit_deviations(best.inner) > UNLIKELY_DEVIATIONS:
        return "unexplained"
    return "found" if named_faults(best) else "fine"


def _explanation(state: State, share: float) -> Explanation:
    return Explanation(named_faults(state), share, state.inner.misfit, state.log_fit)


def named_faults(state: State) -> tuple[Fault, ...]:
    """The faults of a state with their sizes."""
    ground = state.ground
    swapped = ground.name.split(" | ")
    swap = [Fault("swap", swapped[0], swapped[1])] if ground.name else []
    return (*swap, *(_named(state, place) for place in range(len(state.faults))))


def _named(state: State, place: int) -> Fault:
    ground, inner, choice = state.ground, state.inner, state.faults[place]
    suspect = ground.suspects[choice.suspect]
    name = suspect.names[choice.size] if suspect.names else ""
    more = float(suspect.variances[choice.size])
    column = ground.column(suspect, inner.slopes)
    known = float(column @ inner.drawn[:, place])
    if suspect.column < 0:
        observation = ground.watched.observations[-1 - suspect.column]
        variance = more
        size = suspect.sizes[choice.size] + variance * float(column @ inner.pull)
        sigma = sqrt(max(variance - variance**2 * known, 0.0))
        subject = f"{observation.point.id} ({observation.situation.name})"
        return Fault("misread", subject, "", size, sigma, observation.value - size, observation.point.dimension)
    usual = float(ground.centre[suspect.column])
    variance = float(ground.sigma[suspect.column]) ** 2 + more
    size = float(state.values[suspect.column]) - usual
    sigma = sqrt(max(variance - variance**2 * known, 0.0))
    parameters = ground.watched.bench.parameters
    if suspect.column < len(parameters):
        dimension = parameters[suspect.column].dimension
    else:
        dimension = "voltage" if suspect.place == "volts" else "current"
    return Fault(suspect.kind, suspect.subject, suspect.place, size, sigma, usual, dimension, name)


def _suspicions(states: Sequence[State], shares: Sequence[float]) -> tuple[Suspicion, ...]:
    """Each fault with the sum of the probabilities of the explanations that hold it."""
    first: dict[tuple[str, str, str], Fault] = {}
    sums: dict[tuple[str, str, str], float] = {}
    for state, share in zip(states, shares, strict=True):
        for fault in named_faults(state) if share >= LEAST_SHOWN_FRACTION / 10 else ():
            first.setdefault(fault.key, fault)
            sums[fault.key] = sums.get(fault.key, 0.0) + share
    ranked = sorted(sums, key=lambda key: -sums[key])[:MOST_SHOWN]
    return tuple(Suspicion(first[key], min(sums[key], 1.0)) for key in ranked)


def _alike(explanations: Sequence[Explanation]) -> tuple[tuple[int, ...], ...]:
    """Groups of explanations whose fit differs by less than a factor of three from the first of the group."""
    groups: list[list[int]] = []
    for k, explanation in enumerate(explanations):
        if explanation.probability_fraction < 0.01:
            continue
        for group in groups:
            if abs(explanations[group[0]].log_fit - explanation.log_fit) < SAME_FIT:
                group.append(k)
                break
        else:
            groups.append([k])
    return tuple(tuple(group) for group in groups if len(group) > 1)
