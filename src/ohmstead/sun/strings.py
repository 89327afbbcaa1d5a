"""Strings of modules in part shade: bypass diodes let the lit blocks work on without the shaded ones."""

import numpy as np

from .field import Field
from .hours import FloatArray

DIODE_SHARE = 0.05  # drop of a bypassed block's diode over a block's own voltage: 0.5 V of 11 V; common practice


def best_share(light: FloatArray, field: Field) -> FloatArray:
    """Power of strings at their best point against the same strings with all blocks in full light.

    A string that lets k of its N blocks work carries the current of the weakest of them, and each block it leaves
    out costs the drop of a diode: P(k) = Σ x_(k) · (k - (N - k) · d) / N over strings side by side, which share one
    voltage and so one k. The best k counts; without diodes only k = N is possible.

    Parameters
    ----------
    light : array, shape (..., n_block)
        Light on each block over full light.
    field : Field
        Which string each block lies in.

    Returns
    -------
    array, shape (...)
        Share of the power in full light.

    Source
    ------
    Common practice: every block has the same voltage as long as it works, and current in proportion to its light.

    Examples
    --------
    >>> from ..site.sky import Array
    >>> from .field import field_of
    >>> one = field_of(Array(name="a", power_w=200.0, bypass=3))
    >>> best_share(np.array([[1.0, 1.0, 1.0], [1.0, 1.0, 0.1], [0.9, 0.9, 0.8]]), one).round(3).tolist()
    [1.0, 0.65, 0.8]
    """
    currents = by_string(light, field)
    n_block = currents.shape[-1]
    working = np.arange(1, n_block + 1)
    volts = (working - (n_block - working) * DIODE_SHARE) / n_block
    if field.has_diodes == "no":
        found: FloatArray = currents[..., -1].mean(axis=-1)
        return found
    power = (currents * volts).mean(axis=-2)
    best: FloatArray = np.maximum(power.max(axis=-1), 0.0)
    return best


def current_share(light: FloatArray, field: Field, needed_fraction: float) -> FloatArray:
    """Current of strings held at a voltage, against full light; `needed`: that voltage over the string's working one.

    As many blocks must work as the voltage needs, and the weakest of them sets the current of its string.

    Parameters
    ----------
    light : array, shape (..., n_block)
        Light on each block over full light.
    field : Field
        Which string each block lies in.
    needed_fraction : float
        Voltage asked for over the working voltage of a string. [1]

    Returns
    -------
    array, shape (...)
        Share of the current in full light.

    Source
    ------
    Common practice, as for `best_share`.

    Examples
    --------
    >>> from ..site.sky import Array
    >>> from .field import field_of
    >>> one = field_of(Array(name="a", power_w=200.0, bypass=3))
    >>> light = np.array([[1.0, 1.0, 0.1]])
    >>> current_share(light, one, 0.6).tolist(), current_share(light, one, 0.8).tolist()
    ([1.0], [0.1])
    """
    currents = by_string(light, field)
    n_block = currents.shape[-1]
    working = np.arange(1, n_block + 1)
    volts = (working - (n_block - working) * DIODE_SHARE) / n_block
    enough = np.flatnonzero(volts >= min(needed_fraction, 1.0) - 1e-9)
    k = n_block if field.has_diodes == "no" or not enough.size else int(enough[0]) + 1
    found: FloatArray = currents[..., k - 1].mean(axis=-1)
    return found


def by_string(light: FloatArray, field: Field) -> FloatArray:
    """Light on the blocks of each string, brightest first, shape (..., n_string, n_block of a string)."""
    order = np.argsort(field.string, kind="stable")
    grouped = light[..., order].reshape(*light.shape[:-1], field.n_string, -1)
    found: FloatArray = -np.sort(-grouped, axis=-1)
    return found
