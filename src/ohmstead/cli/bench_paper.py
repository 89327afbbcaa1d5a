"""`ohmstead bench FILE --sheet DIR` and `--record DIR`: the plan to fill in, and the record of what was read."""

from argparse import Namespace
from pathlib import Path

from ..bench.meter import Meter
from ..bench.parameters import Surroundings
from ..bench.plan import plan_of
from ..bench.session import outcomes_of, resting_v
from ..bench.step import Plan
from ..sheets.document import Document, Terms
from ..sheets.render.pack import pack
from ..sheets.switch_on import plan_sheet
from ..sheets.switching.record import record_sheet
from ..study import Study
from .bench_texts import BENCH
from .sheets import forms_of, write_files


def write(study: Study, plan: Plan, options: Namespace, meter: Meter) -> int:
    """Write what was asked for and say what was written."""
    forms, _ = forms_of(options.forms)
    terms = Terms(options.date, options.revision, paper=options.paper)
    by_folder: dict[str, list[Document]] = {}
    if options.sheet:
        by_folder.setdefault(options.sheet, []).append(plan_sheet(study, terms, plan))
    if options.record:
        by_folder.setdefault(options.record, []).append(_record(study, terms, plan, options.file, meter))
    for out, documents in by_folder.items():
        files = pack(study, terms, tuple(documents), [form for form in forms if form not in ("dxf", "xlsx")])
        write_files(files, Path(out), Path(options.file))
        print(BENCH["wrote"].format(count=len(files), out=out))
        print("\n".join(f"  {name}" for name in files))
    return 0


def _record(study: Study, terms: Terms, plan: Plan, site_file: str, meter: Meter) -> Document:
    from ..bench.store import store_path, view_store

    with view_store(store_path(site_file)) as store:
        entries = [entry for entry in store.entries() if entry.reading.revision == plan.revision]
    measured = resting_v(plan, entries)
    now = plan_of(study.operation, Surroundings(battery_v=measured), meter) if measured else plan
    return record_sheet(study, terms, now, outcomes_of(now, entries))
