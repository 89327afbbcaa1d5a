"""The switch-on plan on paper: every step once, probe marks where they belong and on nothing else."""

from pathlib import Path

import pytest

from ohmstead.bench.figures import understand
from ohmstead.bench.judge import judge
from ohmstead.bench.marks import marks_of
from ohmstead.bench.plan import plan_of
from ohmstead.bench.reading import Entry, Reading
from ohmstead.bench.session import Outcome
from ohmstead.sheets import switch_on
from ohmstead.sheets.document import Picture, Table, Terms
from ohmstead.sheets.oneline.pages import draw_pages
from ohmstead.sheets.oneline.scene import Area, Group, Text, box_of
from ohmstead.sheets.switching import words
from ohmstead.sheets.switching.probes import add_marks, groups_of
from ohmstead.sheets.switching.record import record_sheet
from ohmstead.sheets.switching.tables import kind_of
from ohmstead.study import open_site
from sheets.shown import SITES

TERMS = Terms(date="2026-11-25", revision="B")


@pytest.mark.parametrize("sharing", ["named", "anonymous"])
@pytest.mark.parametrize("path", SITES.values(), ids=SITES)
def test_every_mark_is_drawn_once_and_covers_no_lettering(path: Path, sharing: str) -> None:
    study = open_site(path) if sharing == "named" else open_site(path).nameless()
    marks = marks_of(study.operation.circuit)
    pages = draw_pages(study, TERMS)
    before = [
        box_of(mark) for page in pages for group in page.groups for _, mark in group.within() if isinstance(mark, Text)
    ]
    add_marks(pages, study, "named", marks)
    drawn = groups_of(pages)
    wanted = {f"probe-{mark.lower()}" for mark in (*marks.points.values(), *marks.runs.values())}
    assert set(drawn) == wanted
    assert len(drawn) == len(wanted)
    for page in pages:
        added = [group for group in page.groups if group.id.startswith("probe-")]
        boxes = [_box(group) for group in added]
        for k, box in enumerate(boxes):
            assert not any(_meet(box, other) for other in boxes[k + 1 :]), added[k].id
            assert box[0] >= 0 and box[2] <= page.width and box[1] >= 0 and box[3] <= page.height
    if len(pages) == 1:
        covered = [_box(g) for g in pages[0].groups if g.id.startswith("probe-")]
        assert not [box for box in covered for text in before if _meet(box, text)]


def _box(group: Group) -> tuple[float, float, float, float]:
    return next(box_of(mark) for mark in group.marks if isinstance(mark, Area))


def _meet(a: tuple[float, ...], b: tuple[float, ...]) -> bool:
    hair = 0.05
    return min(a[2], b[2]) - max(a[0], b[0]) > hair and min(a[3], b[3]) - max(a[1], b[1]) > hair


@pytest.mark.parametrize("path", SITES.values(), ids=SITES)
def test_the_sheet_has_every_step_once_with_a_box(path: Path) -> None:
    study = open_site(path)
    plan = plan_of(study.operation)
    document = switch_on.draw(study, TERMS)
    tables = [b for b in document.blocks if isinstance(b, Table) and b.head == words.HEAD]
    numbers = [row[0] for table in tables for row in table.rows]
    assert numbers == [str(k) for k in range(1, len(plan.steps) + 1)]
    raw = [row for table in tables for row in table.raw]
    assert [row[0] for row in raw] == [step.id for step in plan.steps]
    assert any(isinstance(block, Picture) for block in document.blocks)
    assert "{" not in str(document.blocks[: document.blocks.index(tables[0])])


@pytest.mark.parametrize("path", SITES.values(), ids=SITES)
def test_every_step_knows_how_it_is_done(path: Path) -> None:
    for step in plan_of(open_site(path).operation).steps:
        assert kind_of(step) or step.stage in ("ready", "close"), step.id


def test_the_record_shows_readings_verdicts_and_open_points() -> None:
    study = open_site(SITES["cabin"] if "cabin" in SITES else next(iter(SITES.values())))
    plan = plan_of(study.operation)
    outcomes = []
    for number, (step, text) in enumerate(zip(plan.steps, ["y", "y", "y", "n", "y", "0.4", "7"], strict=False), 1):
        value = understand(step, text).value
        reading = Reading(
            step.quantity, step.title, value, "ada", plan.revision, "", step.id, at="2026-11-27T09:14:00Z"
        )
        outcomes.append(Outcome(step, Entry(number, reading, reading.at), judge(step, value)))
    document = record_sheet(study, TERMS, plan, outcomes)
    tables = {block.name: block for block in document.blocks if isinstance(block, Table)}
    found = dict(tables["commissioning-summary"].rows)
    assert (found["readings inside their band"], found["outside"], found["entered by"]) == ("5", "2", "ada")
    opened = tables["commissioning-open"].rows
    assert [row[0] for row in opened] == ["4", "7", ""]
    assert opened[1][2].startswith("STOP: 7 Ω") and opened[2][1] == f"8-{len(plan.steps)}"
    assert "switch-on-signed" in tables
