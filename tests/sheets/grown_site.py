"""Site files grown from a seed: trees and rings, parallel batteries, chargers, converters, network power, data."""

from random import Random

NAMES = (
    "lamp",
    "pump",
    "west camera",
    "north mast weather station",
    "radio",
    "recorder of the lower hide",
    "fan",
    "Ümlautwächter",
    "socket",
    "長い名前の装置",
    "a",
    "very_long_name_without_any_space_in_it_at_all",
)


class Growing:
    """The text of a site while it grows."""

    def __init__(self, seed: int, most: int) -> None:
        self.dice = Random(seed)
        self.n_part = self.dice.randint(1, most)
        self.parts: list[str] = []
        self.runs: list[str] = []
        self.ways: dict[str, int] = {}
        self.outlets: list[tuple[str, float]] = []
        self.batteries: list[str] = []
        self.volts = self.dice.choice([12.8, 25.6, 51.2])

    def name(self, kind: str) -> str:
        return f"{kind} {len(self.parts) + len(self.batteries) + 1}"

    def end(self, name: str) -> str:
        if name not in self.ways:
            return name
        self.ways[name] += 1
        return f"{name} / {self.ways[name]}"

    def run(self, start: str, end: str, more: str = "") -> None:
        dice = self.dice
        size = dice.choice(["1.5 mm2", "4 mm2", "16 mm2", "10 AWG", "8 gauge SAE", "choose"])
        if dice.random() < 0.5:
            fuse = dice.choice(["10 A blade", "3 A blade", "60 A class T", "20 A breaker", "15 A 10x38 gPV", "choose"])
            more += f", fuse: {fuse}"
            if fuse != "choose" and dice.random() < 0.3:
                more += ", fuse at: 0.4 m"
        ends = f"from: {self.end(start)}, to: {self.end(end)}"
        self.runs.append(f"  - {{{ends}, length: {dice.choice([0.5, 1, 2.35, 14, 31])} m, wire: {size}{more}}}")

    def add_battery(self) -> str:
        name = self.name("bank")
        cells = {12.8: 4, 25.6: 8, 51.2: 16}[self.volts]
        self.batteries.append(
            f"  {name}: {{chemistry: LFP, cells: {cells}, capacity: 200 Ah, cut-off: {2.8 * cells} V, "
            f"charging: {3.5 * cells} V}}"
        )
        return name

    def add(self, text: str, kind: str) -> str:
        name = self.name(kind)
        self.parts.append(f"  {name}: {{{text}}}")
        return name

    def grow_one(self) -> None:
        dice = self.dice
        start, volts = dice.choice(self.outlets)
        at = dice.random()
        if at < 0.08:
            name = self.add("kind: switch, rating: 100 A", "switch")
        elif at < 0.12:
            name = self.add(f"kind: low-voltage disconnect, off: {0.9 * volts:.4g} V, on: {volts:.4g} V", "low cut")
        elif at < 0.2:
            name = self.add("kind: busbar", "bar")
        elif at < 0.32:
            name = self.add("kind: distribution, ways: 60", "block")
            self.ways[name] = 0
        elif at < 0.44:
            made = dice.choice([5.0, 12.0, 19.0, 54.0])
            isolated = dice.choice(["yes", "no"])
            name = self.add(
                f"kind: converter, input: {0.7 * volts:.4g}..{1.4 * volts:.4g} V, output: {made} V ± 1 %, "
                f"rating: 150 W, isolated: {isolated}",
                "supply",
            )
            self.run(start, name)
            self.outlets.append((name, made))
            return
        elif at < 0.5 and 44 < volts < 60:
            source = self.add("kind: ethernet power source, standard: at, ports: 8, input: 44..60 V", "net switch")
            self.run(start, source)
            for port in range(1, dice.randint(2, 5)):
                camera = self.add("kind: device, over: ethernet, class: 3, draws: 6 W", dice.choice(NAMES))
                self.runs.append(f"  - {{from: {source} / {port}, to: {camera}, length: 40 m, cable: Cat5e 24 AWG}}")
            return
        else:
            starts = ", draws: {on: 5 W, start-up: 30 W for 2 s}" if dice.random() < 0.3 else ", draws: 7 W"
            name = self.add(f"kind: device, input: {0.8 * volts:.4g}..{1.2 * volts:.4g} V{starts}", dice.choice(NAMES))
            self.run(start, name)
            if dice.random() < 0.05:
                self.outlets.append((name, volts))
            return
        self.run(start, name)
        self.outlets.append((name, volts))


def site_text(seed: int, most: int = 60) -> str:
    """A site file with up to `most` parts; the same for the same seed."""
    growing = Growing(seed, most)
    dice = growing.dice
    hub = growing.add("kind: busbar", "bar") if dice.random() < 0.7 else growing.add_battery()
    if not growing.batteries:
        for _ in range(dice.choice([1, 1, 1, 2, 3, 9])):
            growing.run(growing.add_battery(), hub)
    for _ in range(dice.choice([0, 1, 1, 2, 4])):
        supply = dice.choice(["sun", "mains", "vehicle", "generator"])
        charger = growing.add(
            f"kind: charger, from: {supply}, voltage: {1.1 * growing.volts:.4g} V, current: 20 A", "charger"
        )
        growing.run(charger, hub)
    growing.outlets.append((hub, growing.volts))
    while len(growing.parts) + len(growing.batteries) < growing.n_part:
        growing.grow_one()
    same = [name for name, volts in growing.outlets if volts == growing.volts]
    for _ in range(dice.choice([0, 0, 1, 2, 5])):
        if len(same) > 1:
            growing.run(*dice.sample(same, 2))
    names = [line.split(":")[0].strip() for line in growing.parts]
    for _ in range(dice.choice([0, 0, 1, 3])):
        if len(names) > 1:
            a, b = dice.sample(names, 2)
            growing.runs.append(f"  - {{from: {a}, to: {b}, length: 3 m, carries: data}}")
    if dice.random() < 0.2:
        growing.add("kind: device, draws: 3 W", "forgotten lamp")
    return "\n".join(
        [
            "ohmstead: 1",
            "site: {name: Grown site}",
            "battery:",
            *growing.batteries,
            "parts:",
            *growing.parts,
            "runs:",
            *growing.runs,
            "",
        ]
    )
