"""The door: who is asked for by name, where a change comes from, how much is taken, what a page may load."""

from __future__ import annotations

from urllib.parse import urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from hoopwright.web.settings import MOST_BODY_BYTES, Settings

POLICY = "; ".join(
    (
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self' data: blob:",
        "font-src 'self'",
        "connect-src 'self'",
        "manifest-src 'self'",
        "worker-src 'self'",
        "media-src 'self' blob:",
        "form-action 'self'",
        "frame-ancestors 'none'",
        "base-uri 'none'",
    )
)
"""Content policy of every answer: nothing but our own files, no script or style inside a page."""

SAFE = frozenset({"GET", "HEAD", "OPTIONS"})


def host_of(value: str) -> str:
    """The name in a Host header, without its port."""
    try:
        return (urlsplit(f"//{value}").hostname or "").lower()
    except ValueError:
        return ""


class Guard:
    """Checks Host, Origin and size before anything else is done, and sets the headers of every answer."""

    def __init__(self, app: ASGIApp, settings: Settings) -> None:
        self.app, self.settings = app, settings
        self.names = frozenset(name.strip("[]").lower() for name in settings.known_hosts)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Take a request, or refuse it with one sentence."""
        if scope["type"] != "http":
            if scope["type"] == "lifespan":
                await self.app(scope, receive, send)
            return
        refused = self.refusal(scope)
        if refused is not None:
            await refused(scope, receive, self._dressed(scope, send))
            return
        await self.app(scope, _bounded(receive), self._dressed(scope, send))

    def refusal(self, scope: Scope) -> PlainTextResponse | None:
        """Why a request is not taken; None where it is."""
        headers = Headers(scope=scope)
        host = headers.get("host", "")
        if host_of(host) not in self.names:
            return PlainTextResponse("This page is not served under that name.\n", 421)
        length = headers.get("content-length", "0")
        if not length.isdigit() or int(length) > MOST_BODY_BYTES:
            return PlainTextResponse(f"At most {MOST_BODY_BYTES / 1e6:g} MB are taken at once.\n", 413)
        if scope["method"] not in SAFE and not self._own_origin(headers, host):
            return PlainTextResponse("A change is only taken from a page of this server.\n", 403)
        return None

    def _own_origin(self, headers: Headers, host: str) -> bool:
        """Whether a change comes from our own page, or from a program that is no browser."""
        site = headers.get("sec-fetch-site")
        if site is not None and site not in ("same-origin", "none"):
            return False
        origin = headers.get("origin")
        if origin is None:
            return True
        scheme = "https" if self.settings.secure else "http"
        return origin.lower() == f"{scheme}://{host}".lower()

    def _dressed(self, scope: Scope, send: Send) -> Send:
        secure = self.settings.secure

        async def dressed(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                headers["Content-Security-Policy"] = POLICY
                headers["X-Content-Type-Options"] = "nosniff"
                headers["Referrer-Policy"] = "same-origin"
                headers["Cross-Origin-Opener-Policy"] = "same-origin"
                headers["Cross-Origin-Resource-Policy"] = "same-origin"
                headers["Permissions-Policy"] = "camera=(self), geolocation=(), microphone=()"
                if secure:
                    headers["Strict-Transport-Security"] = "max-age=31536000"
                headers.setdefault("Cache-Control", "no-cache")
            await send(message)

        return dressed


class TooMuch(Exception):
    """More was sent than is taken."""


def _bounded(receive: Receive) -> Receive:
    """Count what is sent without a length, and stop at the limit."""
    taken = 0

    async def bounded() -> Message:
        nonlocal taken
        message = await receive()
        if message["type"] == "http.request":
            taken += len(message.get("body", b""))
            if taken > MOST_BODY_BYTES:
                raise TooMuch
        return message

    return bounded
