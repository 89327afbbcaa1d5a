"""How long the one-line drawing takes once the site is solved: the observatory, and grown to 60 parts.

Reference in the same run: a plain loop of 300 000 squares, so that slow and busy machines can be compared.
Run: python benchmarks/one_line.py
"""

import time
from collections.abc import Callable
from pathlib import Path

from ohmstead.sheets import one_line
from ohmstead.sheets.document import Terms
from ohmstead.study import from_text

SITE = Path(__file__).resolve().parents[1] / "examples" / "skerry" / "skerry-mended.yaml"
ROUNDS = 15
PARTS = 60
TERMS = Terms(date="2026-11-25")


def grown(text: str, more: int) -> str:
    """The observatory with a second block and lamps on it."""
    lamps = "".join(
        f"  extra lamp {n}: {{kind: device, input: 20..30 V, draws: 3 W, zone: hide}}\n" for n in range(1, more)
    )
    block = f"  extra block: {{kind: distribution, ways: {more}, zone: hide}}\n"
    runs = "  - {from: main bar, to: extra block, length: 2 m, wire: 6 mm2, fuse: 30 A terminal, fuse at: 0 m}\n"
    runs += "".join(
        f"  - {{from: extra block / {n}, to: extra lamp {n}, length: {3 + n} m, wire: 1.5 mm2, fuse: 2 A blade}}\n"
        for n in range(1, more)
    )
    return text.replace("\nruns:", f"{block}{lamps}\nruns:").replace("\nweather:", f"{runs}\nweather:", 1)


def best_ms(work: Callable[[], object]) -> float:
    """The shortest of several rounds. [ms]"""
    times = []
    for _ in range(ROUNDS):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return 1e3 * min(times)


def main() -> None:
    """Print the times and their ratio to the reference."""
    loop_ms = best_ms(lambda: sum(i * i for i in range(300_000)))
    print(f"reference loop: {loop_ms:.1f} ms")
    text = SITE.read_text(encoding="utf-8")
    count = len(from_text(text).site.parts) + 1
    for each in (text, grown(text, PARTS - count)):
        study = from_text(each)
        document = one_line.draw(study, TERMS)
        took_ms = best_ms(lambda study=study: one_line.draw(study, TERMS))  # type: ignore[misc]
        parts = len(study.site.parts) + len(study.site.batteries)
        print(
            f"{parts} parts on {len(document.blocks)} sheet(s): {took_ms:.1f} ms, "
            f"{took_ms / loop_ms:.1f} times the loop"
        )


if __name__ == "__main__":
    main()
