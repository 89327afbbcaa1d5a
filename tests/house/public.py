"""Everything public is typed and documented, and asks no yes/no question."""

import ast
from collections.abc import Iterator

from house.modules import Function, Module, parameters, public_parts


def _is_yes_no(annotation: ast.expr | None) -> bool:
    """True for `bool`, `bool | None`, `Optional[bool]`; a callable that answers yes or no is fine."""
    match annotation:
        case ast.Name(id="bool") | ast.Constant(value="bool"):
            return True
        case ast.BinOp(left=left, right=right):
            return _is_yes_no(left) or _is_yes_no(right)
        case ast.Subscript(value=ast.Name(id="Optional" | "Union"), slice=inner):
            choices = inner.elts if isinstance(inner, ast.Tuple) else [inner]
            return any(map(_is_yes_no, choices))
    return False


def _defaults(function: Function) -> Iterator[ast.expr]:
    yield from function.args.defaults
    yield from (d for d in function.args.kw_defaults if d is not None)


def documentation_faults(modules: list[Module]) -> list[str]:
    """Modules, classes and functions without a docstring. A rule's `check` is told by its module."""
    faults = []
    for module in modules:
        if module.text.strip() and not ast.get_docstring(module.tree):
            faults.append(f"{module.name}: no docstring")
        for name, node in public_parts(module):
            if module.room == "rules" and name == "check":
                continue
            if not ast.get_docstring(node):
                faults.append(f"{module.at(node)} {name}: no docstring")
    return faults


def typing_faults(modules: list[Module]) -> list[str]:
    """Public functions with a parameter or an answer of unknown type."""
    faults = []
    for module in modules:
        for name, node in public_parts(module):
            if isinstance(node, ast.ClassDef):
                continue
            faults += [
                f"{module.at(node)} {name}: {p.arg} has no type" for p in parameters(node) if p.annotation is None
            ]
            if node.returns is None:
                faults.append(f"{module.at(node)} {name}: the answer has no type")
    return faults


def yes_no_faults(modules: list[Module]) -> list[str]:
    """Public functions that take a yes/no: make two functions, or ask for a word."""
    faults = []
    for module in modules:
        for name, node in public_parts(module):
            if isinstance(node, ast.ClassDef):
                continue
            asked = any(_is_yes_no(p.annotation) for p in parameters(node))
            given = any(isinstance(d, ast.Constant) and isinstance(d.value, bool) for d in _defaults(node))
            if asked or given:
                faults.append(f"{module.at(node)} {name}: takes a yes/no parameter")
    return faults
