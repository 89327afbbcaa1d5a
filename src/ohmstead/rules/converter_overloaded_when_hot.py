"""A converter in hot air gives less than its rating, and here that is not enough."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import ConverterView, Evidence
from .converter_overloaded import SMALL_MARGIN, overloaded

RULE = Rule("converter-overloaded-when-hot", Source("common-practice", "derating curve on the converter's own sheet"))
OVER = Words(
    "{value} are asked of {subject}; in air of {air} there are {limit} left of its {rating} (full up to {full}, "
    "nothing at {nothing}{assumed})",
    "{cure}take one rated {next} or more with the same derating",
)
CLOSE = Words(
    "{value} are asked of {subject}, and in air of {air} it gives {limit}: less than {share} in hand",
    "{cure}watch its temperature on the first hot day",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    with_budget = {view.name for view in evidence.ethernet}
    for view in evidence.converters:
        rating_w, derated_w = view.converter.rating_w, view.derated_w
        if rating_w is None or derated_w is None or view.name in with_budget or overloaded(view):
            continue
        if derated_w >= rating_w or view.output_w.value <= 0:
            continue
        if view.output_w.value > derated_w:
            # A derating that nobody stated is a guess: it warns, it does not condemn.
            yield _find(Severity.FAILS if _stated(view) else Severity.TIGHT, view, OVER, rating_w, derated_w)
        elif view.output_w.value > derated_w * (1 - SMALL_MARGIN) and _stated(view):
            yield _find(Severity.TIGHT, view, CLOSE, rating_w, derated_w)


def _stated(view: ConverterView) -> bool:
    origins = [view.converter.origin.get(name) for name in ("full_until_c", "nothing_at_c")]
    return any(origin is not None and origin.how == "stated" for origin in origins)


def _find(severity: Severity, view: ConverterView, words: Words, rating_w: float, derated_w: float) -> Finding:
    part, asked_w = view.converter, view.output_w.value
    how = "stated" if _stated(view) else "assumed"
    span_k = part.nothing_at_c - part.full_until_c
    bearable_c = part.full_until_c + (1 - asked_w / (1 - SMALL_MARGIN) / rating_w) * span_k
    cure = ""
    if bearable_c > part.full_until_c:
        cure = f"keep the air around it below {Number(bearable_c, 'temperature')}, or "
    wanted_w = asked_w / (1 - SMALL_MARGIN) * (rating_w / derated_w) if derated_w > 0 else float("inf")
    numbers = {
        "air": Number(view.ambient_c, "temperature"),
        "rating": Number(rating_w, "power", "stated"),
        "full": Number(part.full_until_c, "temperature", how),
        "nothing": Number(part.nothing_at_c, "temperature", how),
        "share": Number(SMALL_MARGIN, "share", "assumed"),
    }
    texts = {
        "assumed": "" if how == "stated" else ", assumed",
        "cure": cure,
        "next": str(Number(float(-(-wanted_w // 1)), "power")) if derated_w > 0 else "for hotter air",
    }
    subject = Subject(view.name, view.place, view.output_w.case)
    return RULE.find(severity, subject, words, Measure(asked_w, derated_w, "power"), numbers, texts)
