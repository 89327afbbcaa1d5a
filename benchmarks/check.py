"""How long one cold `ohmstead check` takes, and how much memory: fresh processes, bytecode compiled beforehand.

Reference in the same run: a bare interpreter that starts and ends, and one that imports numpy and scipy.optimize
and does nothing with them. Run: python benchmarks/check.py
"""

import os
import re
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
SITE = ROOT / "examples" / "skerry" / "skerry-mended.yaml"
ROUNDS = 9
MORE = 9  # devices added to the observatory, to make it a site of 40 parts and a battery


def grown_site() -> str:
    """The observatory with further lamps on a second block, 40 parts in all."""
    text = SITE.read_text(encoding="utf-8")
    lamps = "".join(
        f"  extra lamp {n}: {{kind: device, input: 20..30 V, draws: {{off: 0.1 W, on: 6 W}}, zone: hide}}\n"
        for n in range(1, MORE)
    )
    block = f"  extra block: {{kind: distribution, ways: {MORE}, total: 60 A, per way: 20 A, zone: hide}}\n"
    runs = "  - {from: main bar, to: extra block, length: 2 m, wire: 6 mm2, fuse: 30 A terminal, fuse at: 0 m}\n"
    runs += "".join(
        f"  - {{from: extra block / {n}, to: extra lamp {n}, length: {3 + n} m, wire: 1.5 mm2, fuse: 2 A blade}}\n"
        for n in range(1, MORE)
    )
    return text.replace("\nruns:", f"{block}{lamps}\nruns:").replace("\nweather:", f"{runs}\nweather:")


def unboxed(text: str) -> str:
    """The site with its cabinet as a zone of stated air, and no plate."""
    text = re.sub(r"(?ms)^(cabinet|plate):.*?(?=^\w|\Z)", "", text)
    text = re.sub(r"air: from heat", "air: loft + 8 K", text)
    text = re.sub(r", at: (high|low|middle)", "", text)
    return text.replace("length: from plan", "length: 0.7 m")


def measure(words: list[str], environment: dict[str, str]) -> tuple[list[float], float]:
    """Wall times of fresh processes [s] and the largest memory of one of them [MB]."""
    found, peak_mb = [], 0.0
    for _ in range(ROUNDS):
        start = time.perf_counter()
        process = subprocess.Popen(words, env=environment, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        _, _, usage = os.wait4(process.pid, 0)
        found.append(time.perf_counter() - start)
        peak_mb = max(peak_mb, usage.ru_maxrss / 1024)
    return found, peak_mb


def main() -> None:
    """Print the table."""
    with tempfile.TemporaryDirectory() as folder:
        path, boxed = Path(folder) / "grown.yaml", Path(folder) / "boxed.yaml"
        boxed.write_text(grown_site(), encoding="utf-8")
        path.write_text(unboxed(grown_site()), encoding="utf-8")
        environment = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
        environment |= {"PYTHONPYCACHEPREFIX": folder, "PYTHONPATH": str(ROOT / "src")}
        commands = {
            "bare interpreter": [sys.executable, "-c", "pass"],
            "imports numpy and scipy.optimize": [sys.executable, "-c", "import numpy, scipy.optimize"],
            "ohmstead check, 40 parts": [sys.executable, "-m", "ohmstead", "check", str(path)],
            "the same with cabinet and plate": [sys.executable, "-m", "ohmstead", "check", str(boxed)],
        }
        times = {}
        for name, words in commands.items():
            done = subprocess.run(words, env=environment, capture_output=True, text=True, check=False)  # compiles
            if done.returncode not in (0, 1) or done.stderr:
                raise SystemExit(f"{name} broke off: {done.stderr}")  # a refusal is quick, and no figure
            times[name] = measure(words, environment)
    bare = statistics.median(times["bare interpreter"][0])
    print(f"{'fresh process':<36} {'least s':>8} {'median s':>8} {'most s':>8} {'x bare':>8} {'peak MB':>8}")
    for name, (found, peak_mb) in times.items():
        print(
            f"{name:<36} {min(found):8.3f} {statistics.median(found):8.3f} {max(found):8.3f} "
            f"{statistics.median(found) / bare:8.1f} {peak_mb:8.0f}"
        )


if __name__ == "__main__":
    main()
