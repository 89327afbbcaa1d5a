"""A bar that tells how far a sweep is and how long it still takes; only where a terminal reads."""

import sys
from typing import TYPE_CHECKING

from ..quantity.show import show
from .size_texts import SIZE

if TYPE_CHECKING:
    from ..season.sweep import Progress

WIDTH = 40


def bar(step: "Progress") -> str:
    """One line: how much is done, and the time that is left."""
    share = step.n_done / max(step.n_piece, 1)
    full = round(share * WIDTH)
    left = SIZE["left"].format(time=show(float(round(step.left_s)), "time", 1)) if step.left_s else ""
    return SIZE["progress"].format(bar="█" * full + "░" * (WIDTH - full), percent=100 * share, left=left)


def watch(step: "Progress") -> None:
    """Show it, each time over the last."""
    if not sys.stderr.isatty():
        return
    end = "\n" if step.n_done == step.n_piece else ""
    sys.stderr.write(f"\r{bar(step):<79}{end}")
    sys.stderr.flush()
