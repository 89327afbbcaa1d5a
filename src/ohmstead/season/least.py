"""The least loss of use that saves enough: whole devices off or held, the least important first."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from heapq import heappop, heappush
from itertools import product

import numpy as np

from .choices import Option

Choice = tuple[Option, ...]
Enough = Callable[[Choice], bool]
MOST_TRIED = 4096  # sets of one priority that are tried one by one; beyond, an integer programme proposes them
STEPS = 200  # into which all that can be saved is parted; the programme is asked for a step more each time
HALVINGS = 8
NEARLY = 0.9  # of what is needed when spread evenly, the programme is asked first
PROVEN, BY_ENERGY = "least", "least by energy"


def least_loss(options: Sequence[Option], enough: Enough) -> tuple[Choice | None, str]:
    """The options to take, and how they were found: "least" of all, or "least by energy" where there are too many.

    Priorities are looked at from the most important down: of those that cannot be spared by switching off all that
    matters less, as little as can be is taken; then of the next, with what is taken above given. None when even all
    off is not enough.
    """
    if enough(()):
        return (), PROVEN
    classes = sorted({option.priority for option in options})
    all_off = {priority: tuple(o for o in options if o.priority == priority and o.state == "") for priority in classes}
    taken: Choice = ()
    how = PROVEN
    if not enough(tuple(option for off in all_off.values() for option in off)):
        return None, how
    for number, priority in enumerate(classes):
        below = tuple(option for less in classes[number + 1 :] for option in all_off[less])
        own = [option for option in options if option.priority == priority]

        def holds(chosen: Choice, taken: Choice = taken, below: Choice = below) -> bool:
            return enough((*taken, *chosen, *below))

        found, manner = _of_one_priority(own, holds)
        how = manner if manner != PROVEN else how
        taken = (*taken, *(found if found is not None else all_off[priority]))
    return taken, how


def _of_one_priority(options: Sequence[Option], enough: Enough) -> tuple[Choice | None, str]:
    by_device: dict[str, list[Option]] = {}
    for option in options:
        by_device.setdefault(option.device, []).append(option)
    n_set = np.prod([1.0 + len(ways) for ways in by_device.values()]) if by_device else 1.0
    if n_set <= MOST_TRIED:
        return next((chosen for chosen in _by_loss(list(by_device.values())) if enough(chosen)), None), PROVEN
    if enough(()):
        return (), PROVEN
    return _proposed(list(by_device.values()), enough), BY_ENERGY


def cost(chosen: Choice) -> tuple[float, float]:
    """Uses lost, and the energy that does not reach the devices: what is compared, the first before the second."""
    return sum(option.loss for option in chosen), sum(float(option.kept_back_w.sum()) for option in chosen)


def _by_loss(devices: Sequence[Sequence[Option]]) -> Iterator[Choice]:
    """Every set, the least loss first."""
    heap: list[tuple[tuple[float, float], int, Choice]] = []
    for number, picks in enumerate(product(*[(None, *ways) for ways in devices])):
        chosen = tuple(option for option in picks if option is not None)
        heappush(heap, (cost(chosen), number, chosen))
    while heap:
        yield heappop(heap)[2]


def _needed(options: Sequence[Option], enough: Enough) -> float:
    """Share of all that can be saved which, spread evenly over the devices, is just enough."""
    off = [option for option in options if option.state == ""]
    low, high = 0.0, 1.0
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        part = tuple(replace(option, saved_w=middle * option.saved_w) for option in off)
        low, high = (low, middle) if enough(part) else (middle, high)
    return low


def _proposed(devices: Sequence[Sequence[Option]], enough: Enough) -> Choice | None:
    """Sets of least loss that save more and more energy, until one is enough: a covering programme each.

    Raises ImportError when scipy is not installed.
    """
    from scipy.optimize import Bounds, LinearConstraint, milp

    options = [option for ways in devices for option in ways]
    saved = np.array([float(option.saved_w.sum()) for option in options])
    kept_back = np.array([float(option.kept_back_w.sum()) for option in options])
    loss = np.array([option.loss for option in options]) + 0.4 * kept_back / max(float(kept_back.sum()), 1e-12)
    once = np.array([[float(option in ways) for option in options] for ways in devices])
    most = float(sum(max(float(o.saved_w.sum()) for o in ways) for ways in devices))
    wanted = NEARLY * _needed(options, enough) * most
    while wanted < most * (1.0 + 1e-9):
        solved = milp(
            loss,
            constraints=[LinearConstraint(once, -np.inf, 1.0), LinearConstraint(saved[None, :], wanted, np.inf)],
            bounds=Bounds(0.0, 1.0),
            integrality=np.ones(len(options)),
        )
        if solved.x is None:
            return None
        chosen = tuple(option for option, x in zip(options, solved.x, strict=True) if x > 0.5)
        if enough(chosen):
            return chosen
        had = float(sum(float(option.saved_w.sum()) for option in chosen))
        wanted = max(wanted, had) + most / STEPS
    every: Choice = tuple(max(ways, key=lambda o: float(o.saved_w.sum())) for ways in devices)
    return every if enough(every) else None
