"""Values that a site file may hold, drawn at random: usual ones, and with `wild` dice the extremes the reader takes."""

from random import Random
from typing import Any

Entry = dict[str, Any]


def listed(text: str) -> tuple[str, ...]:
    """The entries of a list written with commas over several lines."""
    return tuple(" ".join(entry.split()) for entry in text.split(","))


FUSES = listed(
    """
    0.1 A glass F, 2 A glass F, 10 A 5x20 T, 0.25 A glass UL, 30 A glass UL, 5 A 6x32 T, 1 A blade, 3 A blade,
    7.5 A blade, 15 A blade, 30 A blade, 40 A blade, 10 A blade 58 V, 5 A mini blade, 60 A maxi, 80 A maxi 58 V,
    40 A bolt-down small, 200 A bolt-down M5, 60 A large bolt-down, 500 A large bolt-down, 400 A large bolt-down
    70 V, 1 A breaker, 20 A breaker, 63 A breaker, 30 A class T, 125 A class T, 400 A class T, 1 A 10x38, 32 A
    10x38 gPV, 16 A NH gPV, 250 A NH, 35 A ANL-type, 750 A strip, 30 A stud, 100 A terminal, 300 A cube
    """
)
THIN = listed(
    """
    0.05 mm2, 30 AWG, 0.22 mm2 vehicle, 0.5 mm2, 18 gauge SAE, 0.75 mm2 solid, 20 AWG tinned
    """
)
USUAL = listed(
    """
    1 mm2, 1.5 mm2, 2.5 mm2, 4 mm2 tinned, 6 mm2, 10 mm2 XLPE 90 °C, 16 mm2, 2.5 mm2 class 2, 14 AWG, 10 AWG, 8
    AWG 105 °C, 6 AWG, 8 gauge, 12 gauge SAE, 6 mm auto, 4 mm2 vehicle, 1.5 mm2 vehicle tinned, 4 mm2 CCA, 7.3
    mm2, 12 AWG solid, 10 gauge auto, 3 mm, 6 mm2 aluminium, 2.5 mm2 silicone, 6 mm2 class 6, 9 AWG, 4 mm2
    rubber
    """
)
THICK = listed(
    """
    25 mm2, 35 mm2, 50 mm2 tinned, 70 mm2, 120 mm2 CCA, 4/0 AWG, 2 AWG, 2/0 gauge SAE, 95 mm2 vehicle, 300 mm2,
    400 mm2, 35 mm2 aluminium 90 °C, 1 gauge SAE
    """
)
CABLES = listed(
    """
    Cat5e 24 AWG, Cat5e, Cat6 23 AWG, Cat5e CCA, Cat6a, Cat5e 26 AWG patch, Cat7 22 AWG, Cat5e 30 AWG
    """
)
ENDS = listed(
    """
    ferrule, ring M8, ring M4, tab 6.3, tab 9.5, barrel 5.5x2.1, barrel 5.5x2.5 centre positive, XT60, bullet
    4.5, barrel 5.5x2.1 centre negative, PV 4 mm2, eiaj 03, usb-c, screw, screw 16, bare, butt, rj45
    """
)
INLETS = listed(
    """
    barrel 5.5x2.1 centre positive, barrel 5.5x2.5 centre negative, barrel 4.0x1.7, eiaj 05, screw 2.5, usb-c,
    XT90
    """
)
LAID = listed(
    """
    free air, clipped, in conduit, in trunking, in trunking with 5, bundled with 3, free air with 9, in conduit
    with 40, bundled with 200
    """
)
SIZES = listed(
    """
    0.75 mm2 = 0.75, 1 mm2 = 1, 1.5 mm2 = 1.5, 14 AWG = 1.8, 2.5 mm2 = 2.5, 12 gauge SAE = 3.1, 4 mm2 tinned =
    4, 6 mm auto = 4.6, 10 AWG = 5.2, 6 mm2 = 6, 8 AWG 105 °C = 8.3, 10 mm2 XLPE 90 °C = 10, 16 mm2 = 16, 25 mm2
    = 25, 2 AWG = 33, 35 mm2 = 35, 50 mm2 = 50, 70 mm2 = 70, 95 mm2 vehicle = 95, 4/0 AWG = 107, 120 mm2 = 120
    """
)
SIZED = tuple((float(row.partition(" = ")[2]), row.partition(" = ")[0]) for row in SIZES)
STATES = ("idle", "busy", "sending", "standby", "day", "night", "full tilt", "Öl", "off", "hot", "2", "bare")
CLOCKS = ("00:00-06:00", "06:00-12:30", "12:30-18:00", "18:00-24:00")


def figure(dice: Random, least: float, most: float, unit: str) -> str:
    """A value between two others, evenly over the decades, as somebody would write it."""
    value = least * (most / least) ** dice.random()
    return f"{value:.3g} {unit}" if value < 1e5 and float(f"{value:.3g}") < 1e4 else f"{value:.0f} {unit}"


def maybe(dice: Random, share: float, **entries: Any) -> Entry:
    """The entries, or nothing."""
    return entries if dice.random() < share else {}


def window(dice: Random, volts: float, wild: bool = False) -> str:
    """A voltage window that mostly holds a supply."""
    if dice.random() < (0.5 if wild else 0.04):
        low = max(0.01, volts * dice.choice((0.01, 0.5, 0.97, 1.3, 3.0)))
        return f"{low:.4g}..{min(1900.0, low * dice.choice((1.001, 1.1, 2.0, 9.0))):.4g} V"
    form = dice.randrange(6)
    if form == 0:
        return f"{volts:.4g} V ± {dice.choice((2, 5, 10, 20, 30))} %"
    if form == 1:
        return f"{volts:.4g} V +- {0.25 * volts:.3g} V"
    return f"{volts * dice.uniform(0.5, 0.85):.3g}..{volts * dice.uniform(1.15, 1.6):.3g} V"


def power(dice: Random, watts: float, volts: float) -> str:
    """A power in one of its forms."""
    form = dice.randrange(5)
    if form == 0:
        return f"{watts / volts:.3g} A at {volts:.3g} V"
    if form == 1:
        return f"0..{watts:.3g} W"
    if form == 2:
        return f"{watts:.3g} W ± 10 %"
    return f"{watts:.3g} W" if watts >= 0.01 else f"{watts * 1000:.3g} mW"


def draws(dice: Random, watts: float, volts: float) -> Any:
    """What a device takes: one power, or one for each of several states, brief ones among them."""
    if dice.random() < 0.4:
        return power(dice, watts, volts) + (" for 2 s" if dice.random() < 0.05 else "")
    states = dice.sample(STATES, dice.randint(1, 4))
    found = {state: power(dice, watts * dice.choice((1.0, 0.5, 0.1, 0.01)), volts) for state in states}
    if dice.random() < 0.15:
        found["rest"] = "0 W"
    if dice.random() < 0.4:
        brief = f" for {dice.choice(('25 s', '200 ms', '1.5 s', '2 h', '5 min'))}"
        found["start-up"] = power(dice, watts * dice.choice((1.5, 5.0, 0.5)), volts) + brief
    if dice.random() < 0.1:
        found["surge"] = power(dice, watts * 8, volts) + " for 20 ms"
    return found


def duty(dice: Random, drawing: Any) -> Entry:
    """A schedule that fits the states, or none."""
    if dice.random() < 0.4:
        return {}
    if not isinstance(drawing, dict):
        clock = dice.choice(
            ("always", "2 h a day", "now and then", "23:00-01:00", "dusk..dawn", "dawn..dusk", "30 min a day")
        )
        return {"duty": clock if dice.random() < 0.6 else {"on": clock}}
    lasting = [state for state, text in drawing.items() if " for " not in text] or list(drawing)
    named = dice.sample(lasting, dice.randint(1, len(lasting)))
    clocks = list(CLOCKS)
    dice.shuffle(clocks)
    found: Entry = {}
    resting = dice.choice(("", named[-1]))
    for state in named:
        if state == resting:
            found[state] = "rest"
        elif clocks and dice.random() < 0.5:
            found[state] = clocks.pop() if len(clocks) < 3 or dice.random() < 0.7 else [clocks.pop(), clocks.pop()]
        else:
            found[state] = dice.choice(("dusk..dawn", "dawn..dusk", "2 h a day", "now and then", "24 h a day"))
    if list(found.values()) == ["rest"]:
        return {"duty": "now and then"}
    return {"duty": found}


def efficiency(dice: Random, wild: bool) -> Any:
    """One share or a curve, three points among them."""
    if dice.random() < 0.5:
        return f"{dice.choice((93, 85, 99, 40, 2) if wild else (93, 85, 75))} %" if dice.random() < 0.5 else "0.9"
    loads = dice.sample(("1 %", "10 %", "20 %", "50 %", "75 %", "100 %", "150 %"), dice.randint(1, 5))
    return {load: f"{dice.uniform(0.6, 0.98):.3f}" for load in loads}


def wire(dice: Random, loop_ohm: float, metres: float, wild: bool) -> str:
    """A conductor, mostly thick enough for a loop of so much resistance."""
    if dice.random() < 0.04:
        return "choose"
    if dice.random() < (0.4 if wild else 0.15):
        return dice.choice((*THIN, *USUAL, *THICK))
    needed = 2 * metres * 0.02 / loop_ohm
    return dice.choice([text for area, text in SIZED if area >= needed][:5] or THICK)


def length(dice: Random, wild: bool) -> tuple[str, float]:
    """A route, as written and in metres."""
    if wild and dice.random() < 0.3:
        return dice.choice(
            (("1 mm", 0.001), ("1 km", 1000.0), ("99000 m", 99000.0), ("0.01 ft", 0.003), ("2 in", 0.05))
        )
    feet, centimetres, metres = dice.randint(1, 30), dice.randint(10, 300), dice.randint(2, 120) / 10
    return dice.choice(
        ((f"{feet} ft", feet * 0.3048), (f"{centimetres} cm", centimetres / 100), (f"{metres} m", metres))
    )
