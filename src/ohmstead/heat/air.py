"""Air as a gas: pressure and density by height above the sea, and the flow that carries heat off."""

from .kernel import CP, GAS, KELVIN


def pressure_pa(elevation_m: float) -> float:
    """Mean pressure of the air at a height above the sea.

    p = 101325 · (1 - 2.25577e-5 · z)^5.25588

    Parameters
    ----------
    elevation_m : float
        Above the sea, to 11 km. [m]

    Returns
    -------
    float
        Pressure. [Pa]

    Source
    ------
    us-standard-atmosphere-1976

    Examples
    --------
    >>> round(pressure_pa(1000.0))
    89875
    """
    ratio: float = (1.0 - 2.25577e-5 * elevation_m) ** 5.25588
    return 101325.0 * ratio


def density_kg_per_m3(temperature_c: float, pressure_pa: float) -> float:
    """Density of dry air.

    Parameters
    ----------
    temperature_c : float
        Of the air. [°C]
    pressure_pa : float
        Of the air. [Pa]

    Returns
    -------
    float
        Density. [kg/m³]

    Source
    ------
    us-standard-atmosphere-1976, equation of state.

    Examples
    --------
    >>> round(density_kg_per_m3(30.0, 101325.0), 3)
    1.164
    """
    return pressure_pa / (GAS * (temperature_c + KELVIN))


def needed_m3_per_s(heat_w: float, rise_k: float, temperature_c: float, elevation_m: float) -> float:
    """Flow of air that carries heat off with a given rise, walls not counted.

    V = P / (ρ · cp · ΔT)

    Parameters
    ----------
    heat_w : float
        To be carried off. [W]
    rise_k : float
        Of the air on its way. [K]
    temperature_c : float
        Of the air that enters. [°C]
    elevation_m : float
        Above the sea. [m]

    Returns
    -------
    float
        Volume of the entering air. [m³/s]

    Source
    ------
    first law of thermodynamics; the trade's 3.1 m³·K/Wh at sea level.

    Examples
    --------
    >>> round(3600 * needed_m3_per_s(1.0, 1.0, 30.0, 0.0), 2)
    3.07
    """
    return heat_w / (density_kg_per_m3(temperature_c, pressure_pa(elevation_m)) * CP * rise_k)
