"""The one place where errors become status and words: JSON under /api, a page elsewhere."""

from __future__ import annotations

import json
import logging
from typing import Any

from fastapi import FastAPI
from fastapi.exceptions import RequestValidationError
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, Response

from hoopwright.errors import CardError, Fault, FileFaults, HoopwrightError, InputError, NotConverged, RangeError
from hoopwright.web.guard import TooMuch
from hoopwright.web.rendering import TEMPLATES, theme_of

LOG = logging.getLogger("hoopwright.web")


class Missing(Exception):
    """Nothing stands at this address; `known` says what does."""

    def __init__(self, what: str, known: str = "") -> None:
        self.what, self.known = what, known
        super().__init__(what)


class Clash(Exception):
    """Somebody else wrote in between; nothing of either is lost."""

    def __init__(self, what: str, remedy: str) -> None:
        self.what, self.remedy = what, remedy
        super().__init__(what)


def status_of(error: Exception) -> int:
    """The status of an error of the tree."""
    if isinstance(error, Missing | CardError):
        return 404
    if isinstance(error, Clash):
        return 409
    if isinstance(error, InputError | RangeError | NotConverged | HoopwrightError):
        return 422
    return 413 if isinstance(error, TooMuch) else 500


def faults_of(error: Exception) -> list[dict[str, Any]]:
    """What is wrong, each with what to do."""
    if isinstance(error, FileFaults):
        return [_fault(fault) for fault in error.faults]
    if isinstance(error, Missing):
        return [{"what": f"{error.what}.", "remedy": f"Do: take {error.known}." if error.known else ""}]
    if isinstance(error, Clash):
        return [{"what": error.what, "remedy": f"Do: {error.remedy}"}]
    if isinstance(error, TooMuch):
        return [{"what": "More was sent than is taken at once.", "remedy": "Do: split it."}]
    text, _, remedy = str(error).partition(" Do: ")
    return [{"what": text, "remedy": f"Do: {remedy}" if remedy else ""}]


def _fault(fault: Fault) -> dict[str, Any]:
    place = f"line {fault.line}: " if fault.line else ""
    shown = f"{fault.value} {fault.unit}".strip()
    what = f"{place}{fault.key} is {shown}; it must be {fault.must}."
    return {"what": what, "remedy": f"Do: {fault.remedy}", "line": fault.line, "key": fault.key}


def answer(request: Request, error: Exception) -> Response:
    """An error as an answer."""
    status = status_of(error)
    faults = faults_of(error)
    return shown(request, status, faults)


def shown(request: Request, status: int, faults: list[dict[str, Any]]) -> Response:
    """Faults as JSON for a program, as a page for a person."""
    if request.url.path.startswith("/api"):
        return JSONResponse({"faults": json.loads(json.dumps(faults, default=str))}, status)
    text = TEMPLATES.get_template("wrong.html").render(status=status, faults=faults, theme=theme_of(request))
    return HTMLResponse(text, status)


def install(app: FastAPI) -> None:
    """Hang the handlers into the application."""

    async def known(request: Request, error: Exception) -> Response:
        return answer(request, error)

    async def plain(request: Request, error: Exception) -> Response:
        assert isinstance(error, HTTPException)
        return shown(request, error.status_code, [{"what": f"{error.detail}.", "remedy": ""}])

    async def form(request: Request, error: Exception) -> Response:
        assert isinstance(error, RequestValidationError)
        faults = [{"what": f"{'.'.join(str(p) for p in e['loc'])}: {e['msg']}.", "remedy": ""} for e in error.errors()]
        return shown(request, 422, faults)

    async def unknown(request: Request, error: Exception) -> Response:
        LOG.exception("unexpected", exc_info=error)
        what = "The server met something it does not know; nothing was changed."
        return shown(request, 500, [{"what": what, "remedy": "Do: look at the server's own lines."}])

    for kind in (HoopwrightError, Missing, Clash, TooMuch):
        app.add_exception_handler(kind, known)
    app.add_exception_handler(HTTPException, plain)
    app.add_exception_handler(RequestValidationError, form)
    app.add_exception_handler(Exception, unknown)
