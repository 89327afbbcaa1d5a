"""A box on its way through the hours: what `passage` does to each step, added up by hour."""

from typing import Any

from .kernel import (
    AREA,
    B_CAP,
    B_CONTROL,
    B_OFF,
    B_ON,
    B_WALLS,
    CAP,
    F_SIGN,
    FACE,
    GAMMA,
    IN_HIGH,
    IN_LOW,
    LINING,
    M_B,
    M_CO,
    M_F,
    M_LINKS,
    M_OFF,
    M_ON,
    M_SIDES,
    M_TALLY,
    M_VOLUMES,
    M_W,
    SKYWARD,
    SUNNY,
    UP,
    ZONE,
    G,
    Q,
    R,
    draughts,
    films,
)  # fmt: skip
from .passage import (
    CURVED,
    FIXED,
    HIGH,
    HUNTS,
    L_MIX,
    L_OUT,
    L_Q_STAR,
    L_SIDE_HIGH,
    L_SIDE_LOW,
    LAST,
    LOW,
    OFTEN,
    ON,
    SWITCHED,
    VENT,
    WALL,
    balanced,
    blend,
    driven,
    fan_watts,
    sensed,
    step,
)  # fmt: skip

# Rows of an answer; the ends of the leaves follow.
A_LOW, A_HIGH, A_LOW_MOST, A_HIGH_MOST, A_LOW_LEAST, A_HIGH_LEAST, A_HEAT, A_SUN, A_WALL, A_VENT, A_STORED = range(11)
A_FAN, A_FAN_W, A_AIR, A_SWITCHED, A_COLDEST, N_ROW = range(11, 17)
# Rows of the surroundings; of the heat the last row goes straight to the walls.
OUT_C, RADIANT_C, WIND, SKY, SUN = range(5)
HOUR_S = 3600.0
HALVES = 2  # of an hour: one step each, with the films and draughts of its middle
NEAR_K = 10.0  # of a thermostat's limits
SWITCHES = 12  # in one hour, six starts: from there on the fan hunts
TRIED_H = 4  # so often it is tried whether it still does
SOON_S = 60.0  # in which the air of a box comes near where it goes


def fill(m: Any, around: Any, heats: Any, hour: Any) -> Any:
    """Heat of one hour into the leaves; sun less sky, and what the gear gives off."""
    w, b, co, links = m[M_W], m[M_B], m[M_CO], m[M_LINKS]
    walls = int(b[B_WALLS])
    q = co[Q]
    sun = 0.0
    for j in range(walls):
        q[j] = w[SUNNY][j] * around[SUN + int(w[FACE][j])][hour] - w[SKYWARD][j] * around[SKY][hour]
        sun += q[j]
    heat = 0.0
    gear = len(q) - walls
    for i in range(gear):
        q[walls + i] = heats[i][hour]
        heat += heats[i][hour]
    links[L_Q_STAR] = heats[gear][hour]
    links[L_OUT] = around[OUT_C][hour]
    return sun, heat + heats[gear][hour]


def refilm(m: Any, around: Any, hour: Any, now: Any) -> None:
    """Films for the temperatures that are."""
    links = m[M_LINKS]
    weather = (around[OUT_C][hour], around[RADIANT_C][hour], around[WIND][hour])
    links[L_MIX] = films(m, now[0], now[1], weather)
    links[L_SIDE_LOW], links[L_SIDE_HIGH] = m[M_SIDES][0], m[M_SIDES][1]


def renew(m: Any, around: Any, hour: Any, now: Any, flags: Any) -> None:
    """Films and draughts for the temperatures that are."""
    refilm(m, around, hour, now)
    b, volumes, off, on = m[M_B], m[M_VOLUMES], m[M_OFF], m[M_ON]
    mid = now[0]
    out_c = around[OUT_C][hour]
    stands, runs = flags[ON] < 1.0, flags[ON] > 0.0 or flags[HUNTS] > 0.0
    if b[B_CONTROL] != FIXED:  # the other one too when the fan may soon change
        sense = sensed(b, mid)
        stands = stands or flags[HUNTS] > 0.0 or sense < b[B_OFF] + NEAR_K
        runs = runs or sense > b[B_ON] - NEAR_K
    if stands or len(volumes) == 0:
        draughts(m, (out_c, mid[0], mid[1], 0.0), off)
    if runs and len(volumes) > 0:
        draughts(m, (out_c, mid[0], mid[1], 1.0), on)
        if not stands:
            off[IN_LOW], off[IN_HIGH], off[UP] = on[IN_LOW], on[IN_HIGH], on[UP]
    else:
        on[IN_LOW], on[IN_HIGH], on[UP] = off[IN_LOW], off[IN_HIGH], off[UP]


def meet(m: Any, around: Any, hour: Any, now: Any, new: Any, flags: Any) -> None:
    """Films and draughts for where the air goes after a switching: half way to where one minute takes it.

    Air follows in seconds what walls and gear follow in hours. Films and draughts of the moment of switching belong to
    the other state of the fan; held, they would take the air far beyond where it goes.
    """
    renew(m, around, hour, now, flags)
    blend(m, flags[ON])
    step(m, now, new, 1.0 / (GAMMA * SOON_S))
    for part in range(2):
        for j in range(len(now[part])):
            new[part][j] = 0.5 * (now[part][j] + new[part][j])
    renew(m, around, hour, new, flags)


def coldest_inside(m: Any, now: Any) -> Any:
    """The coldest inner face of the walls."""
    w, b, co = m[M_W], m[M_B], m[M_CO]
    mid, leaf = now
    least = 1e9
    for j in range(int(b[B_WALLS])):
        t = leaf[j]
        air = mid[1] if w[ZONE][j] > 0.0 else mid[0]
        if w[LINING][j] > 0.0:
            t += (co[G][j] * (air - t) + co[R][j] * (mid[2] - t)) * w[LINING][j] / w[AREA][j]
        least = min(least, t)
    return least


def copied(source: Any, target: Any) -> None:
    """Temperatures of one state into another."""
    for part in range(2):
        for j in range(len(source[part])):
            target[part][j] = source[part][j]


def settle(m: Any, around: Any, heats: Any, hour: Any, now: Any, new: Any, flags: Any) -> None:
    """Into `now` the state that one held hour ends in, the fan as the flags say; its share is the last flag."""
    fill(m, around, heats, hour)
    for i in range(200):
        renew(m, around, hour, now, flags)
        if flags[HUNTS] > 0.0 or m[M_B][B_CONTROL] == CURVED:
            flags[LAST] = balanced(m, now, new, 0.0)
        else:
            flags[LAST] = flags[ON]
            blend(m, flags[ON])
            step(m, now, new, 0.0)
        change = 0.0
        damp = 1.0 if i < 12 else 0.5
        for part in range(2):
            for j in range(len(now[part])):
                change = max(change, abs(new[part][j] - now[part][j]))
                now[part][j] += damp * (new[part][j] - now[part][j])
        if change < 1e-8:
            break


def run(m: Any, around: Any, heats: Any, now: Any, new: Any, flags: Any, out: Any) -> None:
    """All hours of `around` from the state `now`, which ends as the last hour does; rows of `out` by hour."""
    w, b, off, on, tally = m[M_W], m[M_B], m[M_OFF], m[M_ON], m[M_TALLY]
    mid, leaf = now
    cap = w[CAP]
    n = len(leaf)
    half_band = 0.5 * (b[B_ON] - b[B_OFF]) if b[B_CONTROL] == SWITCHED else 0.0
    for hour in range(len(around[OUT_C])):
        sun, heat = fill(m, around, heats, hour)
        kept = b[B_CAP] * (mid[0] + mid[1])
        for j in range(n):
            kept += cap[j] * leaf[j]
        if flags[HUNTS] > 0.0 and hour % TRIED_H == TRIED_H - 1:
            flags[HUNTS], flags[ON] = 0.0, 1.0
        switched, first_s, time_s = 0.0, 0.0, 0.0
        wall, vent, low, high, fan, fan_w, mass = 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0
        low_most, high_most, low_least, high_least, coldest = -1e9, -1e9, 1e9, 1e9, 1e9
        for _ in range(HALVES):
            refilm(m, around, hour, now)
            blend(m, flags[LAST])
            step(m, now, new, 2.0 * HALVES / (GAMMA * HOUR_S))
            renew(m, around, hour, new, flags)  # as they will be in the middle of the half
            left = HOUR_S / HALVES
            while left > 1e-6:
                length, x, turned = driven(m, now, new, left, flags)
                time_s += length
                if turned > 0.0:
                    switched += 1.0
                    if switched == 1.0:
                        first_s = time_s
                    often = (switched - 1.0) / max(time_s - first_s, 1.0) * HOUR_S
                    if switched >= 4.0 and often >= SWITCHES:
                        flags[HUNTS], flags[OFTEN] = 1.0, often
                if length <= 0.0:
                    meet(m, around, hour, now, new, flags)
                    continue
                left -= length
                flags[LAST] = x
                copied(new, now)
                wall += length * tally[WALL]
                vent += length * tally[VENT]
                low += length * tally[LOW]
                high += length * tally[HIGH]
                fan += length * x
                fan_w += length * fan_watts(m, x)
                mass += length * ((1.0 - x) * (off[IN_LOW] + off[IN_HIGH]) + x * (on[IN_LOW] + on[IN_HIGH]))
                swing = half_band if flags[HUNTS] > 0.0 and 0.0 < x < 1.0 else 0.0
                low_most, high_most = max(low_most, mid[0] + swing), max(high_most, mid[1] + swing)
                low_least, high_least = min(low_least, mid[0] - swing), min(high_least, mid[1] - swing)
                coldest = min(coldest, coldest_inside(m, now))
                if turned > 0.0:
                    meet(m, around, hour, now, new, flags)
        stored = b[B_CAP] * (mid[0] + mid[1]) - kept
        for j in range(n):
            stored += cap[j] * leaf[j]
            out[N_ROW + j][hour] = leaf[j]
        out[A_LOW][hour], out[A_HIGH][hour] = low / HOUR_S, high / HOUR_S
        out[A_LOW_MOST][hour], out[A_HIGH_MOST][hour] = low_most, high_most
        out[A_LOW_LEAST][hour], out[A_HIGH_LEAST][hour] = low_least, high_least
        out[A_HEAT][hour] = heat + (fan_w / HOUR_S if m[M_F][F_SIGN] < 0.0 else 0.0)
        out[A_SUN][hour], out[A_WALL][hour], out[A_VENT][hour] = sun, wall / HOUR_S, vent / HOUR_S
        out[A_STORED][hour] = stored / HOUR_S
        out[A_FAN][hour], out[A_FAN_W][hour], out[A_AIR][hour] = fan / HOUR_S, fan_w / HOUR_S, mass / HOUR_S
        out[A_SWITCHED][hour] = flags[OFTEN] if flags[HUNTS] > 0.0 else switched
        out[A_COLDEST][hour] = coldest
