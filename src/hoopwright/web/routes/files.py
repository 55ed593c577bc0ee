"""Our own files: style, script, fonts. Only what ships in the package is served, by its exact name."""

from __future__ import annotations

import hashlib
from pathlib import Path

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from hoopwright.papers.drawing.svg import style_sheet
from hoopwright.web.answers import Missing
from hoopwright.web.state import Shop

STATIC = Path(__file__).parent.parent / "static"
KINDS = {
    ".css": "text/css; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".woff2": "font/woff2",
    ".svg": "image/svg+xml",
    ".txt": "text/plain; charset=utf-8",
    ".webmanifest": "application/manifest+json",
}


def shelf() -> dict[str, Path]:
    """Every file that may be served, by its address below /static."""
    return {
        path.relative_to(STATIC).as_posix(): path
        for path in STATIC.rglob("*")
        if path.is_file() and path.suffix in KINDS
    }


def router(_shop: Shop) -> APIRouter:
    """Routes of the files."""
    routes = APIRouter(include_in_schema=False)
    known = shelf()
    held: dict[str, tuple[bytes, str]] = {}

    def content(name: str) -> tuple[bytes, str]:
        if name not in held:
            body = known[name].read_bytes()
            held[name] = body, f'"{hashlib.sha256(body).hexdigest()[:20]}"'
        return held[name]

    def sent(request: Request, body: bytes, tag: str, kind: str) -> Response:
        headers = {"ETag": tag, "Cache-Control": "no-cache"}
        if request.headers.get("if-none-match") == tag:
            return Response(status_code=304, headers=headers)
        return Response(body, media_type=kind, headers=headers)

    @routes.get("/static/{name:path}")
    def static(request: Request, name: str) -> Response:
        if name not in known:
            raise Missing("No such file stands here")
        return sent(request, *content(name), KINDS[known[name].suffix])

    @routes.get("/drawing.css")
    def drawing(request: Request) -> Response:
        body = style_sheet().encode()
        return sent(request, body, f'"{hashlib.sha256(body).hexdigest()[:20]}"', KINDS[".css"])

    for name in ("manifest.webmanifest", "press.js"):
        # a service worker only reaches addresses below its own

        def own(request: Request, name: str = name) -> Response:
            return sent(request, *content(name), KINDS[Path(name).suffix])

        routes.add_api_route(f"/{name}", own, methods=["GET"])
    return routes
