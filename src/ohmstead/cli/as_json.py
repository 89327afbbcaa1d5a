"""The same results as JSON, for other programs. The shape is documented in docs/json.md and versioned."""

import json
from typing import Any

from ..evidence.finding import Finding
from ..network.cases import Case
from ..network.elements import OperatingPoint
from ..study import Study

VERSION = 1


def dump(document: dict[str, Any]) -> str:
    """A document as text; infinities become null, since JSON has none."""
    return json.dumps(_finite(document), indent=2, ensure_ascii=False, allow_nan=False)


def _finite(value: Any) -> Any:
    if isinstance(value, float) and value - value != 0:
        return None
    if isinstance(value, dict):
        return {key: _finite(entry) for key, entry in value.items()}
    if isinstance(value, list | tuple):
        return [_finite(entry) for entry in value]
    return value


def check_document(study: Study) -> dict[str, Any]:
    """Verdict, findings and what was judged."""
    site = study.site
    return {
        "ohmstead_json": VERSION,
        "site": site.about.name,
        "file": site.path,
        "rules": site.about.rules,
        "verdict": study.verdict,
        "n_part": len(site.parts),
        "n_run": len(site.runs),
        "n_case": len(study.cases),
        "findings": [finding_document(finding) for finding in study.findings],
    }


def finding_document(finding: Finding) -> dict[str, Any]:
    """One finding; numbers in SI units of their dimension."""
    place = finding.place
    return {
        "rule": finding.rule,
        "subject": finding.subject,
        "severity": finding.severity.value,
        "message": finding.message,
        "mend": finding.mend,
        "case": finding.case,
        "place": {"file": place.file, "line": place.line, "column": place.column},
        "value": finding.value,
        "limit": finding.limit,
        "dimension": finding.dimension,
        "margin_fraction": finding.margin_fraction,
        "accepted": finding.accepted,
        "source": {"key": finding.source.key, "place": finding.source.place},
        "numbers": {
            name: {"value": number.value, "dimension": number.dimension, "how": number.how}
            for name, number in finding.numbers.items()
        },
    }


def list_document(what: str, rows: list[dict[str, Any]]) -> dict[str, Any]:
    """Rows of a listing."""
    return {"ohmstead_json": VERSION, what: rows}


def case_document(study: Study, case: Case, point: OperatingPoint) -> dict[str, Any]:
    """One operating case."""
    operation = study.operation
    circuit = operation.circuit
    return {
        "ohmstead_json": VERSION,
        "case": case.name,
        "title": case.title,
        "states": dict(case.states),
        "voltage_v": {name: operation.voltage_v(point, name) for name in circuit.map.points},
        "run_a": {path.run.name: operation.run_a(point, number) for number, path in circuit.paths.items()},
        "source_a": {name: point.source_a[i] for name, i in circuit.source_of.items()},
        "load_a": {name: point.load_a[i] for name, i in circuit.load_of.items()},
        "converter_mode": {name: point.converter_mode[i] for name, i in circuit.converter_of.items()},
        "events": [
            {"kind": e.kind, "element": e.element, "voltage_v": e.voltage_v, "needed_v": e.needed_v}
            for e in point.events
        ],
        "residual_a": point.residual_a,
    }
