"""Faults of a diagnosis in words."""

from collections.abc import Sequence

from ..quantity.show import show
from .diagnosis import Explanation, Fault
from .diagnosis_texts import AND, FAULTS, NOTHING, NOTHING_MORE, PLACES


def fault_words(fault: Fault) -> str:
    """One fault: "wrong fuse: in block / 2 -> lamp as if of 15 A (...)".

    >>> fault_words(Fault("set-point", "rack supply", "", 2.5, 0.02, 19.0, "voltage"))
    'rack supply is set to 21.5 V ± 20 mV instead of 19 V'
    """
    key = fault.kind
    if key == "joint" and fault.place in ("holder", ""):
        key = "joint-holder" if fault.place else "joint-contact"
    if key == "draw":
        key = "draw-more"
    now = max(fault.usual + fault.size, 0.0) if fault.dimension in ("resistance", "power") else fault.usual + fault.size
    return FAULTS[key].format(
        subject=fault.subject,
        place=PLACES.get(fault.place, fault.place),
        size=_shown(fault.size, fault.dimension),
        sigma=_shown(fault.uncertainty, fault.dimension),
        usual=_shown(fault.usual, fault.dimension),
        now=_shown(now, fault.dimension),
        name=fault.name,
    )


def explanation_words(explanation: Explanation) -> str:
    """All faults of an explanation in one sentence."""
    return AND.join(fault_words(fault) for fault in explanation.faults) or NOTHING


def differing_words(explanations: Sequence[Explanation]) -> list[str]:
    """Each explanation by what it does not share with all the others."""
    kinds = [{fault.key for fault in e.faults} for e in explanations]
    shared = set.intersection(*kinds) if kinds else set()
    apart = [[fault_words(fault) for fault in e.faults if fault.key not in shared] for e in explanations]
    return [AND.join(words) or (NOTHING_MORE if shared else NOTHING) for words in apart]


def _shown(value: float, dimension: str) -> str:
    return show(value, dimension, 3) if dimension else f"{value:.3g}"
