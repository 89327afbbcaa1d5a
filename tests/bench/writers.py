"""Two writers that are killed at random moments; run as a program, one folder a call.

Every writer notes the token of a reading in a file of its own once the store has acknowledged it. A new writer
takes the place of a killed one at once, so that there is nearly always somebody writing when one is killed.
"""

import os
import random
import signal
import sys
import time

from ohmstead.bench.reading import Reading, revision_of
from ohmstead.bench.store import open_store


def write_on(store_file: str, log_file: str, life: str) -> None:
    """Enter readings until killed; now and then correct one."""
    log = os.open(log_file, os.O_WRONLY | os.O_CREAT | os.O_APPEND)
    with open_store(store_file) as store:
        for k in range(1_000_000):
            token = f"{life}-{k}"
            reading = Reading("voltage", f"point {k % 9}", 12.0 + k, "a", revision_of("site"), token=token)
            entry = store.add(reading)
            os.write(log, f"{token} {12.0 + k}\n".encode())
            if k % 5 == 4:
                fixed = Reading("voltage", reading.point, 13.0 + k, "a", reading.revision, token=token + "c")
                store.correct(entry.number, fixed)
                os.write(log, f"{token}c {13.0 + k}\n".encode())


def start(folder: str, slot: int, life: str) -> int:
    child = os.fork()
    if child:
        return child
    try:
        write_on(os.path.join(folder, "s.readings.db"), os.path.join(folder, f"said-{slot}"), life)
    except BaseException as error:  # a writer may die of SIGKILL only
        os.write(2, f"{life}: {type(error).__name__}: {error}\n".encode())
        os._exit(3)
    os._exit(0)


def main(folder: str, n_kill: int, seed: int) -> None:
    dice = random.Random(seed)
    alive = {slot: start(folder, slot, f"{slot}-first") for slot in (0, 1)}
    for n in range(n_kill):
        time.sleep(dice.uniform(0.0, 0.08))
        slot = dice.choice((0, 1))
        os.kill(alive[slot], signal.SIGKILL)
        _, status = os.waitpid(alive[slot], 0)
        if not os.WIFSIGNALED(status):
            sys.exit("a writer gave up by itself")
        alive[slot] = start(folder, slot, f"{slot}-{n}")
    for child in alive.values():
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)


if __name__ == "__main__":
    main(sys.argv[1], int(sys.argv[2]), int(sys.argv[3]))
