"""The plan as CSV to be filled in by hand and read in again."""

import csv
import io

from .figures import band_text, unit_of, value_text
from .step import Plan

HEAD = (
    "step", "title", "probes", "expected", "unit", "value", "who", "at", "meter", "note", "quantity", "point", "state",
    "revision",
)  # fmt: skip


def blank_csv(plan: Plan) -> str:
    """One row a step with empty `value`, `who`, `at`, `meter` and `note`; a bare value counts in `unit`."""
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(HEAD)
    for step in plan.steps:
        expected = " ".join(text for text in (value_text(step), band_text(step)) if text)
        point = step.point.id if step.point else step.title
        state = step.situation.name if step.situation else ""
        writer.writerow(
            (step.id, step.title, step.probes, expected, unit_of(step), "", "", "", "", "", step.quantity, point, state,
             plan.revision)
        )  # fmt: skip
    return out.getvalue()
