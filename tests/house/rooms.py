"""Which room may import from which, and no module in a circle."""

import ast
from collections.abc import Iterator

from house.modules import PACKAGE, Module

# A room imports only from rooms above it; rooms that do not exist yet keep their place.
ORDER = (
    "quantity", "tables", "parts", "site", "wiring", "storage", "sun", "heat", "plate", "plan",
    "network", "evidence",
    "season", "rules", "choose", "bench", "journal", "sheets", "study", "cli", "web",
)  # fmt: skip
FORBIDDEN = {"utils", "util", "helpers", "helper", "common", "base", "core", "misc"}
FACES = {"cli", "web"}
STARTS = {("ohmstead.cli.page", "web")}  # the command that starts the page


def imports(module: Module, known: set[str]) -> Iterator[tuple[str, ast.AST]]:
    """Names of our own modules that this one imports, wherever in the file the import stands."""
    package = module.name if module.is_package else module.name.rpartition(".")[0]
    for node in ast.walk(module.tree):
        if isinstance(node, ast.Import):
            for alias in node.names:
                if alias.name.split(".")[0] == PACKAGE:
                    yield alias.name, node
        elif isinstance(node, ast.ImportFrom):
            if node.level:
                parts = package.split(".")
                above = ".".join(parts[: len(parts) - node.level + 1])
                target = f"{above}.{node.module}" if node.module else above
            else:
                target = node.module or ""
            if target.split(".")[0] != PACKAGE:
                continue
            for alias in node.names:
                deeper = f"{target}.{alias.name}"
                yield (deeper if deeper in known else target), node


def order_faults(modules: list[Module]) -> list[str]:
    """Rooms nobody planned, and imports from a room below one's own."""
    known = {m.name for m in modules}
    faults = []
    for module in modules:
        if module.room and module.room not in ORDER:
            faults.append(f"{module.name}: no room of this name in the plan")
            continue
        for target, node in imports(module, known):
            room = target.split(".")[1] if "." in target else ""
            if not module.room:
                # The package itself only opens a study, and does so when asked.
                allowed = room in {"study"} | FACES
            elif not room:
                allowed = module.room in FACES
            else:
                allowed = room in ORDER and ORDER.index(room) <= ORDER.index(module.room)
                allowed = allowed or (module.name, room) in STARTS
            if not allowed:
                faults.append(f"{module.at(node)} imports {target}")
    return faults


def name_faults(modules: list[Module]) -> list[str]:
    """Names that say nothing: a homeless function means that a room is missing."""
    return [f"{m.name}: call it what it is about" for m in modules if FORBIDDEN & set(m.name.strip("_").split("."))]


def cycles(modules: list[Module]) -> list[str]:
    """Every circle of imports among modules, each reported once."""
    known = {m.name for m in modules}
    edges = {m.name: sorted({t for t, _ in imports(m, known) if t in known} - {m.name}) for m in modules}
    found: set[tuple[str, ...]] = set()
    done: set[str] = set()

    def visit(name: str, path: list[str]) -> None:
        if name in path:
            circle = path[path.index(name) :]
            first = circle.index(min(circle))
            found.add(tuple(circle[first:] + circle[:first]))
        elif name not in done:
            for target in edges[name]:
                visit(target, [*path, name])
            done.add(name)

    for name in edges:
        visit(name, [])
    return [" -> ".join([*circle, circle[0]]) for circle in sorted(found)]
