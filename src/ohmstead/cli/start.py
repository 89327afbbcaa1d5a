"""`ohmstead start FILE`: write a first site file by asking a few questions."""

import os
import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Callable
from dataclasses import dataclass, field

from ..parts.cell import Chemistry, chemistry
from ..quantity.faults import QuantityError
from ..quantity.read import read_number, read_span
from ..quantity.span import Span
from ..site.read import read_text
from ..storage.cells import open_circuit_v
from .texts import ASK, ERRORS, HELP
from .texts import START as SAYS

CHEMISTRIES = ("LFP", "NMC", "lead flooded", "lead AGM")
LEFT_FRACTION = 0.05  # of its charge, at rest, where the cut-off opens
REBOUND_V = 0.2  # of a cell between opening and closing again
RATINGS_A = (20, 40, 60, 100, 150, 200, 300)
SPARE = 1.5
STOP_WORDS = ("", "none", "done")


class GaveUp(Exception):
    """The answers ended before the questions did."""


@dataclass
class Answers:
    """What the builder said, as typed where the file will hold it."""

    name: str = "site"
    chemistry: str = "LFP"
    volts: float = 12.8
    capacity: str = "100 Ah"
    limit: str = ""  # what the protection board lets out; empty when there is none
    distance: str = "1 m"
    devices: list[tuple[str, str, str, str]] = field(default_factory=list)  # name, window, power, distance


def declare(parser: ArgumentParser) -> None:
    """Its arguments."""
    parser.add_argument("file", help=HELP["start-file"])


def run(options: Namespace) -> int:
    """Ask, write, and say what to do next; 2 when the file is there already or the answers end."""
    if os.path.exists(options.file):
        print(ERRORS["exists"].format(file=options.file), file=sys.stderr)
        print(f"   mend   {ERRORS['exists-mend']}", file=sys.stderr)
        return 2
    try:
        text = starter(ask_all(ask))
    except (GaveUp, EOFError, KeyboardInterrupt):
        print(f"\n{SAYS['nothing-written']}", file=sys.stderr)
        return 2
    read_text(text, options.file)
    try:
        with open(options.file, "x", encoding="utf-8") as sheet:
            sheet.write(text)
    except OSError as error:
        print(ERRORS["cannot-write"].format(file=options.file, reason=error.strerror), file=sys.stderr)
        return 2
    print(f"\n{SAYS['written'].format(file=options.file)}")
    return 0


def ask(question: str, accept: Callable[[str], str]) -> str:
    """Ask until the answer is accepted; `accept` returns the answer as kept, or raises QuantityError."""
    while True:
        line = input(f"{question} ")
        try:
            return accept(line.strip())
        except QuantityError as error:
            print(f"   {error.problem}; expected {error.expected}")


def ask_all(ask_one: Callable[[str, Callable[[str], str]], str]) -> Answers:
    """All questions in order."""
    answers = Answers()
    answers.name = ask_one(ASK["name"], lambda text: _plain(text or "site"))
    answers.chemistry = ask_one(ASK["chemistry"], _chemistry)
    answers.volts = float(ask_one(ASK["volts"], lambda text: repr(read_number(text or "12.8 V", "voltage"))))
    answers.capacity = ask_one(ASK["capacity"], lambda text: _kept(text or "100 Ah", "charge"))
    answers.limit = ask_one(ASK["limit"], lambda text: _kept(text, "current") if text else "")
    answers.distance = ask_one(ASK["block"], lambda text: _kept(text or "1 m", "length"))
    while True:
        name = ask_one(ASK["device"], lambda text: text if text in STOP_WORDS else _plain(text))
        if name in STOP_WORDS:
            return answers
        if name in [known for known, *_ in answers.devices]:
            print(f"   {SAYS['twice'].format(name=name)}")
            continue
        window = ask_one(ASK["window"], lambda text: _span(text, "voltage"))
        power = ask_one(ASK["power"], lambda text: _span(text, "power"))
        answers.devices.append((name, window, power, ask_one(ASK["distance"], lambda text: _kept(text, "length"))))


def _plain(text: str) -> str:
    """A name that YAML and end points take as it is."""
    kept = "".join(c for c in text if c.isalnum() or c in " _-").strip()
    if not kept or kept in ("bank", "low cut", "fuse block"):
        raise QuantityError(SAYS["bad-name"], SAYS["good-name"], "")
    return kept


def _chemistry(text: str) -> str:
    for known in CHEMISTRIES:
        if (text or "LFP").lower() == known.lower():
            return known
    raise QuantityError(SAYS["bad-chemistry"], ", ".join(CHEMISTRIES), "")


def _kept(text: str, dimension: str) -> str:
    value = read_number(text, dimension)
    if value <= 0:
        raise QuantityError(SAYS["not-positive"], "more than zero", "")
    return text.replace(",", ".")


def _span(text: str, dimension: str) -> str:
    span = read_span(text, dimension)
    if span.low < 0 or span.high <= 0:
        raise QuantityError(SAYS["not-positive"], "more than zero", "")
    return text.replace(",", ".")


def starter(answers: Answers) -> str:
    """The text of a first site file."""
    cell = chemistry(answers.chemistry)
    cells = max(1, round(answers.volts / cell.nominal_v))
    lines = [
        "ohmstead: 1",
        "",
        "site:",
        f"  name: {answers.name}",
        "  # latitude: 57.6",
        "",
        "zones:",
        "  inside: {air: 0..35 °C}",
        "",
        "battery:",
        "  bank:",
        f"    chemistry: {answers.chemistry}",
        f"    cells: {cells}                      # in series",
        f"    capacity: {answers.capacity}",
        *([f"    limits: {{discharge: {answers.limit}}}"] if answers.limit else []),
        "    zone: inside",
        "",
        "parts:",
        *([] if answers.limit else [_cut(answers, cell, cells)]),
        f"  fuse block: {{kind: distribution, ways: {max(6, len(answers.devices) + 2)}, zone: inside}}",
    ]
    first = "fuse block" if answers.limit else "low cut"
    feed = f"from: bank, to: {first}, length: {answers.distance}, wire: choose, fuse: choose, fuse at: 0.1 m"
    runs = [f"  - {{{feed}}}"]
    if not answers.limit:
        runs.append("  - {from: low cut, to: fuse block, length: 0.3 m, wire: choose}")
    low, high = cells * cell.empty_v, cells * cell.charging_v
    for way, (name, window, power, distance) in enumerate(answers.devices, 1):
        needs = read_span(window, "voltage")
        source = f"fuse block / {way}"
        if needs.low > low or needs.high < high:
            lines.append(_converter(name, needs, (low, high)))
            runs.append(f"  - {{from: {source}, to: {name} supply, length: 0.5 m, wire: choose, fuse: choose}}")
            source = f"{name} supply"
        lines.append(f"  {name}: {{kind: device, input: {window}, draws: {power}, zone: inside}}")
        fused = ", fuse: choose" if source.startswith("fuse block") else ""
        runs.append(f"  - {{from: {source}, to: {name}, length: {distance}, wire: choose{fused}}}")
    return "\n".join([*lines, "", "runs:                        # length is the route, one way", *runs]) + "\n"


def _cut(answers: Answers, cell: Chemistry, cells: int) -> str:
    """A cut-off where 5 % is left at rest, closing well above the rebound (common practice, no source)."""
    off_v = cells * max(open_circuit_v(cell, LEFT_FRACTION), cell.empty_v)
    on_v = off_v + cells * REBOUND_V
    drawn_w = sum(read_span(power, "power").high for _, _, power, _ in answers.devices)
    needed_a = SPARE * drawn_w / (cells * cell.empty_v)
    rating_a = next((step for step in RATINGS_A if step >= needed_a), RATINGS_A[-1])
    thresholds = f"off: {off_v:.1f} V, on: {on_v:.1f} V, delay: 10 s"
    return (
        f"  low cut: {{kind: low-voltage disconnect, {thresholds}, senses: bank, rating: {rating_a} A, zone: inside}}"
    )


def _converter(name: str, needs: Span, bus: tuple[float, float]) -> str:
    middle = needs.nominal
    kind = "boost" if middle > bus[1] else "buck" if middle < bus[0] else "buck-boost"
    window = f"{bus[0] * 0.85:.0f}..{bus[1] * 1.15:.0f} V"
    return (
        f"  {name} supply: {{kind: converter, type: {kind}, input: {window}, output: {middle:g} V ± 1 %, "
        "rating: choose, zone: inside}"
    )
