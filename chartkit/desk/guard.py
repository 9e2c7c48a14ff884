"""Guards the desk: only this machine's own browser, with this start's key, gets answers.

The server listens on loopback alone, but any page that is open in the same browser can send it
requests. Therefore every request must name the server's own host (against DNS rebinding), must not
come from another site (``Sec-Fetch-Site`` and ``Origin``; W3C Fetch Metadata), and must bring the
cookie that the first address set, ``SameSite=Strict`` (RFC 6265bis).
"""

import hmac
from collections.abc import Awaitable, Callable
from http.cookies import CookieError, SimpleCookie
from typing import Any
from urllib.parse import parse_qs

from starlette.datastructures import Headers, MutableHeaders
from starlette.exceptions import HTTPException
from starlette.responses import PlainTextResponse, RedirectResponse, Response

LARGEST_BODY = 40_000_000
"""Bytes; the largest score or PDF that ``chartkit intake`` reads fits."""

_POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; font-src 'self'; "
    "img-src 'self' data: blob:; connect-src 'self'; frame-src blob:; form-action 'none'; "
    "frame-ancestors 'none'; base-uri 'none'"
)
_HEADERS = {
    "Content-Security-Policy": _POLICY,
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
}
_UNSAFE = frozenset({"POST", "PUT", "DELETE", "PATCH"})

Scope = dict[str, Any]
Receive = Callable[[], Awaitable[dict[str, Any]]]
Send = Callable[[Any], Awaitable[None]]
App = Callable[[Any, Any, Any], Awaitable[None]]


class Guard:
    """Passes permitted requests on, and puts security headers on every answer."""

    def __init__(self, app: App, key: str, port: int) -> None:
        self._app = app
        self._key = key
        self._hosts = {f"127.0.0.1:{port}", f"localhost:{port}"}
        self._cookie = f"desk-{port}"

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answers or refuses one request."""
        if scope["type"] != "http":
            if scope["type"] == "lifespan":
                await self._app(scope, receive, send)
            return

        async def send_guarded(message: Any) -> None:
            if message["type"] == "http.response.start":
                MutableHeaders(scope=message).update(_HEADERS)
            await send(message)

        answer = self._refusal(scope)
        if answer is not None:
            await answer(scope, receive, send_guarded)
            return
        await self._app(scope, _Bounded(receive), send_guarded)

    def _refusal(self, scope: Scope) -> Response | None:
        """The answer to a request that may not pass, or that brings the key; else None."""
        headers = Headers(scope=scope)
        host = headers.get("host", "")
        if host not in self._hosts:
            return _refused(403, "this is not the desk's address")
        site = headers.get("sec-fetch-site", "")
        if site not in ("", "none", "same-origin"):
            return _refused(403, "another site may not use the desk")
        origin = headers.get("origin")
        if origin is not None and origin != f"http://{host}":
            return _refused(403, "another site may not use the desk")
        if scope["method"] in _UNSAFE and origin is None and site != "same-origin":
            return _refused(403, "only the desk's own page may change anything")
        if not headers.get("content-length", "0").isdecimal():
            return _refused(400, "the content length is not a number")
        if int(headers.get("content-length", "0")) > LARGEST_BODY:
            return _refused(413, "this is too large")
        return self._without_key(scope, headers)

    def _without_key(self, scope: Scope, headers: Headers) -> Response | None:
        query = scope.get("query_string", b"").decode("latin-1")
        given = parse_qs(query).get("key", [""])[0]
        if given and scope["path"] == "/" and self._is_key(given):
            answer = RedirectResponse("/", 303)
            answer.set_cookie(self._cookie, self._key, httponly=True, samesite="strict", path="/")
            return answer
        if self._is_key(_cookie_of(headers, self._cookie)):
            return None
        return _refused(403, "open the address that chartkit desk has printed")

    def _is_key(self, given: str) -> bool:
        return hmac.compare_digest(given.encode("utf-8", "replace"), self._key.encode())


def _cookie_of(headers: Headers, name: str) -> str:
    try:
        cookies = SimpleCookie(headers.get("cookie", ""))
    except CookieError:
        return ""
    return cookies[name].value if name in cookies else ""


class _Bounded:
    """Receives a body, up to the limit; past it, HTTPException ends the request."""

    def __init__(self, receive: Receive) -> None:
        self._receive = receive
        self._bytes = 0

    async def __call__(self) -> dict[str, Any]:
        message = await self._receive()
        self._bytes += len(message.get("body", b""))
        if self._bytes > LARGEST_BODY:
            raise HTTPException(413, "this is too large")
        return message


def _refused(code: int, words: str) -> Response:
    return PlainTextResponse(f"chartkit desk: {words}\n", code)
