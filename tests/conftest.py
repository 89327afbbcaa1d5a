"""What every test may use: the `outside` record, oracle markers, and the trust page kept in step.

    def test_table_3(outside):
        worst = ...
        outside(source="iec-60228", place="table 3", read="second-hand",
                what="class 5 resistance", deviation=worst)
        assert worst < 0.005

`pytest --trust check` compares the records of the run with docs/trust.md, `--trust write` writes it.
"""

import ctypes.util
import os
import shutil
from collections.abc import Callable, Iterator

import pytest
from hypothesis import settings

from house import trust

# Children started by tests (the command line, benchmarks) speak UTF-8 wherever they run.
os.environ["PYTHONUTF8"] = "1"
# Small matrices: threads of their own only get in the way of workers side by side. Set before numpy is imported.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

# In CI the same examples are tried each time, so that a run there says something about the change.
settings.register_profile("house", deadline=None, derandomize=os.environ.get("CI") == "true")
settings.load_profile("house")

ORACLES: dict[str, tuple[str, Callable[[], bool]]] = {
    "needs_ngspice": ("the program ngspice", lambda: shutil.which("ngspice") is not None),
    "needs_libngspice": ("the library libngspice", lambda: ctypes.util.find_library("ngspice") is not None),
    "needs_chromium": (
        "the browser chromium",
        lambda: any(shutil.which(name) for name in ("chromium", "chromium-browser", "google-chrome")),
    ),
}


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--trust",
        choices=("off", "check", "write"),
        default="off",
        help="after a full run, compare docs/trust.md with what the tests recorded, or write it",
    )


def pytest_configure(config: pytest.Config) -> None:
    for marker, (thing, _) in ORACLES.items():
        config.addinivalue_line("markers", f"{marker}: needs {thing}; skipped by name, fails when CI=true")
    if not hasattr(config, "workerinput"):  # the controlling process gathers, xdist workers only report
        config.pluginmanager.register(TrustKeeper(config), "trust-keeper")


def pytest_runtest_setup(item: pytest.Item) -> None:
    for marker, (thing, present) in ORACLES.items():
        if item.get_closest_marker(marker) is None or present():
            continue
        if os.environ.get("CI") == "true":
            pytest.fail(f"{thing} is missing, and CI may not run without it", pytrace=False)
        pytest.skip(f"{thing} is not installed")


@pytest.fixture
def outside(request: pytest.FixtureRequest) -> Callable[..., None]:
    """Record one check against something outside our own code. Call it before the assert."""

    def record(*, source: str, place: str = "", read: str, what: str, deviation: float | None = None) -> None:
        row = trust.record(source, place, read, what, deviation)
        request.node.user_properties.append(("outside", row))

    return record


class TrustKeeper:
    """Gathers the records of passed tests and settles them with docs/trust.md at the end."""

    def __init__(self, config: pytest.Config) -> None:
        self.mode: str = config.getoption("--trust")
        if self.mode != "off" and config.args_source is not pytest.Config.ArgsSource.TESTPATHS:
            raise pytest.UsageError("--trust needs the whole suite: name no files")
        self.rows: list[trust.Row] = []
        self.not_run: set[str] = set()
        self.verdict: list[str] = []

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        test = trust.test_name(report.nodeid)
        if report.outcome != "passed":
            self.not_run.add(test)
        elif report.when == "call":
            for name, value in report.user_properties:
                if name == "outside":
                    self.rows.append(trust.row(test, value))

    def pytest_deselected(self, items: list[pytest.Item]) -> None:
        self.not_run.update(trust.test_name(item.nodeid) for item in items)

    @pytest.hookimpl(wrapper=True, tryfirst=True)
    def pytest_sessionfinish(self, session: pytest.Session) -> Iterator[None]:
        if self.mode != "off":
            self.verdict = trust.settle(self.mode, trust.merged(self.rows), self.not_run)
            if self.verdict and session.exitstatus == pytest.ExitCode.OK:
                session.exitstatus = pytest.ExitCode.TESTS_FAILED
        return (yield)

    def pytest_terminal_summary(self, terminalreporter: pytest.TerminalReporter) -> None:
        if self.mode == "off":
            return
        terminalreporter.section("docs/trust.md")
        for line in self.verdict or [f"{self.mode}: in step, {len(trust.merged(self.rows))} rows"]:
            terminalreporter.write_line(line)
