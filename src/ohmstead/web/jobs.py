"""Long work in the background: started once for a question, told how far it is, stopped on request.

It goes on when the window is closed; whoever asks the same again finds it, running or done.
"""

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from threading import Event, Lock
from typing import Any

MOST_KEPT = 40


class Cancelled(Exception):
    """The work was stopped by the person who asked for it."""


@dataclass
class Job:
    """One piece of work. `state` is "waiting", "running", "done", "stopped" or "failed"; `share` of it is done,
    `left_s` is how long it still takes where that is known."""

    key: tuple[str, ...]
    state: str = "waiting"
    share: float = 0.0
    left_s: float | None = None
    result: Any = None
    fault: Exception | None = None
    asked_to_stop: Event = field(default_factory=Event)

    def tell(self, share: float, left_s: float | None = None) -> None:
        """Say how far it is. Raises Cancelled when it was asked to stop."""
        self.share, self.left_s = share, left_s
        if self.asked_to_stop.is_set():
            raise Cancelled


class Jobs:
    """The work of one server, one after the other."""

    def __init__(self) -> None:
        self._pool = ThreadPoolExecutor(1, thread_name_prefix="job")
        self._jobs: dict[tuple[str, ...], Job] = {}
        self._lock = Lock()

    def find(self, *key: str) -> Job | None:
        """The job of a question, None when it was never asked."""
        return self._jobs.get(key)

    def start(self, work: Callable[[Job], Any], *key: str) -> Job:
        """Begin the work for a question, or find the one that was begun; one that failed or stopped begins anew."""
        with self._lock:
            job = self._jobs.get(key)
            if job is not None and job.state in ("waiting", "running", "done"):
                return job
            job = self._jobs[key] = Job(key)
            for old in list(self._jobs)[:-MOST_KEPT]:
                if self._jobs[old].state not in ("waiting", "running"):
                    del self._jobs[old]
            self._pool.submit(_run, work, job)
            return job

    def stop(self, *key: str) -> None:
        """Ask the work of a question to stop; it does at its next step."""
        job = self._jobs.get(key)
        if job is not None:
            job.asked_to_stop.set()


def _run(work: Callable[[Job], Any], job: Job) -> None:
    if job.asked_to_stop.is_set():
        job.state = "stopped"
        return
    job.state = "running"
    try:
        job.result = work(job)
        job.share, job.state = 1.0, "done"
    except Cancelled:
        job.state = "stopped"
    except Exception as fault:  # told on the page, never lost
        job.fault, job.state = fault, "failed"
