"""What a fan moves: its curve, its laws, and where it meets what stands in its way."""

from .box import Fan
from .kernel import fan_passes
from .plan import fan_columns, mat_pa_per_m3_per_s

N_POINT = 16  # straight pieces of a curve drawn from its two ends; they miss it by less than 0.4 % of the pressure


def fan_curve(free_m3_per_s: float, most_pa: float) -> tuple[tuple[float, float], ...]:
    """A fan's curve when only its two ends are known.

    Δp = p₀ · (1 - (V / V₀)^1.5)

    Parameters
    ----------
    free_m3_per_s : float
        Volume against no pressure, as the trade states it. [m³/s]
    most_pa : float
        Static pressure of the closed fan. [Pa]

    Returns
    -------
    tuple of tuple of float
        Volume [m³/s] and pressure [Pa], from closed to free.

    Source
    ------
    common practice, no source: axial fans bulge above the straight line between the two ends.

    Examples
    --------
    >>> curve = fan_curve(0.014, 29.4)
    >>> curve[0], curve[-1], round(curve[8][1], 1)
    ((0.0, 29.4), (0.014, 0.0), 19.0)
    """
    shares = [i / N_POINT for i in range(N_POINT + 1)]
    return tuple((free_m3_per_s * x, most_pa * (1.0 - x**1.5)) for x in shares)


def at_speed(curve: tuple[tuple[float, float], ...], ratio: float) -> tuple[tuple[float, float], ...]:
    """The curve at a share of the speed: volume goes with the speed, pressure with its square.

    Parameters
    ----------
    curve : tuple of tuple of float
        Volume [m³/s] and pressure [Pa] at full speed.
    ratio : float
        Speed over full speed.

    Returns
    -------
    tuple of tuple of float
        Volume [m³/s] and pressure [Pa].

    Source
    ------
    fan-laws

    Examples
    --------
    >>> at_speed(((0.0, 40.0), (0.02, 0.0)), 0.5)
    ((0.0, 10.0), (0.01, 0.0))
    """
    return tuple((v * ratio, p * ratio**2) for v, p in curve)


def way_pa(fan: Fan, volume_m3_per_s: float, rest_m2: float, density_kg_per_m3: float) -> float:
    """Pressure that a volume needs on its whole way: guard and mat of the fan, and the openings opposite.

    Parameters
    ----------
    fan : Fan
        With its guard and mat.
    volume_m3_per_s : float
        That passes. [m³/s]
    rest_m2 : float
        Free area of all other openings, their discharge counted (0.6 of the hole). [m²]
    density_kg_per_m3 : float
        Of the air. [kg/m³]

    Returns
    -------
    float
        Pressure. [Pa]

    Source
    ------
    incropera; Δp = ρ / 2 · (V / (Cd · A))² for each opening, a mat's drop linear.

    Examples
    --------
    >>> fan = Fan("fan", 0.5, "out", fan_curve(0.014, 29.4), 2.5, 0.0064)
    >>> round(way_pa(fan, 0.01, 0.6 * 0.0064 * 0.6, 1.09), 1)
    20.5
    """
    through = fan.discharge_fraction * fan.free_fraction * fan.area_m2
    drag = mat_pa_per_m3_per_s(fan.mat) if fan.mat else 0.0
    square = 0.5 * density_kg_per_m3 * (1.0 / through**2 + 1.0 / rest_m2**2)
    return (drag + square * volume_m3_per_s) * volume_m3_per_s


def operating_point(
    fan: Fan, rest_m2: float, rest_pa_per_m3_per_s: float, density_kg_per_m3: float
) -> tuple[float, float]:
    """Where the fan at full speed meets its way: volume and static pressure, draught by warmth left out.

    Parameters
    ----------
    fan : Fan
        With its guard and mat.
    rest_m2 : float
        Free area of all other openings, their discharge counted. [m²]
    rest_pa_per_m3_per_s : float
        Linear drag of mats in the other openings. [Pa·s/m³]
    density_kg_per_m3 : float
        Of the air. [kg/m³]

    Returns
    -------
    tuple of float
        Volume [m³/s] and pressure [Pa].

    Source
    ------
    fan-laws; the fan's curve is met by that of the way.

    Examples
    --------
    >>> fan = Fan("fan", 0.5, "out", fan_curve(0.014, 29.4), 2.5, 0.0064)
    >>> volume, pressure = operating_point(fan, 0.6 * 0.0064 * 0.6, 0.0, 1.2)
    >>> round(3600 * volume, 1), round(pressure, 1)
    (30.1, 15.8)
    """
    f, volumes, pressures = fan_columns(fan)
    f[2] += rest_pa_per_m3_per_s
    f[3] += 0.5 / rest_m2**2
    volume = fan_passes(f, volumes, pressures, density_kg_per_m3, 0.0)
    pressure = (f[2] + f[3] * density_kg_per_m3 * volume) * volume
    return volume, pressure
