"""Cards at the machine."""

from __future__ import annotations

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from hoopwright.errors import InputError
from hoopwright.web.pages.press import press_view_of, set_page
from hoopwright.web.rendering import TEMPLATES, html, theme_of
from hoopwright.web.routes.desk_pages import checked
from hoopwright.web.state import Shop


def router(shop: Shop) -> APIRouter:
    """Routes of the cards at the machine."""
    routes = APIRouter(include_in_schema=False)

    @routes.get("/press/{serial}")
    def press(serial: str) -> Response:
        try:
            view = press_view_of(shop, serial)
        except InputError as refusal:
            text = TEMPLATES.get_template("press_refused.html").render(serial=serial, refusal=refusal)
            return HTMLResponse(text, 404, {"Cache-Control": "no-store"})
        return HTMLResponse(
            TEMPLATES.get_template("press.html").render(view=view), headers={"Cache-Control": "no-cache"}
        )

    @routes.get("/{liner}@{revision}/{ring}/set")
    def to_set(request: Request, liner: str, revision: str, ring: str) -> Response:
        checked(shop, liner, ring)
        return html("set.html", *set_page(shop, ring, revision), theme_of(request))

    return routes
