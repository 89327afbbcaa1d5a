"""Value and limit of findings, worked out again on a pocket calculator from the file and the published tables.

Each line stands below its working. Ω/km of copper: IEC 60228, class 5, at 20 °C; hotter by (234.5 + T)/254.5 (IEC
60287). Amperes: IEC 60364-5-52, method B1 in a duct and C clipped, at 30 °C; √((70 - Ta)/40) elsewhere. 17.241 Ω·mm²/km
is copper at its best, for the largest shorts. A joint counts 0.2 mΩ, a closed disconnect 1 mΩ (common practice, no
source). LFP: 3.418 V full, 0.045 Ω·Ah and 0.05 mΩ a link at best; lead and the drops of fuses: as their data files say.
"""

from math import log, sqrt
from pathlib import Path

import pytest

from ohmstead import study
from rules.test_practice import SLIPS, edited

EXAMPLES = Path(__file__).parents[2] / "examples"


def hot(copper_c):
    return (234.5 + copper_c) / 254.5


def volts(source_v, milliohm, watts):
    """What reaches a constant power: the larger root of V² - E·V + R·P = 0."""
    return (source_v + sqrt(source_v**2 - 4e-3 * milliohm * watts)) / 2


# Leads of the inverter: 3 mΩ of battery; 0.4 m and 0.8 m of 50 mm² at some 46 °C under 88 A (35 °C and (88/157)² of
# 35 K more); two joints at each end of each; 150 A class T, 77 mV at its rating; the disconnect.
FIRST = 2 * 0.4 * 0.386 * hot(46) + 0.8 + 77.04 / 150
INVERTER = 3 + FIRST + 1 + 2 * 0.8 * 0.386 * hot(46) + 0.8
# 2 m of 16 mm² instead, at its 70 °C: 12.2 mΩ
THIN = 3 + FIRST + 1 + 2 * 2 * 1.21 * hot(70) + 0.8
# 14 m of 50 mm² instead. The inverter stops, so its wire stays at 35 °C.
FAR = 3 + 2 * 0.4 * 0.386 * hot(35) + 0.8 + 77.04 / 150 + 1 + 2 * 14 * 0.386 * hot(35) + 0.8
# Boat, 105 °C: 14 AWG 35 A, 35 °C of air, six wires together.
BUNDLE_A = 35 * sqrt((105 - 35) / 75) * 0.60
# Boat battery, 12 V AGM of 180 Ah, old and at 5 °C: 6·(0.15·2/180·1.32 + 0.00005) = 13.5 mΩ. 4 AWG tinned 0.897 Ω/km
# over 3 ft, 1 ft and 5 ft, 14 AWG tinned 9.11 Ω/km over 18 ft, all at 105 °C; rings 0.1 mΩ; class T 0.8 mΩ; switch,
# disconnect, way; 30 A blade 88 mV.
BOAT = (13.5 + 2 * (0.9144 + 0.3048 + 1.524) * 0.8967 * hot(105) + 0.4 + 0.8 + 0.8 + 0.8 + 0.3 + 1 + 0.5
        + 2 * 5.4864 * 9.113 * hot(105) + 0.8 + 88 / 30)  # fmt: skip
# Hut bank, 8 cells of 200 Ah, old and at 3 °C: 8·(0.21·1.5/200·1.835 + 0.00015) = 24.3 mΩ. Twice 0.5 m of 16 mm², 40 m
# of 1.5 mm², all at 70 °C; 60 A class T 88 mV, 10 A blade 108 mV; disconnect, way.
HUT = 24.32 + 2 * (2 * 0.5 * 1.21 * hot(70) + 0.8) + 88 / 60 + 1 + 0.5 + 2 * 40 * 13.3 * hot(70) + 0.8 + 10.8
# Three batteries on one end: 6 mΩ each, links of 0.7 mΩ in both poles, measured at 20 °C and some 40 °C warm.
LINK = 1.4 * hot(40)
BEHIND = 1 / (1 / 6 + 1 / (6 + LINK)) + LINK
# Cabin: 4·(0.045/100 + 0.05e-3) = 2 mΩ; 0.5 m and 0.8 m of 16 mm² at 5 °C; cold 60 A class T 0.98 mΩ; disconnect.
CABIN = 2 + 2 * (0.5 + 0.8) * 17.241 / 16 * hot(5) + 0.98 + 1
# Salt pan: two banks of 16·(0.045/100 + 0.05e-3) = 8 mΩ, each with 0.8 m of 25 mm² at 4 °C and a cold 100 A class T.
# The charger adds its 30 A.
SALTPAN_A = 16 * 3.418 / ((8 + 2 * 0.8 * 17.241 / 25 * hot(4) + 80 / 100 / 1.5) / 2) * 1e3 + 30
CAM_A = (11 / 52.9, 20 / 52.2)  # two cameras behind 54 V less 1 %, less their cables

BY_HAND = [
    # 1.5 mm² in a duct at 40 °C
    ("1 fuse sized", "fuse-over-cable", 20, 17.5 * sqrt(30 / 40)),
    # 2.5 mm² at 40 °C, six circuits 0.57
    ("1 six circuits", "fuse-over-cable", 15, 24 * sqrt(30 / 40) * 0.57),
    # NEC 240.4(D): 15 A before 14 AWG
    ("1 14 AWG behind 20 A", "fuse-over-cable", 20, 15),
    # 33 CFR 183.455: 150 % of the table below 50 V
    ("1 50 A on 14 AWG", "fuse-over-cable", 50, 1.5 * BUNDLE_A),
    # the blade opens from 135 % on, within 10 min; 1.45 of the ampacity for an hour
    ("1 30 A on 14 AWG", "weak-short", 1.35 * 30, 1.45 * BUNDLE_A),
    ("1 30 A on 14 AWG", "far-end-fault-below-three-times", 11.9e3 / BOAT, 3 * 30),
    # one battery alone, 1.2 mΩ; a strip breaks 6 kA at 32 V
    ("2 strip fuses on strong", "fuse-cannot-break-fault", 4 * 3.418 / 1.2e-3, 6000),
    # 4·(0.045/100 + 0.05e-3) = 2 mΩ
    ("2 blade fuse as the first", "fuse-cannot-break-fault", 4 * 3.418 / 2e-3, 1000),
    ("3 32 V blade", "fuse-voltage-low", 56.8, 32),
    ("3 58 V blade", "fuse-voltage-low", 58.4, 58),
    # the charger adds its 20 A; 25 mm² clipped at 40 °C
    ("4 no main fuse", "unfused-run", 4 * 3.418 / 2e-3 + 20, 112 * sqrt(30 / 40)),
    # 7 in
    ("4 main fuse on the wall", "fuse-too-far", 0.4, 0.178),
    ("4 main fuse two feet", "fuse-too-far", 2 * 0.3048, 0.178),
    ("4 charger's fuse", "fuse-too-far", 1.5 - 0.1, 0.178),
    # 8·(0.045/200 + 0.05e-3) = 2.2 mΩ and 30 A of the charger; 10 mm² clipped at 35 °C: 63 A
    ("4 charger straight", "unfused-run", 8 * 3.418 / 2.2e-3 + 30, 63 * sqrt(35 / 40)),
    ("4 converter stronger", "unfused-run", 20, 17.5 * sqrt(35 / 40)),
    ("4 charger on a free way", "way-overloaded", 30, 20),
    ("6 boost set", "boost-passes-input", 14.4, 14 * 1.01),
    ("6 converter turned up", "voltage-too-high", 13.8 * 1.01, 12.6),
    # IEC 62852: 22.5 A on 2.5 mm²; class T keeps 75 %, less 12 % between 25 °C and 60 °C
    ("11 panel connectors", "plug-overloaded", 30, 22.5),
    ("11 panel connectors", "fuse-overloaded", 30, 40 * 0.75 * (1 - 0.12 * 10 / 35)),
    # 300 Ah at 4·3.299 V against the inverter's 8 W; 90 days
    ("12 batteries without", "single-failure-empties-battery", 300 * 4 * 3.299 / 8 * 3600, 90 * 86400),
    ("13 1000 W inverter on wire", "cable-overloaded", 1000 / volts(12, THIN, 1000), 85 * sqrt(35 / 40)),
    ("13 1000 W inverter twelve", "voltage-too-low", volts(12, FAR, 1000), 10.5),
    # 65 W and the loss of 3.4 A in 1.5 m of 1.5 mm² at 43 °C
    ("13 converter too small", "converter-overloaded", 65 + 3.4**2 * (3 * 13.3 * hot(43) + 0.8) * 1e-3, 60),
    ("13 current limit", "converter-at-its-current-limit", 30 / 12.4, 2),
    ("14 12 V and nothing", "voltage-too-high", 14.2, 12.6),
    ("14 equalising beyond", "converter-input-too-high", 31, 30),
    # 12.4 V less 2 %; 14 m of 1.5 mm² at 36 °C, joints, 5 A blade 130 mV, 5 mΩ inside the converter
    ("15 radio resets", "voltage-too-low", volts(12.152, 28 * 13.3 * hot(36) + 0.8 + 26 + 5, 30), 11),
    # 40 m of 93.8 Ω/km and 60 m of 74.1 Ω/km, two wires side by side each way, and jacks, at 30 °C
    ("16 budget below what the cameras", "ethernet-budget-exceeded",
     31 + CAM_A[0]**2 * (40 * 0.0938 * hot(30) + 0.04) + CAM_A[1]**2 * (60 * 0.0741 * hot(30) + 0.04), 30),
    # IEEE 802.3: 15.4 W for class 3, 30 W for class 4; 12.95 W at a device of class 3
    ("16 budget below what their", "ethernet-budget-exceeded", 15.4 + 30, 40),
    ("16 camera takes more", "ethernet-class-over-port", 14, 12.95),
    ("17 camera 120 m", "ethernet-run-too-long", 120, 100),
    # 24 W at some 24 V; 1 A blade 75 %, at 35 °C less a third of 15 %
    ("18 fuse loaded", "fuse-overloaded", 24 / 23.8, 0.75 * (1 - 0.15 * 15 / 45)),
    ("19 start of", "start-up-trips-battery", 2400 / volts(12, INVERTER, 2400), 150),
    # 232 A are 160.2 % of what 150 A are worth at 35 °C: between 135 %, 5 s and 200 %, 1 s; 29 % for 10 000 starts
    ("19 start of", "start-up-melts-fuse", 2 / (5 * (160.2 / 135) ** (log(0.2) / log(200 / 135))), 0.29),
    ("20 disconnect that never", "disconnect-stays-open", 29, 28.4),
    # a tenth of 220 Ah at 6·2.033 V, 50 W: 5.4 h
    ("21 radio wired", "disconnect-passed-by", 0.1 * 220 * 6 * 2.033 / 50 * 3600, 90 * 86400),
    ("21 disconnect set below", "disconnect-below-battery-cut-off", 21, 22),
    ("22 disconnect for 60 A", "switch-overloaded", 1000 / volts(12, INVERTER, 1000), 60),
    # ASTM B258: 20 AWG and 16 AWG
    ("23 hook-up wire", "conductor-too-thin-for-mechanics", 0.518, 1.309),
    # a 10 A blade clears 200 % in 5 s; at 3 °C it is 1/0.983 stronger than at 25 °C
    ("24 40 m to a lamp", "fault-not-cleared", 24.4e3 / HUT, 2 * 10 / (1 - 0.15 * 5 / 45)),
    ("30 lithium", "battery-charged-in-the-cold", -6, 0),
    ("34 rubber", "insulation-below-place", 62, 60),
    # straight down from 36 W at 40 °C to nothing at 70 °C; 18 W and 1.5² A² in 1.5 m of 1.5 mm² and two plugs
    ("34 converter under", "converter-overloaded-when-hot", 18 + 1.52**2 * 0.11, 36 * (70 - 62) / 30),
    # the first of the row gives what the ladder behind it leaves: 44 %, the others 31 % and 25 %
    ("38 three batteries", "batteries-share-unequally", BEHIND / (BEHIND + 6), 1 / 3),
    # 4·3.418 V against 6·2.15 V
    ("38 lead beside", "unlike-batteries-in-parallel", 4 * 3.418 - 6 * 2.15, 0),
    ("0 charger set too high", "charging-voltage-wrong-for-battery", 29.8, 28.4),
    ("0 inverter too strong", "battery-over-discharge-limit", 1000 / volts(12, INVERTER, 1000), 80),
    ("0 48 V in a wet", "touch-voltage-passed", 56.8, 30),
    # stated 3.2 mΩ; 1.5 mm² in a duct at 27 °C
    ("skerry/skerry.yaml", "fuse-cannot-break-fault", 8 * 3.418 / 3.2e-3, 6000),
    ("skerry/skerry.yaml", "fuse-over-cable", 30, 17.5 * sqrt((70 - 27) / 40)),
    # 19.8 A, measured in the heaviest case, times 3.2 + 2.4 mΩ
    ("skerry/skerry.yaml", "disconnect-hunts", 19.8 * 5.6e-3, 0.1),
    # 48 V less 1 %; 0.9 A in 0.8 m of 1.5 mm² at 50 °C, a ferrule 0.5 mΩ, a plug 30 mΩ, 5 mΩ inside the converter
    ("skerry/skerry.yaml", "ethernet-port-voltage-low",
     47.52 - 0.9e-3 * (1.6 * 13.3 * hot(50) + 2 * 30.5 + 5), 50),
    ("cabin/cabin.yaml", "fuse-cannot-break-fault", 4 * 3.418e3 / CABIN, 1000),
    # class T at ten times its rating: 0.05 s at latest, 2 ms at soonest, I²t kept beyond; half through each bank
    ("saltpan/saltpan.yaml", "fuses-not-selective",
     0.05 * (600 / SALTPAN_A) ** 2, 0.002 * (1000 / (SALTPAN_A / 2)) ** 2),
]  # fmt: skip


def found(where, rule):
    if where.endswith(".yaml"):
        text = (EXAMPLES / where).read_text(encoding="utf-8")
    else:
        (text,) = (edited(p.values[1], p.values[2]) for p in SLIPS if p.id.startswith(where))
    return [one for one in study.from_text(text, "site.yaml").findings if one.rule == rule][0]


@pytest.mark.parametrize(("where", "rule", "value", "limit"), BY_HAND, ids=[f"{w}: {r}" for w, r, _, _ in BY_HAND])
def test_value_and_limit(where, rule, value, limit):
    one = found(where, rule)
    # what the hand left out: the rise of a wire by its own current, drops of some millivolts in feeders
    assert one.value == pytest.approx(value, rel=0.01, abs=1e-9)
    assert one.limit == pytest.approx(limit, rel=0.002, abs=1e-9)


def test_shares_of_three_batteries_on_one_end():
    """44 %, 31 % and 25 %: the ladder of three with links of 0.7 mΩ a pole and 6 mΩ a battery, our own computation."""
    (text,) = (edited(p.values[1], p.values[2]) for p in SLIPS if p.id.startswith("38 three batteries"))
    views = study.from_text(text).evidence.batteries
    assert [round(views[0].shares[name], 2) for name in ("one", "two", "three")] == [0.44, 0.31, 0.25]
