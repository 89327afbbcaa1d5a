"""What is lettered at each part and run. Every figure comes from the engine and goes through `show`."""

from functools import cached_property

from ...evidence.views import RunView
from ...network.points import TWO_SIDED
from ...quantity.show import show, show_area_both, show_length_both, show_span
from ...quantity.span import Span
from ...site.kinds import Converter, Disconnect, EthernetSource, Switch
from ...site.model import Battery, Run
from ..asked import Asked
from . import words
from .label import FULL, Item, Label, Row, Tab, Word, flowed, label
from .marks import Signs
from .names import Names
from .node import Node
from .text import broken

STARTS = 1.02  # a starting current within 2 % of the lasting one is not lettered twice
STILL_A = 5e-4  # less than this is solver rounding, lettered as nothing


class Figures:
    """The lettering of one study."""

    def __init__(self, asked: Asked, names: Names, signs: Signs, units: str) -> None:
        self.asked, self.names, self.signs, self.units = asked, names, signs, units
        self.views: dict[int, RunView] = {view.run.number: view for view in asked.evidence.runs}
        self._ranges: dict[str, str] = {}
        self._said: dict[tuple[str, int], list[Item]] = {}
        self._labels: dict[tuple[object, ...], Label] = {}

    @cached_property
    def volts(self) -> dict[str, tuple[float, float]]:
        """Lowest and highest voltage of all cases at each point of the map. [V]"""
        circuit, points = self.asked.operation.circuit, self.asked.operation.points
        table = [point.voltage_v for point in points]
        found = {}
        for name, positive in circuit.positive.items():
            negative = circuit.negative[name]
            values = [row[positive] - row[negative] for row in table]
            found[name] = min(values), max(values)
        return found

    def range_of(self, point: str) -> str:
        """The lowest..highest voltage at a point, in words."""
        if point not in self._ranges:
            low, high = self.volts[point]
            same = show(low, "voltage") == show(high, "voltage")
            self._ranges[point] = show(high, "voltage") if same else show_span(Span.between(low, high), "voltage")
        return self._ranges[point]

    def head(self, node: Node) -> Label:
        """Letters of ties, signs and the name; of a bar its voltages too, for nothing can stand below it."""
        key = ("head", node.name, node.copy, node.manner, *node.tabs)
        if key not in self._labels:
            rows = flowed(Tab(text) for text in node.tabs) if node.copy == 1 else []
            self._labels[key] = label(rows + self._name(node) + (self._about(node) if node.manner == "hub" else []))
        return self._labels[key]

    def foot(self, node: Node) -> Label:
        """What the part is, and its voltages."""
        key = ("foot", node.name, node.copy)
        if node.manner == "hub":
            return Label()
        if key not in self._labels:
            self._labels[key] = label(self._about(node))
        return self._labels[key]

    def _name(self, node: Node) -> list[Row]:
        name = self.names.part(node.name)
        if node.copy > 1:
            name = words.CONTINUED.format(name=name)
        rows = flowed(self.signs.at.get(node.name, ())) if node.copy == 1 else []
        return rows + [(Word(line, "name", "bold"),) for line in broken(name)]

    def _about(self, node: Node) -> list[Row]:
        part = self.asked.site.batteries.get(node.name) or self.asked.site.parts[node.name]
        if node.copy > 1:
            return []
        if isinstance(part, Converter) or isinstance(part, EthernetSource) and part.output_v is not None:
            return [
                (Word(words.INPUT.format(volts=self.range_of(f"{node.name} in")), "volts"),),
                (Word(words.OUTPUT.format(volts=self.range_of(f"{node.name} out")), "volts"),),
            ]
        point = f"{node.name} in" if isinstance(part, TWO_SIDED) else node.name
        rows: list[Row] = [(Word(self.range_of(point), "volts"),)]
        if isinstance(part, Battery):
            rows.insert(0, (Word(part.chemistry, "kind"), Word(show(part.capacity_ah, "charge"), "rating")))
        if isinstance(part, Disconnect):
            rows.insert(0, (Word(words.LOW_CUT.format(volts=show(part.off_v, "voltage")), "rating"),))
        if isinstance(part, Switch) and part.set_to == "open":
            rows.insert(0, (Word(words.SET_OPEN, "kind", "bold"),))
        return rows

    def run_head(self, run: Run, most: float = FULL) -> Label:
        """Signs, fuse, size and length, in rows of at most that width."""
        return self._flowed("above", run, most)

    def run_foot(self, run: Run, most: float = FULL) -> Label:
        """Largest lasting current, drop, and the current while something starts."""
        return self._flowed("below", run, most)

    def _flowed(self, where: str, run: Run, most: float) -> Label:
        key, said = (where, run.number, most), (where, run.number)
        if key not in self._labels:
            if said not in self._said:
                self._said[said] = self._said_above(run) if where == "above" else self._said_below(run)
            self._labels[key] = label(flowed(self._said[said], most))
        return self._labels[key]

    def _said_above(self, run: Run) -> list[Item]:
        items: list[Item] = [*self.signs.at.get(run.name, ())]
        if run.fuse is not None:
            items.append(Word(f"{show(run.fuse.rating_a, 'current')} {run.fuse.family.words[0]}", "fuse"))
        elif run.origin_of("fuse") == "choose":
            items.append(Word(words.OPEN_FUSE, "fuse", "bold"))
        if run.wires in words.ONLY:
            items.append(Word(words.ONLY[run.wires], "kind"))
        return [*items, *self._size(run), Word(self._length(run), "length")]

    def _said_below(self, run: Run) -> list[Item]:
        view = self.views.get(run.number)
        if view is None:
            return []
        current = view.sustained.value if view.sustained.value > STILL_A else 0.0
        items: list[Item] = [
            Word(show(current, "current"), "current"),
            Word(show(view.drop.value if current else 0.0, "voltage"), "drop"),
        ]
        if view.current.value > max(STILL_A, STARTS * current):
            items.append(Word(words.STARTING.format(current=show(view.current.value, "current")), "current"))
        return items

    def sustained_a(self, run: Run | None) -> float:
        """Largest lasting current of a run; what the line weight tells. [A]"""
        view = self.views.get(run.number) if run is not None else None
        return view.sustained.value if view is not None else 0.0

    def _size(self, run: Run) -> list[Word]:
        if run.carries == "data":
            return [Word(words.DATA, "kind")]
        if run.cable is not None:
            return [Word(run.cable.name, "size"), Word(run.cable.gauge, "size")]
        if run.wire is None:
            return [Word(words.OPEN_SIZE, "size", "bold")]
        if "mm2" in run.wire.size:
            if self.units == "metric":
                return [Word(show(run.wire.area_mm2, "area"), "size")]
            metric, gauge = show_area_both(run.wire.area_mm2).split(" (")
            return [Word(metric, "size"), Word(f"({gauge}", "size")]
        if self.units == "imperial":
            return [Word(run.wire.size, "size")]
        return [Word(run.wire.size, "size"), Word(f"({show(run.wire.area_mm2, 'area')})", "size")]

    def _length(self, run: Run) -> str:
        if self.units == "metric":
            return show(run.length_m, "length")
        metric, imperial = show_length_both(run.length_m).removesuffix(")").split(" (")
        return f"{imperial} ({metric})"
