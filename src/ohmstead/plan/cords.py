"""The wires of the plan: what lies between two parts, or a part and where cables enter."""

from ..parts.cable import EthernetCable
from ..parts.wire import Wire
from ..site.model import Run
from ..site.record import record
from ..tables.reader import rows

OPEN_MM2 = 2.5  # a wire still to be chosen, for finding places
DATA_MM2 = 1.6  # copper of a data cable: eight conductors of 24 AWG


@record(frozen=True)
class Cord:
    """What one run puts on the plate.

    diameter_mm is that of one wire or cable, `count` how many of them; bend_times the smallest inner radius
    in diameters; weight what a millimetre of it costs when places are found: its copper in mm².
    """

    run: Run
    diameter_mm: float
    count: int
    bend_times: float
    weight: float

    @property
    def name(self) -> str:
        """As findings and drawings call the run."""
        return self.run.name


def cord_of(run: Run) -> Cord:
    """The cord of a run."""
    if run.cable is not None or run.wire is None and run.carries == "data":
        diameter = cable_mm(run.cable)
        return Cord(run, diameter, 1, bend_times("data", diameter), DATA_MM2)
    area = run.wire.area_mm2 if isinstance(run.wire, Wire) else OPEN_MM2
    count = 2 if run.wires == "both" else 1
    diameter = wire_mm(area)
    return Cord(run, diameter, count, bend_times("wire", diameter), count * area)


def wire_mm(area_mm2: float) -> float:
    """Outer diameter of a single-core wire, by straight lines between the sizes of the table. [mm]"""
    table = [(float(row["size_mm2"]), float(row["outer_mm"])) for row in rows("wire_outer")]
    low = table[0]
    for high in table[1:]:
        if area_mm2 <= high[0]:
            share = max(0.0, (area_mm2 - low[0]) / (high[0] - low[0]))
            return low[1] + share * (high[1] - low[1])
        low = high
    return float(low[1] * (area_mm2 / low[0]) ** 0.5)


def cable_mm(cable: EthernetCable | None) -> float:
    """Outer diameter of a network cable; of Cat5e when it is not known. [mm]"""
    table = {str(row["name"]): float(row["outer_mm"]) for row in rows("data_cable_outer")}
    return table.get(cable.name if cable else "", table["Cat5e"])


def bend_times(kind: str, diameter_mm: float) -> float:
    """Smallest inner radius of a bend in diameters; `kind` is "wire" or "data"."""
    found = [row for row in rows("bend_radius") if row["kind"] == kind]
    return float(next(row["times"] for row in found if diameter_mm <= float(row["up_to_mm"])))
