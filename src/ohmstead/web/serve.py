"""Starts the page: finds a free port, says the address, listens until it is stopped."""

import gc
import socket
from pathlib import Path
from secrets import token_urlsafe

from .app import build
from .guard import Pairing
from .shelf import Shelf

LOOPBACK = "127.0.0.1"
FIRST_PORT = 7451
MOST_TRIES = 50
TOKEN_BYTES = 24
IDLE_S = 20


class NoPort(OSError):
    """No port is free, or the address is not one of this machine."""


def listen(address: str, port: int) -> socket.socket:
    """A listening socket; port 0 takes the first free one from 7451 on. Raises NoPort."""
    ports = [port] if port else range(FIRST_PORT, FIRST_PORT + MOST_TRIES)
    for number in ports:
        # named as TCP, so that the event loop sends small answers at once (TCP_NODELAY) and none waits 40 ms
        sock = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
        sock.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            sock.bind((address, number))
        except OSError as fault:
            sock.close()
            reason = fault.strerror or str(fault)
        else:
            sock.listen(128)
            return sock
    raise NoPort(reason)


def hosts_of(address: str, port: int) -> tuple[str, ...]:
    """Names under which the page may be called."""
    names = ["localhost", LOOPBACK, "[::1]"] if address == LOOPBACK else [address]
    if address == "0.0.0.0":
        names = ["localhost", LOOPBACK, *_own_addresses()]
    return tuple(f"{name}:{port}" for name in names)


def _own_addresses() -> list[str]:
    """Addresses of this machine in its network; asks nobody."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # nothing is sent: it only picks the way out
            return [probe.getsockname()[0]]
        except OSError:
            return []


def offer(folder: Path, sock: socket.socket) -> tuple[object, Pairing, tuple[str, ...]]:
    """The application for a socket, its pairing, and the names it answers to."""
    address, port = sock.getsockname()
    hosts = hosts_of(address, port)
    token = "" if address == LOOPBACK else token_urlsafe(TOKEN_BYTES)
    pairing = Pairing(token, port)
    return build(Shelf(folder), hosts, pairing), pairing, hosts


def run(application: object, sock: socket.socket) -> None:
    """Listen until stopped with Ctrl-C."""
    import uvicorn

    gc.enable()
    config = uvicorn.Config(
        application,  # type: ignore[arg-type]
        log_level="error",
        timeout_keep_alive=IDLE_S,
        limit_concurrency=200,
        h11_max_incomplete_event_size=32_768,
        server_header=False,
        lifespan="off",
        ws="none",
    )
    uvicorn.Server(config).run([sock])
