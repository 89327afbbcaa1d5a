"""Readings that were written on paper or in another program, from CSV; and readings as CSV or JSON.

Columns of an import: `value` and who read it, and either `step` (of the plan) or `point` with `state` and `quantity`.
Also taken: `unit` (for values without one), `at`, `meter`, `note`, `uncertainty`, `revision`, `token`. Other columns
are left alone, rows whose value is empty are skipped. A row read in before is known again and not stored twice.
"""

import csv
import io
import json
import re
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from hashlib import sha256

from ..quantity.faults import QuantityError
from ..quantity.read import read_number
from ..quantity.units import DECIMAL, DIMENSIONS
from ..site.place import Place
from ..site.problems import Problem, SiteError
from ..site.record import record
from .figures import NO, YES, understand
from .reading import TICK, Entry, Reading, faults_of, utc
from .step import Plan, Step
from .store_texts import AS_ASKED, FAULTS, ROW_FAULTS

COLUMNS = ("number", "at", "entered", "who", "step", "point", "state", "quantity", "value", "unit", "uncertainty",
           "meter", "note", "revision", "corrects", "pictures", "token")  # fmt: skip
Cells = dict[str, str]


@record(frozen=True)
class Sheet:
    """What a CSV held: readings to store, rows left empty, and what is wrong with the others."""

    readings: tuple[Reading, ...]
    n_empty: int
    problems: tuple[Problem, ...]
    text: str


def read_sheet(text: str, name: str, plan: Plan, who: str = "") -> Sheet:
    """The readings of a CSV, with every bad row by its line; `who` stands in where a row does not say.

    Raises SiteError where the head of the table is missing.
    """
    rows = csv.reader(io.StringIO(text.removeprefix("\ufeff"), newline=""), delimiter=_parted_by(text))
    head = [cell.strip().lower() for cell in next(rows, [])]
    if "value" not in head or not {"step", "point"} & set(head):
        raise SiteError([_problem(name, 1, ("no-head", {}))], text)
    steps = {step.id: step for step in plan.steps}
    readings, problems, n_empty = [], [], 0
    met: Counter[str] = Counter()
    for row in rows:
        line = rows.line_num
        cells = {key: cell.strip() for key, cell in zip(head, row, strict=False)}
        if not any(cells.values()) or not cells.get("value"):
            n_empty += 1
            continue
        try:
            reading = _reading(cells, steps, plan, who)
        except _Bad as bad:
            problems.append(_problem(name, line, bad.fault))
            continue
        faults = faults_of(reading)
        if faults:
            key, given = faults[0]
            problems.append(_problem(name, line, (key, {"given": given, "most": 2000})))
            continue
        readings.append(_with_token(reading, cells, met))
    return Sheet(tuple(readings), n_empty, tuple(problems), text)


class _Bad(Exception):
    """A row that cannot be used: a key of the texts and its words."""

    def __init__(self, key: str, **words: str) -> None:
        super().__init__(key)
        self.fault = (key, words)


def _parted_by(text: str) -> str:
    head = text.split("\n", 1)[0]
    return max((";", ",", "\t"), key=head.count)


def _reading(cells: Cells, steps: dict[str, Step], plan: Plan, who: str) -> Reading:
    step = steps.get(cells.get("step", ""))
    if cells.get("step") and step is None and not cells.get("point"):
        raise _Bad("no-step", given=cells["step"])
    try:
        uncertainty = float(cells["uncertainty"]) if cells.get("uncertainty") else None
        moment = utc(cells["at"]) if cells.get("at") else ""
    except ValueError:
        raise _Bad("at-or-uncertainty", given=cells.get("at", "")) from None
    quantity, value = _value(cells, step)
    return Reading(
        quantity,
        cells.get("point") or (step.point.id if step and step.point else step.title if step else ""),
        value,
        cells.get("who") or who,
        cells.get("revision") or plan.revision,
        cells.get("state") or (step.situation.name if step and step.situation else ""),
        cells.get("step", ""),
        cells.get("meter", ""),
        cells.get("note", ""),
        moment,
        uncertainty,
    )


def _value(cells: Cells, step: Step | None) -> tuple[str, float]:
    """Quantity and value of a row, in the base unit."""
    typed = cells["value"]
    quantity = cells.get("quantity") or (step.quantity if step else "")
    bare = re.fullmatch(r"[-+−]?\s*\d*[.,]?\d+(e[-+]?\d+)?", typed, re.I) is not None
    text = f"{typed} {cells['unit']}" if bare and cells.get("unit") else typed
    try:
        if step is not None and quantity == step.quantity:
            return quantity, understand(step, text).value
        word = typed.lower().removesuffix(".0")
        if quantity == TICK and word in YES + NO:
            return quantity, float(word in YES)
        if quantity not in DIMENSIONS:
            raise _Bad("quantity", given=quantity)
        return quantity, read_number(text.replace("−", "-").replace(",", "."), quantity)
    except QuantityError as error:
        raise _Bad("unreadable", given=typed, problem=error.problem, mend=error.mend) from None
    except ValueError as error:
        raise _Bad("unreadable", given=typed, problem=str(error), mend=AS_ASKED) from None


def _with_token(reading: Reading, cells: Cells, met: Counter[str]) -> Reading:
    """A name that the same row always gets, so that a sheet read in twice is stored once."""
    if cells.get("token"):
        return replace(reading, token=cells["token"])
    content = repr((replace(reading, at=""), cells.get("at", "")))
    met[content] += 1
    digest = sha256(f"{content}|{met[content]}".encode("utf-8", "surrogatepass")).hexdigest()
    return replace(reading, token=f"sheet-{digest[:32]}")


def _problem(name: str, line: int, fault: tuple[str, Mapping[str, object]]) -> Problem:
    key, words = fault
    texts = {**FAULTS, **ROW_FAULTS}[key]
    what, expected, mend = (text.format(**words) for text in texts)
    return Problem(Place(name, line, 1, 0, 0), what, expected, mend)


def unit_of(quantity: str) -> str:
    """The base unit in which values of a quantity stand.

    >>> unit_of("voltage"), unit_of("resistance"), unit_of("tick")
    ('V', 'Ω', '')
    """
    units = DECIMAL.get(quantity, {})
    return next((unit for unit, power in units.items() if not power), "")


def _cells(entry: Entry) -> dict[str, object]:
    r = entry.reading
    return {
        "number": entry.number, "at": r.at, "entered": entry.entered, "who": r.who, "step": r.step, "point": r.point,
        "state": r.state, "quantity": r.quantity, "value": r.value, "unit": unit_of(r.quantity),
        "uncertainty": r.uncertainty, "meter": r.meter, "note": r.note, "revision": r.revision,
        "corrects": entry.corrects or None, "pictures": entry.pictures, "token": r.token,
    }  # fmt: skip


def as_csv(entries: Iterable[Entry]) -> Iterator[str]:
    """Readings as lines of CSV with a head, values in base units; what it holds can be read in again."""
    out = io.StringIO()
    writer = csv.DictWriter(out, COLUMNS, lineterminator="\n")
    writer.writeheader()
    for entry in entries:
        writer.writerow(_cells(entry))
        if out.tell() > 65536:
            yield out.getvalue()
            out.seek(0)
            out.truncate()
    yield out.getvalue()


def as_json(entries: Iterable[Entry]) -> Iterator[str]:
    """Readings as a JSON list, one object a line."""
    yield "[\n"
    for k, entry in enumerate(entries):
        yield ("" if k == 0 else ",\n") + json.dumps(_cells(entry), ensure_ascii=False, allow_nan=False)
    yield "\n]\n"
