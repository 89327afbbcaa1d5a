"""The package as parsed source: every module with its name, lines and syntax tree; nothing is imported."""

import ast
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
SRC = ROOT / "src"
PACKAGE = "ohmstead"

Function = ast.FunctionDef | ast.AsyncFunctionDef


@dataclass(frozen=True)
class Module:
    """One source file; `name` is dotted, a package's name is that of its folder."""

    name: str
    path: Path
    text: str
    tree: ast.Module

    @property
    def is_package(self) -> bool:
        return self.path.name == "__init__.py"

    @property
    def room(self) -> str:
        """First name under the package; empty for the package itself and its `__main__`."""
        parts = self.name.split(".")
        return parts[1] if len(parts) > 1 and parts[1] != "__main__" else ""

    @property
    def only_a_docstring(self) -> bool:
        return all(isinstance(n, ast.Expr) and isinstance(n.value, ast.Constant) for n in self.tree.body)

    def at(self, node: ast.AST) -> str:
        return f"{self.name}:{getattr(node, 'lineno', 1)}"


def read_package(src: Path = SRC) -> list[Module]:
    """Every module below `src/ohmstead`."""
    found = []
    for path in sorted((src / PACKAGE).rglob("*.py")):
        parts = path.relative_to(src).with_suffix("").parts
        name = ".".join(parts[:-1] if parts[-1] == "__init__" else parts)
        text = path.read_text(encoding="utf-8")
        found.append(Module(name, path, text, ast.parse(text, str(path))))
    return found


def write_package(src: Path, files: dict[str, str]) -> list[Module]:
    """A small package for the tests of the checkers: dotted file names under the package and their text."""
    for name, text in files.items():
        path = src / PACKAGE / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return read_package(src)


def parameters(function: Function) -> list[ast.arg]:
    """All parameters in order, without self and cls."""
    a = function.args
    named = [*a.posonlyargs, *a.args]
    if named and named[0].arg in ("self", "cls"):
        named = named[1:]
    return named + [x for x in (a.vararg,) if x] + a.kwonlyargs + [x for x in (a.kwarg,) if x]


def functions(module: Module) -> Iterator[Function]:
    """Every function and method, public or not, however deep."""
    for node in ast.walk(module.tree):
        if isinstance(node, Function):
            yield node


def public_parts(module: Module) -> Iterator[tuple[str, ast.ClassDef | Function]]:
    """Public functions, classes and their public methods, with a readable name."""
    for node in module.tree.body:
        if not isinstance(node, ast.ClassDef | Function) or node.name.startswith("_"):
            continue
        yield node.name, node
        if isinstance(node, ast.ClassDef):
            for member in node.body:
                if isinstance(member, Function) and not member.name.startswith("_"):
                    yield f"{node.name}.{member.name}", member
