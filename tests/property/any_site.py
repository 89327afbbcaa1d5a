"""Site files grown from a seed: anything a builder may write that the reader takes, sensible or not."""

from dataclasses import dataclass
from random import Random

from property import any_value as values
from property.any_value import Entry, figure, listed, maybe
from property.site_pieces import Made

RULES = ("IEC", "US", "small craft", "vehicle")
CHEMISTRIES = {"LFP": 3.2, "NMC": 3.65, "lead flooded": 2.0, "lead AGM": 2.0}
NAMES = (
    *listed(
        """
        bank, bank out, main, feed in, way out, Küche, pump #2, it's, x (positive), all start, busy, 2, no, mast-lamp,
        feed, way, a, A, 負荷, hut: north, site
        """
    ),
    "net, east",
    "deck light with a rather long name, such as some people give their parts",
)
ZONES: dict[str, Entry] = {
    "hut": {"air": "2..27 °C"},
    "outdoors": {"air": "-40..55 °C"},
    "engine": {"air": "20..95 °C", "inside": "outdoors"},
    "cabinet": {"air": "hut + 8 K", "inside": "hut"},
    "oven": {"air": "120..150 °C"},
    "box": {"air": "cabinet + 15 K", "inside": "cabinet"},
    "ice": {"air": "-60 °C"},
}
TWO_SIDED = ("switch", "low-voltage disconnect", "converter", "ethernet power source")


@dataclass
class Outlet:
    """Something that a run may start from: its voltage, and for blocks and Ethernet sources the next way."""

    part: str
    volts: float
    kind: str
    watts: float
    ways: int = 0
    used: int = 0


class _Bed:
    """A site while it grows."""

    def __init__(self, seed: int) -> None:
        self.dice = Random(seed)
        self.made = Made(seed)
        self.wild = self.dice.random() < 0.3
        self.odd_names = self.dice.random() < 0.15
        self.outlets: list[Outlet] = []
        self.volts = self.dice.choice((12.0, 12.0, 24.0, 24.0, 48.0, 3.2, 96.0) if self.wild else (12.0, 24.0, 48.0))
        self.watts = self.volts * self.dice.choice((1, 5, 20, 60) if self.wild else (5, 20, 60))

    def name(self, kind: str) -> str:
        known = {**self.made.parts, **self.made.battery}
        if self.odd_names and self.dice.random() < 0.5:
            free = [name for name in NAMES if name not in known and not self.clashes(name, kind)]
            if free:
                return self.dice.choice(free)
        return f"{kind} {len(known)}"

    def clashes(self, name: str, kind: str) -> bool:
        """True when a part would be called as the input or output of another is."""
        base, _, side = name.rpartition(" ")
        above = self.made.parts.get(base, {}).get("kind") if side in ("in", "out") else None
        sides = {f"{name} in", f"{name} out"} & {*self.made.parts, *self.made.battery}
        return above in TWO_SIDED or (kind in ("switch", "low-voltage", "supply", "hub") and bool(sides))

    def zone(self) -> Entry:
        return {"zone": self.dice.choice(list(self.made.zones))} if self.made.zones and self.dice.random() < 0.7 else {}

    def part(self, kind: str, short: str, entry: Entry) -> str:
        name = self.name(short)
        self.made.parts[name] = {"kind": kind, **entry, **self.zone()}
        return name

    def amps(self) -> float:
        return self.watts / self.volts

    def setting(self) -> None:
        dice = self.dice
        site = maybe(dice, 0.5, rules=dice.choice(RULES)) | maybe(dice, 0.5, name="Skerry")
        site |= maybe(dice, 0.3, latitude=dice.choice(("57.6", "-90", "0", "69"))) | maybe(dice, 0.1, touch="wet")
        site |= maybe(dice, 0.2, elevation=dice.choice(("-400 m", "4200 m")))
        site |= maybe(dice, 0.1, **{"drop limit": dice.choice(("3 %", "100 %", "0.01 %"))})
        site |= maybe(dice, 0.1, **{"clear within": dice.choice(("0.4 s", "10 ms", "1000 h"))})
        self.made.site = site
        if dice.random() < 0.7:
            wanted = dice.sample(list(ZONES), dice.randint(1, 4))
            for zone in list(wanted):
                wanted += {"cabinet": ["hut"], "box": ["cabinet", "hut"], "engine": ["outdoors"]}.get(zone, [])
            self.made.zones = {zone: ZONES[zone] for zone in dict.fromkeys(wanted)}

    def batteries(self) -> None:
        dice = self.dice
        for _ in range(dice.choice((0, 1, 1, 1, 1, 1, 2, 3))):
            chemistry = dice.choice(list(CHEMISTRIES))
            cells = max(1, round(self.volts / CHEMISTRIES[chemistry]))
            if self.wild and dice.random() < 0.1:
                cells = dice.randint(1, 40)
            ah = figure(dice, *((0.001, 9e5) if self.wild and dice.random() < 0.2 else (20, 400)), "Ah")
            full = cells * CHEMISTRIES[chemistry] * 1.15
            entry: Entry = {"chemistry": chemistry, "capacity": ah, **self.zone()}
            entry |= (
                {"cells": str(cells)} if dice.random() < 0.8 else {"voltage": f"{cells * CHEMISTRIES[chemistry]:.4g} V"}
            )
            entry |= maybe(
                dice,
                0.4,
                resistance=figure(dice, *((1e-6, 20) if self.wild else (1e-3, 0.03 * self.volts / self.amps())), "Ω"),
            )
            entry |= maybe(dice, 0.2, **{"slow resistance": figure(dice, 1e-4, 1e-2, "Ω"), "slow time": "90 s"})
            entry |= maybe(dice, 0.3, charging=f"{full:.4g} V") | maybe(dice, 0.1, equalising=f"{full * 1.05:.4g} V")
            entry |= maybe(dice, 0.3, **{"cut-off": f"{full * 0.75:.4g} V"}) | maybe(dice, 0.1, **{"in parallel": "2"})
            rest = {"full": f"{full * 0.95:.4g} V", "nominal": f"{full * 0.9:.4g} V", "cut-off": f"{full * 0.7:.4g} V"}
            entry |= maybe(dice, 0.1, **{"open circuit": rest})
            limit = self.amps() * dice.choice((0.3, 2, 10))
            limits = maybe(dice, 0.7, discharge=f"{limit:.3g} A") | maybe(dice, 0.7, charge=f"{limit / 2:.3g} A")
            limits |= maybe(dice, 0.5, **{"short-trip": f"{limit * 4:.3g} A"})
            entry |= maybe(dice, 0.5, limits=limits) if limits else {}
            name = self.name("bank")
            self.made.battery[name] = entry
            self.outlets.append(Outlet(name, self.volts, "battery", self.watts))

    def chargers(self) -> None:
        dice = self.dice
        for _ in range(dice.choice((0, 0, 1, 1, 2)) if self.made.battery else dice.choice((0, 1, 1))):
            volts = self.volts * (dice.choice((0.5, 1.0, 2.0, 0.01)) if self.wild else dice.uniform(1.1, 1.2))
            entry: Entry = {"voltage": f"{volts:.4g} V", "current": figure(dice, 1, 60, "A")}
            entry |= maybe(dice, 0.5, **{"from": dice.choice(("mains", "sun", "generator", "vehicle"))})
            entry |= maybe(dice, 0.2, equalising=f"{volts * 1.04:.4g} V") | maybe(
                dice, 0.2, power=figure(dice, 20, 2000, "W")
            )
            name = self.part("charger", "charger", entry)
            if self.outlets and dice.random() < 0.8:  # it feeds what is there
                self.run(Outlet(name, volts, "charger", 0), dice.choice(self.outlets).part, 20.0)
            else:
                self.outlets.append(Outlet(name, volts, "charger", self.watts))

    def run(self, start: Outlet, end: str, amps: float, over: str = "wire") -> None:
        """A run, written in one of many ways."""
        dice = self.dice
        entry: Entry = {"from": start.part, "to": end}
        if start.ways and (start.used < start.ways) and (start.kind == "ethernet" or dice.random() < 0.9):
            start.used += 1
            entry["from"] = f"{start.part} / {start.used}"
        if dice.random() < 0.06:  # the wrong way round
            entry = {"from": entry["to"], "to": entry["from"]}
        entry["length"], metres = values.length(dice, self.wild)
        if over == "wire":
            entry["wire"] = values.wire(dice, 0.03 * start.volts / amps, metres, self.wild)
        else:
            entry |= {"cable": dice.choice(values.CABLES), **maybe(dice, 0.3, pairs=str(dice.randint(1, 4)))}
        if dice.random() < (0.6 if over == "wire" else 0.15):
            entry |= self.fuse(entry["length"], amps)
        entry |= maybe(dice, 0.15, ends=[dice.choice(values.ENDS), dice.choice(values.ENDS)])
        entry |= maybe(dice, 0.3, laid=dice.choice(values.LAID)) | maybe(dice, 0.1, sheathed="yes") | self.zone()
        ohm = 0.02 * start.volts / amps
        entry |= maybe(
            dice,
            0.05,
            resistance=figure(dice, 1e-6, 1e3 if self.wild and dice.random() < 0.3 else max(2e-6, min(9e5, ohm)), "Ω"),
        )
        entry |= maybe(dice, 0.03, **{"wire resistance": figure(dice, 0.1, 90, "Ω/km")})
        entry |= maybe(dice, 0.04, joint=figure(dice, 1e-4, 3e-3, "Ω")) | maybe(
            dice, 0.05, ampacity=figure(dice, 0.1, 300, "A")
        )
        self.write(entry, over)

    def write(self, entry: Entry, over: str) -> None:
        dice = self.dice
        if over != "wire" or dice.random() > 0.08:
            self.made.runs.append(entry)
            if dice.random() < 0.04 and "/" not in entry["from"] + entry["to"]:  # a second run beside it
                self.made.runs.append({**entry, "length": entry["length"].replace("1 m", "2 m")})
            return
        back = {key: value for key, value in entry.items() if not key.startswith("fuse") and key != "holder"}
        both = [{**entry, "wires": "positive"}, {**back, "wires": "negative"}]
        self.made.runs += both if dice.random() < 0.8 else [dice.choice(both)]

    def fuse(self, length: str, amps: float) -> Entry:
        dice = self.dice
        if dice.random() < 0.06:
            return {"fuse": "choose"}
        fit = [fuse for fuse in values.FUSES if 0.8 * amps <= float(fuse.split()[0]) <= 4 * amps]
        chosen = dice.choice(fit) if fit and dice.random() < 0.8 else dice.choice(values.FUSES)
        entry: Entry = {"fuse": chosen, **maybe(dice, 0.1, holder=figure(dice, 5, 200, "A"))}
        if length.endswith(" m") and dice.random() < 0.4:
            entry["fuse at"] = f"{float(length[:-2]) * dice.choice((0, 0.1, 1.0)):.4g} m"
        stated = {"135 %": "60..1800 s", "200 %": "0.2..5 s", "600 %": "10..100 ms"}
        return entry | maybe(dice, 0.08, **{"fuse window": dict(list(stated.items())[: dice.randint(1, 3)])})

    def through(self) -> None:
        """Something that current passes: busbar, block, switch or disconnect."""
        dice = self.dice
        outlet = self.outlet()
        kind = dice.choice(("busbar", "distribution", "distribution", "switch", "low-voltage disconnect"))
        amps = f"{self.amps() * dice.choice((0.5, 2, 8)):.3g} A"
        stud = maybe(dice, 0.3, stud=dice.choice(("M6", "M8", "5/16 in", "M24")))
        ways = dice.randint(1, 9)
        entry: Entry = dict(stud)
        if kind == "busbar":
            entry |= maybe(dice, 0.5, rating=amps)
        elif kind == "distribution":
            entry |= {"ways": str(ways)} | maybe(dice, 0.4, total=amps) | maybe(dice, 0.4, **{"per way": "20 A"})
            entry |= maybe(dice, 0.4, voltage="32 V") | maybe(dice, 0.1, contact="0 Ω")
        elif kind == "switch":
            entry |= maybe(dice, 0.5, rating=amps) | maybe(dice, 0.5, voltage=dice.choice(("12 V", "32 V", "600 V")))
            entry |= maybe(dice, 0.3, set=dice.choice(("open", "closed"))) | maybe(dice, 0.1, contact="0 Ω")
        else:
            off = outlet.volts * dice.uniform(0.8, 1.0)
            entry |= {"off": f"{off:.4g} V", "on": f"{off * dice.choice((1.0, 1.01, 1.1)):.4g} V"}
            entry |= (
                maybe(dice, 0.4, rating=amps)
                | maybe(dice, 0.3, delay="10 s")
                | maybe(dice, 0.2, **{"own use": "50 mW"})
            )
            entry |= maybe(dice, 0.4, senses=dice.choice([*self.made.battery, *self.made.parts, outlet.part]))
        name = self.part(kind, kind.split()[0], entry)
        self.run(outlet, name, outlet.watts / outlet.volts)
        self.outlets.append(Outlet(name, outlet.volts, kind, outlet.watts, ways if kind == "distribution" else 0))

    def converter(self) -> None:
        dice = self.dice
        outlet = self.outlet()
        kind = dice.choice(("buck", "boost", "buck-boost"))
        set_v = outlet.volts * dice.uniform(0.1, 0.8)
        if kind == "boost":
            set_v = outlet.volts * dice.choice((0.7 if self.wild else 2.0, 1.05, 1.6, 2.0, 4.0))
        elif kind == "buck-boost" or dice.random() < 0.1:
            set_v = dice.choice((5.0, 12.0, 19.0, 48.0)) if kind != "buck" else 1.2 * outlet.volts
        watts = outlet.watts * dice.choice((0.1, 0.3, 0.6, 4.0 if self.wild else 0.3))
        entry: Entry = {
            "input": values.window(dice, outlet.volts, self.wild),
            "output": f"{set_v:.4g} V ± {dice.choice((1, 5))} %",
        }
        entry |= maybe(dice, 0.8, type=kind) | maybe(dice, 0.3, isolated=dice.choice(("yes", "no")))
        entry |= maybe(dice, 0.7, rating=f"{watts:.3g} W" if dice.random() < 0.9 else "choose")
        entry |= maybe(dice, 0.5, **{"current limit": f"{min(9e4, watts / set_v * dice.choice((0.8, 1.2, 3))):.3g} A"})
        entry |= maybe(
            dice, 0.5, idle=dice.choice(("12 mA at 25.6 V", "0.3 W", "0 W", "2 A at 12 V" if self.wild else "90 mW"))
        )
        entry |= maybe(dice, 0.7, efficiency=values.efficiency(dice, self.wild))
        entry |= maybe(
            dice,
            0.3,
            lockout={"off": f"{outlet.volts * 0.7:.4g} V", "on": f"{outlet.volts * dice.choice((0.7, 0.8)):.4g} V"},
        )
        entry |= maybe(dice, 0.2, **{"full until": "40 °C"}) | maybe(dice, 0.2, **{"nothing at": "70 °C"})
        entry |= maybe(dice, 0.2, **{"start-up": f"{watts:.3g} W"}) | maybe(
            dice, 0.3, capacitance=figure(dice, 1e-6, 1e-1, "F")
        )
        entry |= maybe(dice, 0.2, inductance=figure(dice, 1e-7, 1e-3, "H"))
        name = self.part("converter", "supply", entry)
        self.run(outlet, name, watts / outlet.volts)
        self.outlets.append(Outlet(name, set_v, "converter", 0.9 * watts))

    def ethernet(self) -> None:
        dice = self.dice
        outlet = self.outlet()
        passive = dice.random() < 0.3
        entry: Entry = {"input": values.window(dice, outlet.volts, self.wild)}
        entry |= {"standard": "passive" if passive else dice.choice(("af", "at", "bt3", "bt4"))}
        ports = dice.randint(1, 6)
        makes = dice.random() < 0.6
        volts = dice.choice((24.0, 48.0, 54.0)) if makes else outlet.volts
        entry |= {"ports": str(ports), **maybe(dice, 0.5, budget=figure(dice, 5, 200, "W"))}
        entry |= {"output": f"{volts:g} V ± 2 %"} if makes else {}
        entry |= maybe(dice, 0.5, **{"own use": "4 W"}) | maybe(dice, 0.3, **{"start-up": "6 W"})
        entry |= maybe(dice, 0.3, efficiency="85 %") | maybe(dice, 0.3, plug=dice.choice(values.INLETS))
        entry |= maybe(dice, 0.2, capacitance="470 µF")
        name = self.part("ethernet power source", "hub", entry)
        watts = 0.5 * outlet.watts
        self.run(outlet, name, watts / outlet.volts)
        self.outlets.append(Outlet(name, volts, "ethernet", min(60.0, watts), ports))

    def device(self) -> None:
        dice = self.dice
        outlet = self.outlet()
        over = "wire" if outlet.kind != "ethernet" else dice.choice(("ethernet", "ethernet", "passive ethernet"))
        if dice.random() < 0.05:
            over = dice.choice(("wire", "ethernet", "passive ethernet"))
        watts = max(2e-3, outlet.watts * 10 ** -dice.uniform(0.7, 2.5))
        if self.wild and dice.random() < 0.1:
            watts = dice.choice((1e-2, 1e5, self.watts * 50))
        entry: Entry = {"draws": values.draws(dice, watts, outlet.volts), **maybe(dice, 0.1, negative="case")}
        entry |= maybe(dice, 0.8 if over == "wire" else 0.3, input=values.window(dice, outlet.volts, self.wild))
        entry |= values.duty(dice, entry["draws"])
        entry |= maybe(dice, 0.2, behaves=dice.choice(("constant power", "constant current", "resistance")))
        entry |= {"over": over} if over != "wire" else maybe(dice, 0.2, plug=dice.choice(values.INLETS))
        entry |= maybe(dice, 0.7 if over == "ethernet" else 0.02, **{"class": str(dice.randint(0, 8))})
        entry |= maybe(dice, 0.2, capacitance=figure(dice, 1e-6, 1e-1, "F")) | maybe(
            dice, 0.1, **{"warm limit": "40 °C"}
        )
        entry |= maybe(dice, 0.1, **{"cut-off": f"{outlet.volts * dice.uniform(0.4, 1.05):.4g} V"})
        name = self.part("device", "device", entry)
        self.run(outlet, name, watts / outlet.volts, over)

    def outlet(self) -> Outlet:
        """Where the next run starts; the newest most often, so that chains grow."""
        free = [one for one in self.outlets if one.kind != "ethernet" or one.used < one.ways] or self.outlets
        if not free:
            self.outlets.append(Outlet(self.part("busbar", "bar", {}), self.volts, "busbar", self.watts))
            free = self.outlets
        return free[-1] if self.dice.random() < 0.4 else self.dice.choice(free)

    def extras(self) -> None:
        """Meshes, links between batteries, data cables, loose parts, accepted findings."""
        dice = self.dice
        names = [*self.made.battery, *self.made.parts]
        level = [one for one in self.outlets if one.volts == self.volts]
        for first, second in zip(list(self.made.battery), list(self.made.battery)[1:], strict=False):
            if dice.random() < 0.7:
                self.run(Outlet(first, self.volts, "battery", self.watts), second, self.amps())
        if len(level) > 1 and dice.random() < 0.3:
            for _ in range(dice.randint(1, 3)):
                a, b = dice.sample(level, 2)
                self.run(a, b.part, self.amps())
        if len(names) > 1 and dice.random() < 0.3:
            for _ in range(dice.randint(1, 2)):
                a, b = dice.sample(names, 2)
                run = {"from": a, "to": b, "length": "3 m", "carries": "data", **maybe(dice, 0.6, shield="joined")}
                self.made.runs.append(run | maybe(dice, 0.6, cable="Cat5e"))
        if len(names) > 1 and self.wild and dice.random() < 0.3:
            a, b = dice.sample(names, 2)  # anything to anything
            self.run(Outlet(a, self.volts, "", self.watts), b, self.amps())
        if dice.random() < 0.1:
            self.part("device", "loose", {"draws": "5 W"})
        if dice.random() < 0.2:
            rule = dice.choice(("unfused-run", "drop-on-path", "voltage-too-low", "no-such-rule"))
            where = {} if not names or dice.random() < 0.5 else {"on": dice.choice(names)}
            self.made.accepted.append(
                {"finding": rule, **where, "because": "it is so", **maybe(dice, 0.3, until="2019-01-01")}
            )

    def grown(self) -> Made:
        dice = self.dice
        self.setting()
        self.batteries()
        self.chargers()
        for _ in range(dice.choice((0, 1, 2, 3, 5, 8, 13, 20, 34))):
            what = dice.random()
            grow = (
                self.device
                if what < 0.45
                else self.through
                if what < 0.72
                else self.converter
                if what < 0.9
                else self.ethernet
            )
            grow()
        self.extras()
        return self.made


def any_site(seed: int) -> Made:
    """The site of a seed."""
    return _Bed(seed).grown()


def large_site(seed: int, n_run: int = 200) -> Made:
    """A site with at least so many runs."""
    bed = _Bed(seed)
    bed.setting()
    bed.batteries()
    bed.chargers()
    while len(bed.made.runs) < n_run:
        bed.dice.choice((bed.device, bed.device, bed.through, bed.converter))()
    bed.extras()
    return bed.made
