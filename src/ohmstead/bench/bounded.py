"""Limits that are limits: what the normal distributions of a state do not know about uniform ones.

While it is searched, every parameter counts as normal. Where the readings by themselves tell a parameter well, its
true prior is taken instead: evenly likely between its bounds, hardly possible beyond. A fuse of half the resistance
that the sheet allows is then no matter of 2.5 deviations.
"""

from dataclasses import replace
from math import erf, log, pi, sqrt

import numpy as np

from .watched import Floats
from .weigh import State

TOLD_FRACTION = 0.6  # parameters whose variance the readings bring below this share
SOFT_FRACTION = 0.08  # of half the distance between bounds: no maker's limit is quite sharp
FAR_TAIL = 5.0  # deviations
MOST = 30.0  # of a logarithm, either way


def bounded(state: State) -> State:
    """The state with its fit corrected for the bounds of every parameter that the readings tell."""
    return replace(state, log_fit=state.log_fit + float(np.sum(corrections(state))))


def corrections(state: State) -> Floats:
    """What the true prior of each parameter adds to the log fit of a state; 0 where readings tell little of it."""
    ground, inner = state.ground, state.inner
    parameters = ground.watched.bench.parameters
    found = np.zeros(len(parameters))
    moved = {ground.suspects[f.suspect].column for f in state.faults}
    prior = ground.sigma**2
    for fault in state.faults:
        suspect = ground.suspects[fault.suspect]
        if suspect.column >= 0:
            prior[suspect.column] += suspect.variances[fault.size]
    known = np.einsum("ij,ij->j", inner.slopes, np.linalg.solve(inner.covariance, inner.slopes))
    for k, parameter in enumerate(parameters):
        v = float(prior[k])
        left = v - v * v * float(known[k])
        if parameter.shape != "uniform" or k in moved or not 0.0 < left < TOLD_FRACTION * v:
            continue
        own = 1.0 / (1.0 / left - 1.0 / v)  # variance of what the readings alone say
        value = own * (float(state.values[k]) / left - parameter.bounds.nominal / v)
        found[k] = _correction(value, own, v, parameter.bounds.low, parameter.bounds.high)
    return found


def _correction(value: float, own: float, prior: float, low: float, high: float) -> float:
    half = (high - low) / 2
    deviation = sqrt(own + (SOFT_FRACTION * half) ** 2)
    beyond = max(low - value, value - high) / deviation
    if beyond > FAR_TAIL:  # the error function has no digits left there
        log_share = -0.5 * beyond**2 - log(beyond * sqrt(2.0 * pi))
    else:
        upper, lower = ((end - value) / deviation / sqrt(2.0) for end in (high, low))
        log_share = log(0.5 * (erf(upper) - erf(lower)))
    even = log_share - log(high - low)
    off = value - (low + high) / 2
    normal = -0.5 * (off * off / (prior + own) + log(2.0 * pi * (prior + own)))
    return min(max(even - normal, -MOST), MOST)
