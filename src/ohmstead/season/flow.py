"""One pass over the hours, in the form that is compiled for many years and runs as it stands for few.

Plain Python on memoryviews costs about two microseconds an hour; importing the compiler costs as much as half a
million hours.
"""

from math import sqrt
from typing import Any

FIXED = 17  # numbers before the thresholds at which priorities are shed and taken back, a pair each
SLACK = 1e-9  # what rounding may take from a bank that stands at a threshold or is full


def flow(series: Any, load: Any, by_state: Any, rules: Any, out: Any) -> None:
    """Fill `out`; see `kernel.run`. Arrays, or memoryviews of them where it runs uncompiled."""
    full, floor, cut, back = rules[0], rules[1], rules[2], rules[3]
    accepted, passed, rested, discharge = rules[4], rules[5], rules[6], rules[7]
    state = rules[8]
    share, stays, joins, drawn = rules[9], rules[10], rules[11], rules[12]
    at_hand = share * state
    connected = state > cut or cut <= floor
    n_grid = len(by_state) // 2
    scale = (n_grid - 1) / (share * full) if full > 0.0 else 0.0
    opens, closes = share * cut * (1.0 + SLACK), share * back * (1.0 - SLACK)
    kept = 1.0 - passed
    power, starts, stops, least = rules[13], share * rules[14], share * rules[15], rules[16]
    level, n_level = 0, (len(rules) - FIXED) // 2
    while level < n_level and state <= rules[FIXED + 2 * level]:
        level += 1
    runs = power > 0.0 and at_hand <= starts
    ran = 0.0
    for hour in range(out.shape[1]):
        point = int(at_hand * scale + SLACK)
        where = by_state[point]
        free = stays * at_hand + joins * state
        if where <= 1.0:
            asked = load[0, hour] + where * (load[1, hour] - load[0, hour])
        else:
            asked = load[1, hour] + (where - 1.0) * (load[2, hour] - load[1, hour])
        offered = asked
        if level > 0:
            row = 3 * level
            if where <= 1.0:
                offered = load[row, hour] + where * (load[row + 1, hour] - load[row, hour])
            else:
                offered = load[row + 1, hour] + (where - 1.0) * (load[row + 2, hour] - load[row + 1, hour])
        wanted = offered if connected else min(offered, series[1, hour])
        given = power if runs else 0.0
        k = series[2, hour] * by_state[n_grid + point]
        net = series[0, hour] + given - wanted
        served = wanted
        spilled = 0.0
        lost = 0.0
        tripped = False
        if net >= 0.0:
            inside = 2.0 * net / (1.0 + sqrt(1.0 + 4.0 * k * net))
            most = min(series[3, hour], (share * full - free) / drawn * accepted / kept)
            if inside > most:
                inside = max(most, 0.0)
                spilled = net - inside - k * inside * inside
                if given > 0.0:  # what finds no room is left unmade first
                    given = max(given - spilled, 0.0)
                    spilled = max(spilled - power, 0.0)
            state += kept * inside
            at_hand = free + drawn * kept * inside
            lost = k * inside * inside + passed * inside
        else:
            need = -net
            most = discharge
            if k > 0.0:
                most = min(most, 0.5 / k)
            low = max(cut if connected else floor, series[4, hour])
            left = max((free - share * low) / drawn, 0.0)
            root = 1.0 - 4.0 * k * need
            inside = 2.0 * need / (1.0 + sqrt(root)) if root > 0.0 else most + left + 1.0
            if inside > most or inside > left:
                tripped = inside > left
                inside = min(most, left)
                served = wanted - (need - (inside - k * inside * inside))
            state -= inside
            at_hand = free - drawn * inside
            lost = k * inside * inside
        gone = state * rested
        state -= gone
        at_hand -= at_hand * rested
        out[0, hour] = served
        out[1, hour] = asked - served
        out[2, hour] = spilled
        out[3, hour] = lost + gone
        out[4, hour] = state
        out[5, hour] = 1.0 if connected else 0.0
        out[6, hour] = at_hand
        out[7, hour] = level
        out[8, hour] = given
        out[9, hour] = 1.0 if runs else 0.0
        if runs:
            ran += 1.0
            runs = ran < least or at_hand < stops
        elif power > 0.0 and (tripped or at_hand <= starts):
            runs = True
            ran = 0.0
        if level < n_level and at_hand <= share * rules[FIXED + 2 * level] * (1.0 + SLACK):
            while level < n_level and at_hand <= share * rules[FIXED + 2 * level] * (1.0 + SLACK):
                level += 1
        else:
            while level > 0 and at_hand >= share * rules[FIXED - 1 + 2 * level] * (1.0 - SLACK):
                level -= 1
        if connected:
            connected = not (cut > floor and (tripped or at_hand <= opens))
        else:
            connected = at_hand >= closes
