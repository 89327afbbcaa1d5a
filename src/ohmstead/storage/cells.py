"""Battery voltage at rest, resistance of a pack, short-circuit current at its terminals."""

from math import inf

from ..parts.cell import NEARLY_EMPTY, Chemistry, Points


def _straight(x: float, points: Points) -> float:
    """Straight lines between points; the nearest end outside."""
    if x <= points[0][0]:
        return points[0][1]
    for (x0, y0), (x1, y1) in zip(points, points[1:], strict=False):
        if x <= x1:
            return y0 + (y1 - y0) * (x - x0) / (x1 - x0)
    return points[-1][1]


def open_circuit_v(cell: Chemistry, state_fraction: float) -> float:
    """Resting voltage of one cell at a state of charge.

    Parameters
    ----------
    cell : Chemistry
        The chemistry.
    state_fraction : float
        State of charge; outside 0..1 the end of the curve holds. [1]

    Returns
    -------
    float
        Voltage of one cell. [V]

    Source
    ------
    lfp-ocv-2025, lead-acid-guide, nmc-cell-papers, as each chemistry names.

    Examples
    --------
    >>> from ohmstead.parts.cell import chemistry
    >>> round(open_circuit_v(chemistry("LFP"), 0.5), 3)
    3.299
    """
    return _straight(state_fraction, cell.resting)


def cold_factor(cell: Chemistry, temperature_c: float) -> float:
    """How many times its resistance at 25 °C a cell has at another temperature.

    Parameters
    ----------
    cell : Chemistry
        The chemistry.
    temperature_c : float
        Temperature of the cell. [°C]

    Returns
    -------
    float
        The factor. [1]

    Source
    ------
    common-practice, no source.

    Examples
    --------
    >>> from ohmstead.parts.cell import chemistry
    >>> cold_factor(chemistry("LFP"), 0.0)
    2.0
    """
    return _straight(temperature_c, cell.cold)


def state_factor(cell: Chemistry, state_fraction: float) -> float:
    """How many times its usual resistance a cell has at a state of charge.

    Parameters
    ----------
    cell : Chemistry
        The chemistry.
    state_fraction : float
        State of charge; outside 0..1 the end of the curve holds. [1]

    Returns
    -------
    float
        The factor. [1]

    Source
    ------
    common-practice, no source.

    Examples
    --------
    >>> from ohmstead.parts.cell import chemistry
    >>> state_factor(chemistry("lead AGM"), 0.1)
    2.0
    """
    return _straight(state_fraction, cell.habits.by_state)


def pack_resistance_ohm(
    cell: Chemistry,
    n_series: int,
    n_parallel: int,
    capacity_ah: float,
    temperature_c: float = 25.0,
    bound: str = "usual",
) -> float:
    """Resistance of a pack with its links.

    R = Ns / Np · (r / (C / Np) · f(T) + link)

    Parameters
    ----------
    cell : Chemistry
        The chemistry.
    n_series : int
        Cells in series.
    n_parallel : int
        Strings side by side.
    capacity_ah : float
        Capacity of the whole pack. [Ah]
    temperature_c : float
        Temperature of the cells. [°C]
    bound : str
        "least" for a fresh pack and the largest fault, "usual", "most" for an old one, nearly empty.

    Returns
    -------
    float
        Between the terminals of the pack. [Ω]

    Source
    ------
    lfp-cell-sheet, lead-acid-guide, nmc-cell-papers, as each chemistry names.

    Examples
    --------
    >>> from ohmstead.parts.cell import chemistry
    >>> round(pack_resistance_ohm(chemistry("LFP"), 8, 1, 230.0) * 1000, 1)
    5.0
    """
    if capacity_ah <= 0.0:
        return inf
    scaled, link = {
        "least": (cell.least_ohm_ah, cell.link_least_ohm),
        "usual": (cell.usual_ohm_ah, cell.link_usual_ohm),
        "most": (cell.most_ohm_ah * state_factor(cell, NEARLY_EMPTY), cell.link_most_ohm),
    }[bound]
    one_cell = scaled / (capacity_ah / n_parallel) * cold_factor(cell, temperature_c)
    return n_series / n_parallel * (one_cell + link)


def fresh_resistance_ohm(cell: Chemistry, n_series: int, capacity_ah: float) -> float:
    """Resistance of a fresh, warm pack with good links: for the largest fault.

    Parameters
    ----------
    cell : Chemistry
        The chemistry.
    n_series : int
        Cells in series.
    capacity_ah : float
        Capacity of the whole pack. [Ah]

    Returns
    -------
    float
        Between the terminals of the pack. [Ω]

    Source
    ------
    As `pack_resistance_ohm`.

    Examples
    --------
    >>> from ohmstead.parts.cell import chemistry
    >>> round(fresh_resistance_ohm(chemistry("LFP"), 8, 230.0) * 1000, 2)
    1.97
    """
    return pack_resistance_ohm(cell, n_series, 1, capacity_ah, bound="least")


def working_resistance_ohm(cell: Chemistry, n_series: int, capacity_ah: float, temperature_c: float) -> float:
    """Resistance of an old pack, nearly empty, at a temperature: for low voltage and the smallest fault.

    Parameters
    ----------
    cell : Chemistry
        The chemistry.
    n_series : int
        Cells in series.
    capacity_ah : float
        Capacity of the whole pack. [Ah]
    temperature_c : float
        Temperature of the cells. [°C]

    Returns
    -------
    float
        Between the terminals of the pack. [Ω]

    Source
    ------
    As `pack_resistance_ohm`.

    Examples
    --------
    >>> from ohmstead.parts.cell import chemistry
    >>> round(working_resistance_ohm(chemistry("LFP"), 8, 230.0, 25.0) * 1000, 1)
    12.2
    """
    return pack_resistance_ohm(cell, n_series, 1, capacity_ah, temperature_c, "most")


def short_circuit_a(source_v: float, resistance_ohm: float) -> float:
    """Current of a battery into a short at the end of a resistance.

    I = U / R

    Parameters
    ----------
    source_v : float
        Open-circuit voltage. [V]
    resistance_ohm : float
        Battery, links, wires and fuse together. [Ω]

    Returns
    -------
    float
        Fault current. [A]

    Source
    ------
    battery-textbook.

    Examples
    --------
    >>> round(short_circuit_a(12.0, 0.005))
    2400
    """
    return source_v / resistance_ohm if resistance_ohm > 0.0 else inf


def loaded_v(
    cell: Chemistry, capacity_ah: float, state_fraction: float, current_a: float, temperature_c: float = 25.0
) -> float:
    """Voltage of one cell under a current, usual for its kind.

    U = U0(state) - I · (r / C · f(T) · f(state) + link)

    Parameters
    ----------
    cell : Chemistry
        The chemistry.
    capacity_ah : float
        Capacity of the cell. [Ah]
    state_fraction : float
        State of charge; for lead under a current of hours, the level of the well at hand. [1]
    current_a : float
        Drawn from it; a negative one charges. [A]
    temperature_c : float
        Temperature of the cell. [°C]

    Returns
    -------
    float
        Between the poles of the cell. [V]

    Source
    ------
    As `open_circuit_v` and `pack_resistance_ohm`.

    Examples
    --------
    >>> from ohmstead.parts.cell import chemistry
    >>> round(loaded_v(chemistry("LFP"), 100.0, 0.5, 50.0), 3)
    3.234
    """
    scaled = cell.usual_ohm_ah / capacity_ah * cold_factor(cell, temperature_c) * state_factor(cell, state_fraction)
    return open_circuit_v(cell, state_fraction) - current_a * (scaled + cell.link_usual_ohm)
