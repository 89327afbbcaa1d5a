"""The equations of a box and their passage through the hours, in the form that also compiles.

Sequences in, sequences out: lists where it runs as it stands (a day), arrays where it is compiled (a year). Nodes are
leaves (walls first, then gear) around three middles: lower air, upper air, and what the inner faces see of each
other. `plan.py` names the columns, `model.py` calls; the method is told in docs/methods/heat.md.
"""

from math import sqrt
from typing import Any

GAMMA = 1.0 - sqrt(0.5)  # two implicit stages, stable for any step and of second order; hairer-wanner
KELVIN = 273.15
GRAVITY = 9.80665
GAS = 287.05  # J/(kg·K), dry air
CP = 1006.0  # J/(kg·K), air
BOLTZMANN = 5.670374e-8
UNSTIRRED = 0.25  # of the air that slides down reaches the lower half when no plume rises from there; our choice

# What everything works with (`m`): a box in columns, and room for what is found.
M_W, M_B, M_O, M_F, M_VOLUMES, M_PRESSURES, M_SPEED_C, M_SPEED_X, M_CO, M_SIDES, M_OFF, M_ON, M_LINKS, M_TALLY = range(
    14
)
# Columns of the walls (`w`), of the openings (`o`) and of the fan (`f`).
ZONE, KIND, AREA, TALL, LONG, OPEN, OUT_EPS, IN_EPS, LINING, FIXED_IN, FIXED_OUT, FACE, SUNNY, SKYWARD, CAP = range(15)
HEIGHT, LINEAR, SQUARE = range(3)
F_HEIGHT, F_SIGN, F_LINEAR, F_SQUARE, F_STOPPED, F_DENSITY, F_POWER, F_IDLE = range(8)
# Columns of the box (`b`).
B_HEIGHT, B_GIRTH, B_CAP, B_MIXING, B_STIR, B_PRESSURE, B_CONTROL, B_ON, B_OFF, B_SENSE, B_WALLS, B_LAG = range(12)
# Columns of what was found for each leaf (`co`), and of a draught.
G, R, K, TE, Q, D, S = range(7)
IN_LOW, IN_HIGH, UP, VOLUME, RISE, PRESSURE = range(6)
UPRIGHT, TOP, BOTTOM = 0.0, 1.0, 2.0


def viscosity(kelvin: Any) -> Any:
    """Of air, Pa·s; us-standard-atmosphere-1976, equation 51."""
    return 1.458e-6 * kelvin**1.5 / (kelvin + 110.4)


def conductivity(kelvin: Any) -> Any:
    """Of air, W/(m·K); us-standard-atmosphere-1976, equation 53."""
    return 2.64638e-3 * kelvin**1.5 / (kelvin + 245.4 * 10.0 ** (-12.0 / kelvin))


def upright_pull(prandtl: Any) -> Any:
    """How the fluid enters `upright_nusselt`; churchill-chu-1975, equation 9."""
    return 0.387 / (1.0 + (0.492 / prandtl) ** 0.5625) ** (8.0 / 27.0)


def upright_nusselt(rayleigh: Any, pull: Any) -> Any:
    """A standing plate; churchill-chu-1975, equation 9."""
    root = 0.825 + pull * rayleigh ** (1.0 / 6.0)
    return root * root


def level_nusselt(rayleigh: Any, rises: Any) -> Any:
    """A level plate, side on which warmed air rises freely (or cooled air sinks) or stays below; mcadams-1954."""
    if rises:
        return max(0.54 * rayleigh**0.25, 0.15 * rayleigh ** (1.0 / 3.0))
    return 0.27 * rayleigh**0.25


def radiant(emissivity: Any, one: Any, two: Any) -> Any:
    """Film coefficient of grey radiation between two temperatures, °C; stefan-boltzmann."""
    one, two = one + KELVIN, two + KELVIN
    return emissivity * BOLTZMANN * (one * one + two * two) * (one + two)


def films(m: Any, mid: Any, leaf: Any, hour: Any) -> Any:
    """Conductances of every wall into `co`; what air gives to the faces behind linings into `sides`; the mixing."""
    w, b, co, sides = m[M_W], m[M_B], m[M_CO], m[M_SIDES]
    out_c, radiant_c, wind = hour
    walls = int(b[B_WALLS])
    zone, kind, area, tall = w[ZONE], w[KIND], w[AREA], w[TALL]
    g, r, k, te = co[G], co[R], co[K], co[TE]
    warm = 0.5 * (out_c + leaf[0]) + KELVIN
    mu, lam = viscosity(warm), conductivity(warm)
    rho = b[B_PRESSURE] / (GAS * warm)
    pr = mu * CP / lam
    pull = GRAVITY * rho * rho * CP / (mu * lam * warm)
    inner = 0.5 * (mid[0] + mid[1]) + KELVIN
    imu, ilam = viscosity(inner), conductivity(inner)
    irho = b[B_PRESSURE] / (GAS * inner)
    ipull = GRAVITY * irho * irho * CP / (imu * ilam * inner)
    ipr = imu * CP / ilam
    stands, istands, root = upright_pull(pr), upright_pull(ipr), pr ** (1.0 / 3.0)
    sides[0], sides[1] = 0.0, 0.0
    upper_area, upper_sum = 1e-9, 0.0
    for j in range(walls):
        t, length = leaf[j], tall[j]
        z = int(zone[j])
        if w[FIXED_OUT][j] >= 0.0:
            k[j], te[j] = w[FIXED_OUT][j], out_c
        else:
            away = t - out_c
            ra = pull * abs(away) * length**3
            if kind[j] == UPRIGHT:
                h = upright_nusselt(ra, stands) * lam / length
            else:
                h = level_nusselt(ra, (kind[j] == TOP) == (away > 0.0)) * lam / length
            if wind > 0.0:  # sparrow-1979: Nu = 0.86 √Re ∛Pr, with four times area over girth
                blown = 0.86 * sqrt(rho * wind * w[LONG][j] / mu) * root * lam / w[LONG][j]
                h = (h**3 + blown**3) ** (1.0 / 3.0)
            hr = radiant(w[OUT_EPS][j], t, radiant_c)
            scale = area[j] * w[OPEN][j]
            k[j] = scale * (h + hr)
            te[j] = (h * out_c + hr * radiant_c) / (h + hr) if h + hr > 0.0 else out_c
        if kind[j] == UPRIGHT and z == 1:
            upper_area += area[j]
            upper_sum += area[j] * (t - mid[1])
        if w[FIXED_IN][j] >= 0.0:
            g[j], r[j] = w[FIXED_IN][j], 0.0
            continue
        away = mid[z] - t
        ra = ipull * abs(away) * length**3
        if kind[j] == UPRIGHT:
            h = upright_nusselt(ra, istands) * ilam / length
        else:
            h = level_nusselt(ra, (kind[j] == TOP) == (away > 0.0)) * ilam / length
        h = max(h, b[B_STIR])
        hr = radiant(w[IN_EPS][j], t, mid[2])
        behind = 1.0 + w[LINING][j] * (h + hr)
        g[j], r[j] = area[j] * h / behind, area[j] * hr / behind
        sides[z] += area[j] * w[LINING][j] * h * hr / behind
    if b[B_MIXING] >= 0.0:
        return b[B_MIXING]
    # Air that slides down the upper walls, half way; squire-eckert.
    nu = imu / irho
    grashof = GRAVITY / inner * abs(upper_sum / upper_area) * (0.5 * b[B_HEIGHT]) ** 3 / (nu * nu)
    sliding = 3.93 * 5.17 / 12.0 * nu * ipr**-0.5 * (20.0 / 21.0 + ipr) ** -0.25 * grashof**0.25
    mixing = 0.05 + irho * CP * sliding * b[B_GIRTH]
    low_w, high_w = 0.0, 0.0
    for j in range(walls, len(leaf)):
        if zone[j] > 0.0:
            high_w += max(g[j] * (leaf[j] - mid[1]), 0.0)
        else:
            low_w += max(g[j] * (leaf[j] - mid[0]), 0.0)
    if high_w > 0.0:  # what falls is replaced by plumes from below, whose flow goes with the cube root of their heat
        mixing *= UNSTIRRED + (1.0 - UNSTIRRED) * (low_w / (low_w + high_w)) ** (1.0 / 3.0)
    if b[B_STIR] > 0.0:
        mixing += 50.0
    return 10.0 * mixing if mid[0] > mid[1] else mixing


def passes(linear: Any, square: Any, head: Any) -> Any:
    """Volume that a pressure drives: head = linear · V + square · V², either way."""
    size = abs(head)
    volume = 2.0 * size / (linear + sqrt(linear * linear + 4.0 * square * size))
    return volume if head > 0.0 else -volume


def fan_passes(f: Any, volumes: Any, pressures: Any, rho: Any, head: Any) -> Any:
    """Volume through a running fan, its guard and mat, which `head` helps (or hinders when negative)."""
    scale = rho / f[F_DENSITY]
    square = f[F_SQUARE] * rho
    if head + scale * pressures[0] <= 0.0:
        return passes(f[F_LINEAR], square, head + scale * pressures[0])
    last = len(volumes) - 1
    for i in range(last):
        slope = scale * (pressures[i + 1] - pressures[i]) / (volumes[i + 1] - volumes[i])
        v = volumes[i + 1]
        if i == last - 1 or head + scale * pressures[i + 1] - (f[F_LINEAR] + square * v) * v <= 0.0:
            level = head + scale * pressures[i] - slope * volumes[i]
            first = f[F_LINEAR] - slope
            return 2.0 * level / (first + sqrt(first * first + 4.0 * square * level))
    return 0.0


def leaving(m: Any, pressure: Any, rest: Any, rhos: Any, draught: Any) -> Any:
    """Air that leaves less air that enters, kg/s, at a pressure over that outside at the floor; by half of the box."""
    o, f, volumes, pressures = m[M_O], m[M_F], m[M_VOLUMES], m[M_PRESSURES]
    running, half = rest
    rho_out, rho_low, rho_high = rhos
    draught[IN_LOW], draught[IN_HIGH], draught[UP] = 0.0, 0.0, 0.0
    total, low_net = 0.0, 0.0
    low, high = GRAVITY * (rho_out - rho_low), GRAVITY * (rho_out - rho_high)
    for i in range(len(o[HEIGHT]) + 1):
        if i == len(o[HEIGHT]):
            if len(volumes) == 0:
                break
            z = f[F_HEIGHT]
        else:
            z = o[HEIGHT][i]
        head = pressure + (low * z if z <= half else low * half + high * (z - half))
        within = rho_low if z <= half else rho_high
        if i < len(o[HEIGHT]):
            rho = within if head > 0.0 else rho_out
            mass = rho * passes(o[LINEAR][i], o[SQUARE][i] * rho, head)
        elif running > 0.0:
            sign = f[F_SIGN]  # 1 blows out, -1 blows in
            rho = within if sign > 0.0 else rho_out
            volume = fan_passes(f, volumes, pressures, rho, sign * head)
            mass = sign * volume * rho
            draught[VOLUME] = volume
            draught[RISE] = (f[F_LINEAR] + f[F_SQUARE] * rho * abs(volume)) * volume - sign * head
        else:
            rho = within if head > 0.0 else rho_out
            mass = rho * passes(f[F_LINEAR], f[F_STOPPED] * rho, head)
            draught[VOLUME], draught[RISE] = 0.0, 0.0
        total += mass
        if z <= half:
            low_net += mass
            draught[IN_LOW] += max(-mass, 0.0)
        else:
            draught[IN_HIGH] += max(-mass, 0.0)
    draught[UP] = -low_net
    return total


def draughts(m: Any, air: Any, draught: Any) -> None:
    """Air through the openings, the fan running or not: kg/s that enter low and high, that go up inside, the fan's
    volume and pressure rise, and the pressure at the floor that balances it, from where the search begins. `air`:
    outside, lower, upper, and whether the fan runs.
    """
    o, b, volumes, pressures = m[M_O], m[M_B], m[M_VOLUMES], m[M_PRESSURES]
    out_c, low_c, high_c, running = air
    for i in range(5):
        draught[i] = 0.0
    if len(o[HEIGHT]) + min(len(volumes), 1) < 2:
        if len(volumes) > 0 and running > 0.0:
            draught[RISE] = pressures[0]
        return
    gas = b[B_PRESSURE] / GAS
    rhos = (gas / (out_c + KELVIN), gas / (low_c + KELVIN), gas / (high_c + KELVIN))
    half = 0.5 * b[B_HEIGHT]
    reach = GRAVITY * (abs(rhos[0] - rhos[1]) + abs(rhos[0] - rhos[2])) * b[B_HEIGHT] + 1e-6
    if running > 0.0 and len(volumes) > 0:
        reach += 1.5 * pressures[0]
    rest = (running, half)
    p, net, under, over, under_f, over_f, kept = draught[PRESSURE], 0.0, -reach, reach, 0.0, 0.0, 0
    p = min(max(p, under), over)
    for _ in range(80):  # outwards from where it was, then false position after Illinois
        net = leaving(m, p, rest, rhos, draught)
        if abs(net) < 1e-8 or over - under < 1e-11:
            break
        if net > 0.0:
            over, over_f = p, net
            under_f *= 0.5 if kept == 1 else 1.0
            kept = 1
        else:
            under, under_f = p, net
            over_f *= 0.5 if kept == -1 else 1.0
            kept = -1
        if under_f < 0.0 < over_f:
            p = under - under_f * (over - under) / (over_f - under_f)
        elif net > 0.0:
            p = max(p - 0.1 * reach, 0.5 * (p + under))
        else:
            p = min(p + 0.1 * reach, 0.5 * (p + over))
    draught[PRESSURE] = p
