"""The docstring of a physics function is a contract: parameters, units, source, example."""

import ast
import re
from dataclasses import dataclass, field

from house.modules import Function, Module, parameters, public_parts
from house.vocabulary import ending, endings, is_plain

ROOMS = {"wiring", "storage", "sun", "heat"}
SECTIONS = ("Parameters", "Returns", "Source", "Examples")


@dataclass
class Contract:
    """A docstring taken apart: sections, and the text below each parameter."""

    sections: dict[str, str] = field(default_factory=dict)
    parameters: dict[str, str] = field(default_factory=dict)


def read_contract(docstring: str) -> Contract:
    """Sections are underlined with dashes; a parameter starts at the margin as `name : type`."""
    found = Contract()
    pieces = re.split(r"^(\w[\w ]*)\n-{3,}\n", docstring, flags=re.M)
    found.sections = dict(zip(pieces[1::2], (text.strip("\n") for text in pieces[2::2]), strict=True))
    name = ""
    for line in found.sections.get("Parameters", "").splitlines():
        if line and not line.startswith(" "):
            name = line.partition(":")[0].strip()
            found.parameters[name] = line
        elif name:
            found.parameters[name] += "\n" + line
    return found


def units(text: str) -> list[str]:
    """What stands in square brackets, type subscripts such as tuple[float] left out."""
    return re.findall(r"(?<!\w)\[([^\[\]]+)\]", text)


def _unit_faults(name: str, text: str) -> list[str]:
    suffix = ending(name)
    if not suffix:
        return []
    given = units(text)
    if not given:
        return [f"{name} has no [unit]"]
    return [] if any(u in endings()[suffix] for u in given) else [f"{name} is given in [{given[-1]}]"]


def is_physics(function: Function) -> bool:
    """True when a name with a unit goes in or comes out."""
    return bool(ending(function.name)) or any(ending(p.arg) for p in parameters(function))


def contract_faults(function: Function) -> list[str]:
    """Everything in which a docstring falls short of its function."""
    contract = read_contract(ast.get_docstring(function) or "")
    faults = [f"no section {section}" for section in SECTIONS if not contract.sections.get(section, "").strip()]
    signature = [p.arg for p in parameters(function)]
    if "Parameters" in contract.sections and list(contract.parameters) != signature:
        faults.append(f"documents {', '.join(contract.parameters)}; takes {', '.join(signature)}")
    for name, text in contract.parameters.items():
        faults += _unit_faults(name, text)
    if "Returns" in contract.sections:
        faults += _unit_faults(function.name, contract.sections["Returns"])
    if "Examples" in contract.sections and ">>>" not in contract.sections["Examples"]:
        faults.append("the example cannot run")
    return faults


def docstring_faults(modules: list[Module]) -> list[str]:
    """Physics functions whose docstring breaks the contract; methods are told by their class."""
    return [
        f"{module.at(node)} {name}: {fault}"
        for module in modules
        if module.room in ROOMS
        for name, node in public_parts(module)
        if isinstance(node, Function) and "." not in name and is_physics(node)
        for fault in contract_faults(node)
    ]


def _is_float(annotation: ast.expr | None) -> bool:
    match annotation:
        case ast.Name(id="float" | "Span"):
            return True
        case ast.BinOp(left=left, right=right):
            return _is_float(left) or _is_float(right)
    return False


def nameless_units(modules: list[Module]) -> list[str]:
    """Public float parameters and fields whose name tells neither a unit nor a word of the vocabulary."""
    faults = []
    for module in modules:
        # In `quantity` the unit is an argument of its own; on `sheets`, `plate` and `plan` every length is in mm.
        if module.room in ("quantity", "sheets", "plate", "plan"):
            continue
        for name, node in public_parts(module):
            if isinstance(node, ast.ClassDef):
                fields = [s for s in node.body if isinstance(s, ast.AnnAssign) and isinstance(s.target, ast.Name)]
                given = [(f.target.id, f.annotation) for f in fields]
            else:
                given = [(p.arg, p.annotation) for p in parameters(node)]
            faults += [
                f"{module.at(node)} {name}: {arg} has no unit in docs/names.md"
                for arg, annotation in given
                if _is_float(annotation) and not arg.startswith("_") and not ending(arg) and not is_plain(arg)
            ]
    return faults
