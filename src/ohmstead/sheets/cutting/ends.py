"""What is crimped, soldered or plugged at each end of a wire, and how far the wire is stripped for it."""

from ...evidence.ends import thread
from ...parts.faults import PartError
from ...parts.plug import End, read_end
from ...parts.wire import Wire
from ...site.kinds import Device, EthernetSource
from ...site.model import Run, Site
from ...site.pieces import Endpoint
from ...site.record import record
from ...tables.reader import rows

UNKNOWN = "?"
NOT_STATED = "not stated"
TWO_POLE = ("barrel", "bullet", "rack", "usb-c", "vehicle-socket")
"""Plugs that take both wires of a run: one for a run's end, not one for each wire."""
NO_STRIP = ("rj45", "usb-c", "stud")
SINGLE = ("ferrule", "screw")


@record(frozen=True)
class Termination:
    """One end of a piece. `how`: "stated", "stud" or "inlet" (taken from the part), "holder", "unknown".

    `end` None: the builder did not say, or a fuse holder decides.
    """

    at: str
    how: str
    end: End | None
    wire: Wire | None

    @property
    def words(self) -> str:
        """The end in words, "?" with its reason when not known."""
        if self.end is None:
            return "as the holder asks" if self.how == "holder" else f"{UNKNOWN} {NOT_STATED}"
        polarity = f", {self.end.polarity}" if self.end.polarity else ""
        return self.end.name + polarity + {"stud": " (by the stud)", "inlet": " (by the inlet)"}.get(self.how, "")

    @property
    def summary(self) -> str:
        """End, strip length and sleeve in one line."""
        strip = "" if self.strip_mm is None else f"{self.strip_mm:g} mm"
        return ", ".join(part for part in (self.words, strip, self.sleeve) if part)

    @property
    def strip_mm(self) -> float | None:
        """Insulation to take off; None where nothing is stripped or not known. [mm]"""
        row = self._row()
        return None if row is None else float(row["strip_mm"])

    @property
    def sleeve(self) -> str:
        """End sleeve, colour of the terminal or shrink sleeve; empty when none."""
        row = self._row()
        if row is None:
            return ""
        if "tube_mm" in row:
            return f"{row['size_mm2']:g} mm² {row['colour']} {row['tube_mm']:g} mm"
        return "" if row["sleeve"] == "none" else str(row["sleeve"])

    @property
    def ferrule(self) -> dict[str, float | str] | None:
        """The row of its end sleeve; None when it takes none."""
        row = self._row()
        return row if row is not None and "tube_mm" in row else None

    def _row(self) -> dict[str, float | str] | None:
        if self.end is None or self.wire is None or self.end.kind in NO_STRIP:
            return None
        if self.end.kind in SINGLE and self.wire.strand_class != "class 1":
            return ferrule_for(self.wire.area_mm2)
        kind = "bare" if self.end.kind in SINGLE else self.end.kind
        fits = (
            row
            for row in rows("strip_lengths")
            if row["end"] == kind and float(row["up_to_mm2"]) >= self.wire.area_mm2 * 0.999
        )
        return next(fits, None)


def ferrule_for(area_mm2: float) -> dict[str, float | str] | None:
    """The smallest end sleeve that takes a wire; gauges a few per cent over a metric size still go in."""
    return next((row for row in rows("ferrules") if float(row["size_mm2"]) >= area_mm2 * 0.94), None)


def termination(site: Site, run: Run, side: int) -> Termination:
    """What sits at the written start (0) or end (1) of a run: as stated, else as the part's stud or inlet asks."""
    at = run.end if side else run.start
    if len(run.ends) == 2 and run.ends[side] is not None:
        return Termination(str(at), "stated", run.ends[side], run.wire)
    ring = _ring(site, at)
    if ring is not None:
        return Termination(str(at), "stud", ring, run.wire)
    part = site.parts.get(at.part)
    inlet = part.inlet if isinstance(part, Device | EthernetSource) and side == 1 else None
    if inlet is not None:
        return Termination(str(at), "inlet", inlet, run.wire)
    if run.cable is not None:
        return Termination(str(at), "stated" if at.way is not None else "unknown", _jack(site, at), run.wire)
    return Termination(str(at), "unknown", None, run.wire)


def _jack(site: Site, at: Endpoint) -> End | None:
    """Network cable ends in a data plug at a port and at a device that is fed by it over the standard."""
    part = site.parts.get(at.part)
    at_port = isinstance(part, EthernetSource)
    return read_end("rj45") if at_port or (isinstance(part, Device) and part.over != "wire") else None


def _ring(site: Site, at: Endpoint) -> End | None:
    """The ring that goes over the stud which a run lands on; None without a stud, or where no ring is made for it."""
    owner = site.batteries.get(at.part) or site.parts.get(at.part)
    stud_mm = getattr(owner, "stud_mm", None)
    if stud_mm is None or at.way is not None:
        return None
    try:
        return read_end(f"ring {thread(stud_mm)}")
    except PartError:
        return None
