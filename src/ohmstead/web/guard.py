"""Keeps strangers out of a local server: other hosts, other pages, oversized bodies, people without the token.

Every answer carries a strict content policy. What is refused is refused before a page sees the request.
"""

import json
from asyncio import wait_for
from collections.abc import Iterable, Mapping
from http.cookies import CookieError, SimpleCookie
from secrets import compare_digest, token_urlsafe

from starlette.types import ASGIApp, Message, Receive, Scope, Send

MOST_BODY = 8_000_000
CODE_BYTES = 12
PATIENCE_S = 15.0  # with a body that stops coming
SAFE = ("GET", "HEAD", "OPTIONS")
POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; font-src 'self'; "
    "connect-src 'self'; manifest-src 'self'; worker-src 'self'; frame-src 'self'; object-src 'none'; "
    "base-uri 'none'; form-action 'self'; frame-ancestors 'self'"
)
HEADERS = {
    "content-security-policy": POLICY,
    "x-content-type-options": "nosniff",
    "referrer-policy": "no-referrer",
    "cross-origin-resource-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "permissions-policy": "geolocation=(), microphone=()",
}


class TooLarge(Exception):
    """A body beyond the limit."""


class TooSlow(Exception):
    """A body that does not come."""


class Guard:
    """Wraps the page. `hosts` are the names (with port) under which it may be called; `token` opens it to people on
    other machines and is empty where only this machine can reach it; `port` names the cookie."""

    def __init__(self, app: ASGIApp, hosts: Iterable[str], pairing: "Pairing") -> None:
        self.app, self.hosts, self.pairing = app, frozenset(hosts), pairing

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request, or refuse it."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        headers = {name.decode("latin-1").lower(): value.decode("latin-1") for name, value in scope["headers"]}
        refusal = self._refusal(scope, headers)
        if refusal is not None:
            await _answer(send, *refusal)
            return
        try:
            await self.app(scope, _bounded(receive), _with_headers(send))
        except TooLarge:
            await _answer(send, 413, "too-large")
        except TooSlow:
            await _answer(send, 408, "too-slow")

    def _refusal(self, scope: Scope, headers: Mapping[str, str]) -> tuple[int, str] | None:
        if headers.get("host", "").lower() not in self.hosts:
            return 400, "host"
        if scope["method"] not in SAFE and not _same_origin(headers):
            return 403, "origin"
        length = headers.get("content-length", "0")
        if not length.isdigit() or int(length) > MOST_BODY:
            return 413, "too-large"
        if not self.pairing.knows(headers) and not scope["path"].startswith(("/static/", "/pair")):
            return 401, "unpaired"
        return None


class Pairing:
    """Who may come in: everybody where `token` is empty, else those whose cookie holds it.

    A code lets one more device in, once; it is used up with the first use.
    """

    def __init__(self, token: str, port: int) -> None:
        self.token, self.cookie = token, f"ohmstead_{port}"
        self._codes: set[str] = set()

    def knows(self, headers: Mapping[str, str]) -> bool:
        """Whether a request comes from a paired device."""
        if not self.token:
            return True
        try:
            jar = SimpleCookie(headers.get("cookie", ""))
        except CookieError:
            return False
        held = jar[self.cookie].value if self.cookie in jar else ""
        return compare_digest(held.encode(), self.token.encode())

    def new_code(self) -> str:
        """A code that opens the page once."""
        code = token_urlsafe(CODE_BYTES)
        self._codes.add(code)
        return code

    def redeem(self, code: str) -> bool:
        """Use a code up."""
        if code not in self._codes:
            return False
        self._codes.discard(code)
        return True


def _same_origin(headers: Mapping[str, str]) -> bool:
    """A change must come from our own page; a program that is no browser sends neither header."""
    site = headers.get("sec-fetch-site")
    if site is not None:
        return site in ("same-origin", "none")
    origin = headers.get("origin")
    return origin is None or origin.split("://")[-1].lower() == headers.get("host", "").lower()


def _bounded(receive: Receive) -> Receive:
    taken = 0

    async def take() -> Message:
        nonlocal taken
        try:
            message = await wait_for(receive(), PATIENCE_S)
        except TimeoutError:
            raise TooSlow from None
        taken += len(message.get("body", b""))
        if taken > MOST_BODY:
            raise TooLarge
        return message

    return take


def _with_headers(send: Send) -> Send:
    async def put(message: Message) -> None:
        if message["type"] == "http.response.start":
            given = {name.decode("latin-1").lower() for name, _ in message["headers"]}
            message["headers"] = [
                *message["headers"],
                *((name.encode(), value.encode()) for name, value in HEADERS.items() if name not in given),
            ]
        await send(message)

    return put


async def _answer(send: Send, status: int, reason: str) -> None:
    body = json.dumps({"refused": reason}).encode()
    headers = [(b"content-type", b"application/json"), (b"content-length", str(len(body)).encode())]
    headers += [(name.encode(), value.encode()) for name, value in HEADERS.items()]
    await send({"type": "http.response.start", "status": status, "headers": headers})
    await send({"type": "http.response.body", "body": body})
