"""Power of one plane hour by hour as machine code: what `plane`, `harvest.lit` and `module` say, in one pass.

Many planes of the same place are reckoned in a sweep; each costs about as much here as one column of numpy.
"""

from math import exp, sqrt

from numba import njit

from .hours import HOURS_A_YEAR, FloatArray, IntArray
from .module import STANDARD_C, STANDARD_W_PER_M2
from .plane import LOWEST_COS, REFLECTED
from .strings import DIODE_SHARE

# Rows of `weather`, places of `shared`; see `planes.py`, which fills them.
GHI, DNI, DHI, AIR, WIND, EXTRA, EAST, NORTH, UP = range(9)
NORMAL_EAST, NORMAL_NORTH, NORMAL_UP, GREY, LOW, RATED_W, PER_K, CABLE, SLOPE, BREEZE, WARMER, DIODES = range(12)
OPEN_SKY, CLEAN, GROUND, CLEAR = range(4)  # rows of `yearly`


@njit("float64(float64[::1], int64[::1], int64)", cache=True, nogil=True)
def _largest(light: FloatArray, blocks: IntArray, place: int) -> float:
    """The light that is `place`-th from the brightest among some blocks, counted from 1."""
    for candidate in blocks:
        brighter = 0
        alike = 0
        for other in blocks:
            if light[other] > light[candidate]:
                brighter += 1
            elif light[other] == light[candidate]:
                alike += 1
        if brighter < place <= brighter + alike:
            return float(light[candidate])
    return sqrt(-1.0)


@njit(
    "UniTuple(float64, 2)(float64, float64, float64[:,::1], int64[:,::1], float64)",
    cache=True,
    nogil=True,
    error_model="numpy",
)
def _uneven(beam: float, rest: float, light: FloatArray, string: IntArray, diodes: float) -> tuple[float, float]:
    """Mean light of an hour with a shadow on the field, and the share of its power that the strings keep."""
    n_moment, n_block = light.shape
    n_string, n_own = string.shape
    total = worth = 0.0
    for moment in range(n_moment):
        uneven = False
        for block in range(n_block):
            total += beam * light[moment, block] + rest
            uneven = uneven or light[moment, block] != light[moment, 0]
        if not uneven:
            worth += beam * light[moment, 0] + rest
            continue
        best = 0.0
        for least in range(n_own, 0, -1):  # so many blocks of each string work
            current = 0.0
            for one in range(n_string):
                current += beam * _largest(light[moment], string[one], least) + rest
            volts = (least - (n_own - least) * DIODE_SHARE) / n_own
            if diodes == 0.0:
                best = current / n_string
                break
            best = max(best, current / n_string * volts)
        worth += best
    mean = total / (n_moment * n_block)
    return mean, worth / n_moment / max(mean, 1e-9)


@njit(
    "void(float64[:,::1], float64[::1], float64[:,::1], int64[::1], float64[:,:,::1], int64[:,::1], float64[::1])",
    cache=True,
    nogil=True,
    error_model="numpy",
)
def power(
    weather: FloatArray,
    shared: FloatArray,
    yearly: FloatArray,
    row: IntArray,
    light: FloatArray,
    string: IntArray,
    out: FloatArray,
) -> None:
    """Fill `out` with the power at the controller's terminals. Shade is that of one year, repeated. [W]"""
    east, north, upward = shared[NORMAL_EAST], shared[NORMAL_NORTH], shared[NORMAL_UP]
    rated = shared[RATED_W]
    for hour in range(out.size):
        of_year = hour % HOURS_A_YEAR
        dni, dhi = weather[DNI, hour], weather[DHI, hour]
        rest = weather[GHI, hour] * yearly[GROUND, of_year] * (1.0 - upward) / 2.0 * shared[LOW]
        high = weather[UP, hour]
        incidence = weather[EAST, hour] * east + weather[NORTH, hour] * north + high * upward
        ring = min(max(dni / weather[EXTRA, hour], 0.0), 1.0)
        rest += dhi * (1.0 - ring) * (1.0 + upward) / 2.0 * yearly[OPEN_SKY, of_year] * shared[GREY]
        beam = 0.0
        if incidence > 0.0:
            glass = min(max(1.0 - REFLECTED * (1.0 / max(incidence, 1e-6) - 1.0), 0.0), 1.0)
            beam = (dni * incidence + dhi * ring * incidence / max(high, LOWEST_COS)) * glass
        share = 1.0
        mean = beam * yearly[CLEAR, of_year] + rest
        if beam > 0.0 and row[of_year] >= 0:
            mean, share = _uneven(beam, rest, light[row[of_year]], string, shared[DIODES])
        mean *= yearly[CLEAN, of_year]
        cells = weather[AIR, hour] + mean * (
            exp(shared[SLOPE] + shared[BREEZE] * weather[WIND, hour]) + shared[WARMER] / STANDARD_W_PER_M2
        )
        best = rated * mean * share / STANDARD_W_PER_M2 * (1.0 + shared[PER_K] * (cells - STANDARD_C))
        best = max(best, 0.0)
        out[hour] = best * (1.0 - shared[CABLE] * best)
