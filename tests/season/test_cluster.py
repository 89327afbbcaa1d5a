"""The same sweep on a cluster: a real scheduler with two workers on this machine, one of which is killed half-way."""

import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest

from ohmstead.season.cluster import ClusterError, cluster
from ohmstead.season.sweep import Progress, run_sweep

from .hut import OFFER, hut

LOCAL = ["--no-dashboard", "--host", "127.0.0.1"]


def dask(what: str, *words: str) -> subprocess.Popen[bytes]:
    """One process of a cluster, as the documentation starts it."""
    quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL}
    return subprocess.Popen([sys.executable, "-m", "dask", what, *words], **quiet)  # type: ignore[call-overload, no-any-return]


@pytest.fixture
def workers(tmp_path: Path) -> Iterator[tuple[str, list[subprocess.Popen[bytes]]]]:
    """The address of a scheduler with two workers."""
    import json
    import time

    file = tmp_path / "scheduler.json"
    started = [dask("scheduler", *LOCAL, "--port", "0", "--scheduler-file", str(file))]
    begun = time.monotonic()
    while not (file.exists() and file.read_text().strip()):
        assert time.monotonic() - begun < 20, "the scheduler did not start"
        time.sleep(0.1)
    address = json.loads(file.read_text())["address"]
    for _ in range(2):
        started.append(dask("worker", address, "--nthreads", "1", "--no-nanny", "--no-dashboard",
                            "--local-directory", str(tmp_path)))  # fmt: skip
    yield address, started[1:]
    for process in reversed(started):
        process.kill()
        process.wait()


def test_a_cluster_that_loses_a_worker_ends_in_the_same_figures(
    workers: tuple[str, list[subprocess.Popen[bytes]]],
) -> None:
    address, processes = workers
    scene = hut()
    seen: list[Progress] = []

    def watch(step: Progress) -> None:
        seen.append(step)
        if step.n_done == 4:
            processes[0].send_signal(getattr(signal, "SIGKILL", signal.SIGTERM))

    from distributed import Client

    with Client(address, timeout=20, set_as_default=False) as client:
        client.wait_for_workers(2, timeout=20)
    found = run_sweep(scene, OFFER, engine=cluster(address), watch=watch)
    assert processes[0].wait(10) != 0
    assert processes[1].poll() is None
    assert len(seen) == 12
    np.testing.assert_array_equal(found.rows, run_sweep(scene, OFFER).rows)


def test_an_address_where_nobody_answers_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    with pytest.raises(ClusterError, match="no address of a scheduler"):
        run_sweep(hut(), OFFER, engine=cluster("10.0.0.5"))
    monkeypatch.setattr("ohmstead.season.cluster.PATIENCE_S", 1)
    with pytest.raises(ClusterError, match="no scheduler answers at tcp://127.0.0.1:9"):
        run_sweep(hut(), OFFER, engine=cluster("tcp://127.0.0.1:9"))
