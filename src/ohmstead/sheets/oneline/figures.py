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
from .label import Row, Word, flowed
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
        low, high = self.volts[point]
        if show(low, "voltage") == show(high, "voltage"):
            return show(high, "voltage")
        return show_span(Span.between(low, high), "voltage")

    def head(self, node: Node) -> list[Row]:
        """Signs, ties and the name."""
        name = self.names.part(node.name)
        if node.copy > 1:
            name = words.CONTINUED.format(name=name)
        rows = flowed(self.signs.at.get(node.name, ())) if node.copy == 1 else []
        return rows + [(Word(line, "name", "bold"),) for line in broken(name)]

    def foot(self, node: Node) -> list[Row]:
        """What the part is, and its voltages."""
        part = self.asked.site.batteries.get(node.name) or self.asked.site.parts[node.name]
        if node.copy > 1:
            return []
        if isinstance(part, Converter) or isinstance(part, EthernetSource) and part.output_v is not None:
            return [(Word(words.INPUT.format(volts=self.range_of(f"{node.name} in")), "volts"),),
                    (Word(words.OUTPUT.format(volts=self.range_of(f"{node.name} out")), "volts"),)]
        point = f"{node.name} in" if isinstance(part, TWO_SIDED) else node.name
        rows: list[Row] = [(Word(self.range_of(point), "volts"),)]
        if isinstance(part, Battery):
            rows.insert(0, (Word(part.chemistry, "kind"), Word(show(part.capacity_ah, "charge"), "rating")))
        if isinstance(part, Disconnect):
            rows.insert(0, (Word(words.LOW_CUT.format(volts=show(part.off_v, "voltage")), "rating"),))
        if isinstance(part, Switch) and part.set_to == "open":
            rows.insert(0, (Word(words.SET_OPEN, "kind", "bold"),))
        return rows

    def run_head(self, run: Run) -> list[Row]:
        """Signs, fuse, size and length."""
        rows = flowed(self.signs.at.get(run.name, ()))
        if run.fuse is not None:
            rating, family = show(run.fuse.rating_a, "current"), run.fuse.family.words[0]
            rows += flowed([Word(rating, "fuse"), Word(family, "fuse")])
        elif run.origin_of("fuse") == "choose":
            rows.append((Word(words.OPEN_FUSE, "fuse", "bold"),))
        if run.wires in words.ONLY:
            rows.append((Word(words.ONLY[run.wires], "kind"),))
        return rows + flowed([*self._size(run), Word(self._length(run), "length")])

    def run_foot(self, run: Run) -> list[Row]:
        """Largest lasting current, drop, and the current while something starts."""
        view = self.views.get(run.number)
        if view is None:
            return []
        current = view.sustained.value
        drop = view.drop.value if current > STILL_A else 0.0
        rows = flowed([Word(show(current if current > STILL_A else 0.0, "current"), "current"),
                       Word(show(drop, "voltage"), "drop")])
        if view.current.value > max(STILL_A, STARTS * current):
            rows.append((Word(words.STARTING.format(current=show(view.current.value, "current")), "current"),))
        return rows

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
