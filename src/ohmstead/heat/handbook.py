"""Rules of thumb of the trade, to stand beside the balance: one figure for the walls, one for the air."""


def simple_rise_k(heat_w: float, area_m2: float, film_w_per_m2_k: float = 5.5) -> float:
    """Mean rise of the air in a closed box, one figure for all its walls.

    ΔT = P / (k · A)

    Parameters
    ----------
    heat_w : float
        Losses. [W]
    area_m2 : float
        Effective cooling surface. [m²]
    film_w_per_m2_k : float
        5.5 for painted steel; table enclosure_film. It suits large warm cubicles and flatters small ones. [W/(m²·K)]

    Returns
    -------
    float
        Rise. [K]

    Source
    ------
    enclosure-manual

    Examples
    --------
    >>> round(simple_rise_k(350.0, 3.96), 2)
    16.07
    """
    return heat_w / (film_w_per_m2_k * area_m2)


def simple_allowed_w(rise_k: float, area_m2: float, film_w_per_m2_k: float = 5.5) -> float:
    """Losses that a closed box bears with a wanted rise.

    Parameters
    ----------
    rise_k : float
        Allowed. [K]
    area_m2 : float
        Effective cooling surface. [m²]
    film_w_per_m2_k : float
        As `simple_rise_k`. [W/(m²·K)]

    Returns
    -------
    float
        Losses. [W]

    Source
    ------
    enclosure-manual

    Examples
    --------
    >>> round(simple_allowed_w(30.0, 3.96), 1)
    653.4
    """
    return film_w_per_m2_k * area_m2 * rise_k


def fan_m3_per_s(heat_w: float, rise_k: float, wall_w_per_k: float = 0.0) -> float:
    """Flow of a fan that keeps a rise, what the walls give off taken away first.

    V = 3.1 m³·K/Wh · (P / ΔT - k · S)

    Parameters
    ----------
    heat_w : float
        Losses. [W]
    rise_k : float
        Allowed. [K]
    wall_w_per_k : float
        Film times surface of the walls. [W/K]

    Returns
    -------
    float
        Volume. [m³/s]

    Source
    ------
    switchboard-guide

    Examples
    --------
    >>> round(3600 * fan_m3_per_s(1000.0, 10.0, 5.5 * 4.46))
    234
    """
    return max(0.0, 3.1 / 3600.0 * (heat_w / rise_k - wall_w_per_k))


def chimney_m3_per_s(
    area_m2: float, rise_m: float, inside_c: float, outside_c: float, discharge_fraction: float
) -> float:
    """Flow that warmth draws through openings below and above.

    V = C · A · √(2 · g · h · (Ti - To) / Ti)

    Parameters
    ----------
    area_m2 : float
        Of one of two alike openings to the neutral level, or as `both_m2`. [m²]
    rise_m : float
        Height that counts: from opening to neutral level, or the whole with `both_m2`. [m]
    inside_c : float
        Air inside. [°C]
    outside_c : float
        Air outside. [°C]
    discharge_fraction : float
        C, 0.65 for openings in walls, 0.6 for sharp-edged holes. [1]

    Returns
    -------
    float
        Volume. [m³/s]

    Source
    ------
    ashrae-fundamentals, stack effect.

    Examples
    --------
    >>> round(chimney_m3_per_s(0.01, 0.5, 50.0, 40.0, 0.65), 5)
    0.00358
    """
    warm = inside_c + 273.15
    return float(discharge_fraction * area_m2 * (2.0 * 9.80665 * rise_m * max(inside_c - outside_c, 0.0) / warm) ** 0.5)


def both_m2(inlet_m2: float, outlet_m2: float) -> float:
    """Two openings in a row as one.

    Parameters
    ----------
    inlet_m2 : float
        Of one. [m²]
    outlet_m2 : float
        Of the other. [m²]

    Returns
    -------
    float
        Area. [m²]

    Source
    ------
    ashrae-fundamentals; drops of pressure add.

    Examples
    --------
    >>> round(both_m2(0.003, 0.004), 4)
    0.0024
    """
    return float(inlet_m2 * outlet_m2 / (inlet_m2**2 + outlet_m2**2) ** 0.5)


def hottest_air_c(case_c: float, case_k_per_w: float, loss_w: float) -> float:
    """Hottest air that a part bears whose case must stay below a limit.

    Parameters
    ----------
    case_c : float
        Limit of the case. [°C]
    case_k_per_w : float
        Thermal resistance from the case to the air. [K/W]
    loss_w : float
        Heat of the part. [W]

    Returns
    -------
    float
        Air. [°C]

    Source
    ------
    converter-heat-notes

    Examples
    --------
    >>> round(hottest_air_c(110.0, 6.3, loss_of_w(20.0, 0.91)), 1)
    97.5
    """
    return case_c - case_k_per_w * loss_w


def loss_of_w(output_w: float, efficiency: float) -> float:
    """Heat of a converter from its output.

    Parameters
    ----------
    output_w : float
        Delivered. [W]
    efficiency : float
        At that output.

    Returns
    -------
    float
        Lost. [W]

    Source
    ------
    converter-heat-notes

    Examples
    --------
    >>> round(loss_of_w(30.0, 0.925), 2)
    2.43
    """
    return output_w * (1.0 / efficiency - 1.0)
