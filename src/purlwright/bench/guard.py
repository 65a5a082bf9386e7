"""Who may ask: the page that was opened with this run's key, on this machine, and nobody else.

In: each request before anything is done with it. Out: the request let through, or 403 with one sentence;
and on every answer the headers that let a page load nothing from anywhere else. The key is checked in a way
that takes the same time for each wrong one.
"""

from __future__ import annotations

import hmac
import secrets
from http.cookies import CookieError, SimpleCookie
from urllib.parse import parse_qs

from starlette.datastructures import Headers, MutableHeaders
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from purlwright.bench.answers import sentence

__all__ = ["Guard", "cookie_name", "new_key", "policy"]

_READING = {"GET", "HEAD"}
_AGAIN = "Open the bench again from the link that it printed when it was started."


def new_key() -> str:
    """A key for one run."""
    return secrets.token_urlsafe(32)


def cookie_name(port: int) -> str:
    """Cookies are shared by every port of a machine, so each bench has a name of its own."""
    return f"purlwright-bench-{port}"


def policy(nonce: str) -> str:
    """What the page may load: its own files, pictures it draws itself, and styles that the editor marks."""
    return (
        f"default-src 'none'; script-src 'self'; style-src 'self' 'nonce-{nonce}'; "
        "img-src 'self' data: blob:; "
        "font-src 'self'; connect-src 'self'; frame-src 'self'; base-uri 'none'; form-action 'none'; "
        "frame-ancestors 'none'"
    )


class Guard:
    """Stands before everything."""

    def __init__(self, app: ASGIApp, *, key: str, port: int) -> None:
        self._app = app
        self._key = key
        self._port = port
        self._hosts = {f"127.0.0.1:{port}", f"localhost:{port}"}
        if port == 80:
            self._hosts |= {"127.0.0.1", "localhost"}

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "lifespan":
            await self._app(scope, receive, send)
            return
        if scope["type"] != "http":
            return  # no other way of talking is offered
        scope.setdefault("state", {})["nonce"] = nonce = secrets.token_urlsafe(18)

        async def guarded(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                headers.setdefault("Content-Security-Policy", policy(nonce))
                headers.setdefault("X-Frame-Options", "DENY")
                headers.setdefault("Cache-Control", "no-store")
                headers["X-Content-Type-Options"] = "nosniff"
                headers["Referrer-Policy"] = "no-referrer"
                headers["Cross-Origin-Opener-Policy"] = "same-origin"
                headers["Cross-Origin-Resource-Policy"] = "same-origin"
            await send(message)

        why = self._why_not(scope)
        if why:
            await sentence(403, why)(scope, receive, guarded)
        else:
            await self._app(scope, receive, guarded)

    def _why_not(self, scope: Scope) -> str:
        """Why a request is refused; "" if it is not."""
        headers = Headers(scope=scope)
        hosts = [host.lower() for host in headers.getlist("host")]
        if len(hosts) != 1 or hosts[0] not in self._hosts:
            return "This bench answers only under the address that it printed when it was started."
        own = f"http://{hosts[0]}"
        origins = headers.getlist("origin")
        if any(origin.lower() != own for origin in origins):
            return "This was asked for by another page than the bench, so it is not answered."
        opening = scope["path"] == "/open" and scope["method"] in _READING
        if headers.get("sec-fetch-site", "none") not in {"none", "same-origin"} and not opening:
            return "This was asked for by another page than the bench, so it is not answered."
        if opening:
            given = parse_qs(scope["query_string"].decode("latin-1")).get("key", [""])[0]
            return "" if self._right(given) else f"This link is not of this run. {_AGAIN}"
        if not self._right(self._cookie(headers)):
            return f"This page is not open with the key of this run. {_AGAIN}"
        if scope["method"] not in _READING:
            if not origins:
                return "This was not asked for by the page of the bench, so it is not answered."
            kind = headers.get("content-type", "").partition(";")[0].strip().lower()
            if kind != "application/json":
                return "The bench takes JSON only."
        return ""

    def _right(self, given: str) -> bool:
        return hmac.compare_digest(given.encode("utf-8", "replace"), self._key.encode())

    def _cookie(self, headers: Headers) -> str:
        try:
            found = SimpleCookie(headers.get("cookie", "")).get(cookie_name(self._port))
        except CookieError:
            return ""
        return "" if found is None else found.value
