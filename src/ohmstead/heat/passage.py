"""One step of a box, its fan's switch, and its way through the hours; runs as it stands and compiled, like `kernel`.

A step is two implicit stages of one matrix: leaves are eliminated, three middles remain. What each stage lets through
is summed with the stage's weight, so that heat in equals heat out and heat stored but for rounding.
"""

from math import exp
from typing import Any

from .kernel import (
    B_CAP,
    B_CONTROL,
    B_HEIGHT,
    B_LAG,
    B_OFF,
    B_ON,
    B_SENSE,
    B_WALLS,
    CAP,
    CP,
    F_HEIGHT,
    F_IDLE,
    F_POWER,
    F_SIGN,
    GAMMA,
    IN_HIGH,
    IN_LOW,
    M_B,
    M_CO,
    M_F,
    M_LINKS,
    M_OFF,
    M_ON,
    M_SPEED_C,
    M_SPEED_X,
    M_TALLY,
    M_W,
    TE,
    UP,
    ZONE,
    D,
    G,
    K,
    Q,
    R,
    S,
)  # fmt: skip

# What joins the middles (`links`), and what a step adds up (`tally`).
L_LOW, L_HIGH, L_UP, L_MIX, L_SIDE_LOW, L_SIDE_HIGH, L_OUT, L_Q_LOW, L_Q_HIGH, L_Q_STAR = range(10)
WALL, VENT, LOW, HIGH = range(4)
FIXED, SWITCHED, CURVED = 0.0, 1.0, 2.0  # how the fan is driven
# Flags: runs, hunts, the last share of the fan, what its sensor feels, how often it switches in an hour of hunting.
ON, HUNTS, LAST, FELT, OFTEN = range(5)


def step(m: Any, now: Any, new: Any, rate: Any) -> None:
    """From `now` to `new` (three middles, leaves); rate = 1 / (γ · step), 0 for a steady state."""
    w, b, co, links, tally = m[M_W], m[M_B], m[M_CO], m[M_LINKS], m[M_TALLY]
    mid, leaf = now
    mid2, leaf2 = new
    zone, cap = w[ZONE], w[CAP]
    g, r, k, te, q, d, s = co[G], co[R], co[K], co[TE], co[Q], co[D], co[S]
    n, walls = len(leaf), int(b[B_WALLS])
    low, high, star, low_star, high_star, plume = 0.0, 0.0, 0.0, 0.0, 0.0, 0.0
    for j in range(n):
        whole = cap[j] * rate + g[j] + r[j] + k[j]
        d[j] = 1.0 / whole
        keeps = g[j] * (1.0 - g[j] * d[j])
        star += r[j] * (1.0 - r[j] * d[j])
        if zone[j] > 0.0:
            high += keeps
            high_star += g[j] * r[j] * d[j]
        elif j >= walls and leaf[j] > mid[0]:
            plume += keeps  # what warm gear below gives off rises into the upper half
        else:
            low += keeps
            low_star += g[j] * r[j] * d[j]
    up, down = max(links[L_UP], 0.0), max(-links[L_UP], 0.0)
    mix = links[L_MIX]
    held = b[B_CAP] * rate
    low_star += links[L_SIDE_LOW]
    high_star += links[L_SIDE_HIGH]
    star += links[L_SIDE_LOW] + links[L_SIDE_HIGH]
    if star <= 0.0:
        star = 1.0
    a00 = held + low + mix + links[L_LOW] + down + links[L_SIDE_LOW]
    a01 = -mix - down
    a10 = -mix - up + plume
    a11 = held + high + mix + links[L_HIGH] + up + links[L_SIDE_HIGH]
    # The star is eliminated too: what is left are the two airs.
    a00 -= low_star * low_star / star
    a01 -= low_star * high_star / star
    a10 -= low_star * high_star / star
    a11 -= high_star * high_star / star
    det = a00 * a11 - a01 * a10
    for i in range(4):
        tally[i] = 0.0
    for stage in range(2):
        weight = GAMMA if stage == 1 else 1.0 - GAMMA
        turn = (1.0 - GAMMA) / GAMMA if stage == 1 else 0.0  # the second stage starts from where the first points
        c0 = held * (mid[0] + turn * (mid2[0] - mid[0])) + links[L_LOW] * links[L_OUT] + links[L_Q_LOW]
        c1 = held * (mid[1] + turn * (mid2[1] - mid[1])) + links[L_HIGH] * links[L_OUT] + links[L_Q_HIGH]
        c2 = links[L_Q_STAR]
        for j in range(n):
            from_c = leaf[j] + turn * (leaf2[j] - leaf[j]) if stage == 1 else leaf[j]
            s[j] = cap[j] * rate * from_c + k[j] * te[j] + q[j]
            given = g[j] * d[j] * s[j]
            if zone[j] > 0.0 or (j >= walls and leaf[j] > mid[0]):
                c1 += given
            else:
                c0 += given
            c2 += r[j] * d[j] * s[j]
        c0 += low_star * c2 / star
        c1 += high_star * c2 / star
        t0 = (c0 * a11 - c1 * a01) / det
        t1 = (a00 * c1 - a10 * c0) / det
        t2 = (c2 + low_star * t0 + high_star * t1) / star
        wall = 0.0
        for j in range(n):
            t = (s[j] + g[j] * (t1 if zone[j] > 0.0 else t0) + r[j] * t2) * d[j]
            leaf2[j] = t
            wall += k[j] * (t - te[j])
        mid2[0], mid2[1], mid2[2] = t0, t1, t2
        out_c = links[L_OUT]
        vent = links[L_LOW] * (t0 - out_c) + links[L_HIGH] * (t1 - out_c) + (up - down) * (t1 - t0)
        tally[WALL] += weight * wall
        tally[VENT] += weight * vent
        tally[LOW] += weight * t0
        tally[HIGH] += weight * t1


def fan_watts(m: Any, x: Any) -> Any:
    """What the fan takes: for a share of the time under a thermostat, else at a share of its speed, cubed."""
    b, f = m[M_B], m[M_F]
    if b[B_CONTROL] == SWITCHED:
        return x * f[F_POWER]
    return f[F_IDLE] + (f[F_POWER] - f[F_IDLE]) * x**3


def blend(m: Any, x: Any) -> None:
    """Draughts at a share of the fan, between stopped and running, and its own heat where it blows in."""
    b, f, off, on, links = m[M_B], m[M_F], m[M_OFF], m[M_ON], m[M_LINKS]
    links[L_LOW] = CP * (off[IN_LOW] + x * (on[IN_LOW] - off[IN_LOW]))
    links[L_HIGH] = CP * (off[IN_HIGH] + x * (on[IN_HIGH] - off[IN_HIGH]))
    links[L_UP] = CP * (off[UP] + x * (on[UP] - off[UP]))
    own = fan_watts(m, x) if f[F_SIGN] < 0.0 else 0.0
    below = f[F_HEIGHT] <= 0.5 * b[B_HEIGHT]
    links[L_Q_LOW] = own if below else 0.0
    links[L_Q_HIGH] = 0.0 if below else own


def sensed(b: Any, mid: Any) -> Any:
    """Air where the sensor is."""
    return mid[0] + b[B_SENSE] * (mid[1] - mid[0])


def felt(b: Any, mid: Any, before: Any, length: Any) -> Any:
    """What the sensor feels after some seconds in air of this temperature."""
    air = sensed(b, mid)
    return air + (before - air) * exp(-length / b[B_LAG]) if b[B_LAG] > 0.0 else air


def asked(m: Any, sense: Any) -> Any:
    """Share of speed that the curve asks for; of a hunting thermostat more than all above the middle of its band."""
    b, curve_c, curve_x = m[M_B], m[M_SPEED_C], m[M_SPEED_X]
    if b[B_CONTROL] == SWITCHED:
        return 0.5 + 100.0 * (sense - 0.5 * (b[B_ON] + b[B_OFF]))
    if sense <= curve_c[0]:
        return curve_x[0]
    for i in range(1, len(curve_c)):
        if sense <= curve_c[i]:
            along = (sense - curve_c[i - 1]) / (curve_c[i] - curve_c[i - 1])
            return curve_x[i - 1] + along * (curve_x[i] - curve_x[i - 1])
    return curve_x[len(curve_x) - 1]


def balanced(m: Any, now: Any, new: Any, rate: Any) -> Any:
    """A step with the share of the fan that its own outcome asks for; the share."""
    b = m[M_B]
    under, over = 0.0, 1.0
    blend(m, 0.0)
    step(m, now, new, rate)
    under_f = asked(m, sensed(b, new[0])) - 0.0
    if under_f <= 0.0:
        return 0.0
    blend(m, 1.0)
    step(m, now, new, rate)
    over_f = asked(m, sensed(b, new[0])) - 1.0
    if over_f >= 0.0:
        return 1.0
    x, kept = 0.0, 0
    for _ in range(40):
        x = under + under_f * (over - under) / (under_f - over_f)
        blend(m, x)
        step(m, now, new, rate)
        net = asked(m, sensed(b, new[0])) - x
        if abs(net) < 1e-4 or over - under < 1e-7:
            break
        if net > 0.0:
            under, under_f = x, net
            over_f *= 0.5 if kept == 1 else 1.0
            kept = 1
        else:
            over, over_f = x, net
            under_f *= 0.5 if kept == -1 else 1.0
            kept = -1
    return x


def driven(m: Any, now: Any, new: Any, length: Any, flags: Any) -> Any:
    """The next piece of a step, up to where the thermostat switches: its length, the share of the fan, switched."""
    b = m[M_B]
    if b[B_CONTROL] == CURVED or (b[B_CONTROL] == SWITCHED and flags[HUNTS] > 0.0):
        x = balanced(m, now, new, 1.0 / (GAMMA * length))
        if b[B_CONTROL] == SWITCHED and (x <= 0.0 or x >= 1.0):
            flags[HUNTS], flags[ON] = 0.0, x
        flags[FELT] = felt(b, new[0], flags[FELT], length)
        return length, x, 0.0
    x = flags[ON]
    blend(m, x)
    step(m, now, new, 1.0 / (GAMMA * length))
    if b[B_CONTROL] != SWITCHED:
        return length, x, 0.0
    limit = b[B_OFF] if x > 0.0 else b[B_ON]
    begin, end = flags[FELT], felt(b, new[0], flags[FELT], length)
    if (end - limit) * (1.0 if x > 0.0 else -1.0) > 0.0:
        flags[FELT] = end
        return length, x, 0.0
    flags[ON] = 1.0 - x
    early, late, before, after = 0.0, length, begin - limit, end - limit
    if before == 0.0 or (before > 0.0) == (after > 0.0):
        return 0.0, x, 1.0
    piece = length
    for _ in range(8):  # false position until the sensor stands at its limit
        piece = early + (late - early) * before / (before - after)
        if piece < 1.0:
            return 0.0, x, 1.0
        step(m, now, new, 1.0 / (GAMMA * piece))
        net = felt(b, new[0], begin, piece) - limit
        flags[FELT] = net + limit
        if abs(net) < 0.02 or late - early < 1.0:
            break
        if (net > 0.0) == (after > 0.0):
            late, after = piece, net
            before *= 0.7
        else:
            early, before = piece, net
            after *= 0.7
    return piece, x, 1.0
