"""A fuse block with fewer ways than runs leaves some of them without a fuse of their own."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence, RunView

RULE = Rule("ways-missing", Source("iec-60364-4-43", "433.2.1"))
WORDS = Words(
    "{value} fused circuits leave {subject}, which has {limit} ways",
    "take a block with {value} ways or more, or feed {last} from a second block",
)
SHARED = Words(
    "{runs} share way {way} of {subject}, yet each names a fuse of its own; a way holds one",
    "give each its own way{free}",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    for view in evidence.blocks:
        subject = Subject(view.name, view.place)
        leaving = [run for run in evidence.runs if run.run.start.part == view.name]
        by_way: dict[int, list[RunView]] = {}
        for run in leaving:
            if run.run.start.way is not None:
                by_way.setdefault(run.run.start.way, []).append(run)
        loose = [run for run in leaving if run.run.start.way is None and run.own_fuse is not None]
        needed = len(by_way) + len(loose)
        if view.block.ways is not None and needed > view.block.ways:
            yield RULE.find(
                Severity.FAILS,
                subject,
                WORDS,
                Measure(needed, view.block.ways, "count"),
                texts={"last": (loose or leaving)[-1].name},
            )
        free = [way for way in range(1, (view.block.ways or 0) + 1) if way not in by_way]
        for way, runs in sorted(by_way.items()):
            fused = [run for run in runs if run.own_fuse is not None]
            if len(fused) > 1:
                yield RULE.find(
                    Severity.FAILS,
                    subject,
                    SHARED,
                    numbers={"way": Number(way, "count", "stated")},
                    texts={
                        "runs": " and ".join(run.name for run in fused),
                        "free": f"; way {free[0]} is free" if free else "; none is free",
                    },
                )
