"""Before every page that is served to another machine: has this browser shown the token?"""

from __future__ import annotations

from urllib.parse import quote

from starlette.datastructures import Headers
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Receive, Scope, Send

from hoopwright.web.rendering import TEMPLATES, theme_of
from hoopwright.web.settings import Settings
from hoopwright.web.tokens import Sessions, Tries, token_fits

COOKIE = "__Host-hw-session"
OPEN = ("/static/", "/drawing.css", "/manifest.webmanifest", "/press.js")
ENTER = "/enter"


class TokenDoor:
    """Lets in who has a session or brings the token; everybody else reads how to enter."""

    def __init__(self, app: ASGIApp, settings: Settings) -> None:
        self.app, self.settings = app, settings
        self.sessions, self.tries = Sessions(), Tries()

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass, or answer in the door."""
        if scope["type"] != "http" or self.settings.token_file is None:
            await self.app(scope, receive, send)
            return
        path = scope["path"]
        if path == ENTER:
            answer = await self.enter(Request(scope, receive))
            await answer(scope, receive, send)
        elif path.startswith(OPEN) or self.known(Request(scope)):
            await self.app(scope, receive, send)
        else:
            await self.closed(scope)(scope, receive, send)

    def known(self, request: Request) -> bool:
        """Whether the caller has a session, or brings the token in the header of a program."""
        if self.sessions.known(request.cookies.get(COOKIE, "")):
            return True
        said = Headers(scope=request.scope).get("authorization", "")
        if not said.lower().startswith("bearer ") or self.settings.token_file is None:
            return False
        return self.tries.allowed(_who(request)) and token_fits(self.settings.token_file, said[7:].strip())

    def closed(self, scope: Scope) -> Response:
        """What a stranger reads."""
        if scope["path"].startswith("/api"):
            fault = {"what": "The token is asked for.", "remedy": "Do: send it as Authorization: Bearer TOKEN."}
            return JSONResponse({"faults": [fault]}, 401, {"WWW-Authenticate": "Bearer"})
        asked = scope["path"] + ("?" + scope["query_string"].decode("latin-1") if scope["query_string"] else "")
        return RedirectResponse(f"{ENTER}?next={quote(asked)}", 303)

    async def enter(self, request: Request) -> Response:
        """The form, and what it sends."""
        if request.method != "POST":
            return self._form(request, request.query_params.get("next", "/"), "", 200)
        form = await request.form(max_fields=4, max_part_size=4096)
        after, token = str(form.get("next", "/")), str(form.get("token", ""))
        if not self.tries.allowed(_who(request)):
            return self._form(request, after, "Too many tries within a minute. Do: wait a minute, then enter it.", 429)
        assert self.settings.token_file is not None
        if not token_fits(self.settings.token_file, token.strip()):
            said = "This is not the token. Do: read it from the window in which the server was first started."
            return self._form(request, after, said, 403)
        answer = RedirectResponse(_local(after), 303)
        answer.set_cookie(
            COOKIE, self.sessions.begin(), max_age=12 * 3600, secure=True, httponly=True, samesite="strict", path="/"
        )
        return answer

    def _form(self, request: Request, after: str, said: str, status: int) -> Response:
        text = TEMPLATES.get_template("enter.html").render(after=_local(after), said=said, theme=theme_of(request))
        return HTMLResponse(text, status)


def _local(address: str) -> str:
    """An address of our own server; anything else leads to the board."""
    fine = address.startswith("/") and not address.startswith(("//", "/\\")) and "\n" not in address
    return address if fine and "\r" not in address else "/"


def _who(request: Request) -> str:
    return request.client.host if request.client else "unknown"
