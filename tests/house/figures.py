"""Sizes: how long a module, how many parameters, how many methods."""

import ast
from statistics import median

from house.modules import Function, Module, functions, parameters

MEDIAN_LINES = 120
MOST_LINES = 400
MOST_PARAMETERS = 7
MOST_METHODS = 15


def lines(module: Module) -> int:
    return len(module.text.splitlines())


def size_faults(modules: list[Module]) -> list[str]:
    """Modules over the limit, and a median over the limit. A room's bare docstring is not a module."""
    real = [m for m in modules if not m.only_a_docstring]
    faults = [f"{m.name}: {lines(m)} lines, at most {MOST_LINES}" for m in real if lines(m) > MOST_LINES]
    middle = median(map(lines, real)) if real else 0
    if middle > MEDIAN_LINES:
        faults.append(f"the median module has {middle:g} lines, at most {MEDIAN_LINES}")
    return faults


def parameter_faults(modules: list[Module]) -> list[str]:
    """Functions, public or not, that take too much at once."""
    return [
        f"{m.at(f)} {f.name}: {len(parameters(f))} parameters, at most {MOST_PARAMETERS}"
        for m in modules
        for f in functions(m)
        if len(parameters(f)) > MOST_PARAMETERS
    ]


def method_faults(modules: list[Module]) -> list[str]:
    """Classes that do too much."""
    faults = []
    for module in modules:
        for node in ast.walk(module.tree):
            if isinstance(node, ast.ClassDef):
                count = sum(isinstance(member, Function) for member in node.body)
                if count > MOST_METHODS:
                    faults.append(f"{module.at(node)} {node.name}: {count} methods, at most {MOST_METHODS}")
    return faults
