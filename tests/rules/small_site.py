"""Small sites for the tests of protection rules: a bank, what is said of it, and some runs."""

from ohmstead import study
from ohmstead.evidence.finding import Finding


def site(runs: list[str], parts: str = "", **more: str) -> study.Study:
    """A study of a site; `bank` replaces the battery's keys, `about` adds to the section site."""
    bank = more.get("bank", "chemistry: LFP, cells: 4, capacity: 50 Ah, resistance: 20 mΩ")
    about = more.get("about", "")
    batteries = more.get("batteries", f"  bank: {{{bank}}}")
    lines = [
        "ohmstead: 1",
        f"site: {{name: trial{', ' + about if about else ''}}}",
        "battery:",
        batteries,
        "parts:",
        "  lamp: {kind: device, input: 7..64 V, draws: 12 W}",
        *(f"  {line.strip()}" for line in parts.strip().splitlines()),
        "runs:",
        *(f"  - {{{run}}}" for run in runs),
    ]
    return study.from_text("\n".join(lines) + "\n", "trial.yaml")


def said(trial: study.Study, *slugs: str) -> list[Finding]:
    """What the named rules say of it."""
    return [finding for finding in trial.findings if finding.rule in slugs]
