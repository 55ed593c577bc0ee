"""Changing the liner in the page."""

from __future__ import annotations

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from hoopwright.desk.page.editing import Overwritten, parsed_values, save_fields, save_text, undo
from hoopwright.errors import FileFaults, HoopwrightError, InputError
from hoopwright.web.answers import faults_of
from hoopwright.web.pages.drawing import drawing_page, file_page
from hoopwright.web.rendering import html, kept, theme_of
from hoopwright.web.routes.desk_pages import checked
from hoopwright.web.state import Shop


async def form_of(request: Request) -> dict[str, str]:
    """Words of a form, files left out."""
    async with request.form(max_files=0, max_fields=60, max_part_size=4_000_000) as form:
        return {key: value for key, value in form.items() if isinstance(value, str)}


def name_of(typed: dict[str, str]) -> str:
    """Who changes it. Raises InputError where nobody says so."""
    by = typed.get("by", "").strip()
    if not by or len(by) > 60 or not by.isprintable():
        raise InputError("by", by[:20], "", "a name of 1 to 60 letters", "enter your name")
    return by


def router(shop: Shop) -> APIRouter:
    """Routes of editing."""
    routes = APIRouter(include_in_schema=False)
    _file(routes, shop)

    @routes.get("/{liner}@{revision}/{ring}")
    def drawing(request: Request, liner: str, revision: str, ring: str) -> Response:
        checked(shop, liner, ring)
        return kept(shop, request, "drawing.html", lambda: drawing_page(shop, ring, revision))

    @routes.post("/{liner}@{revision}/{ring}")
    async def save(request: Request, liner: str, revision: str, ring: str) -> Response:
        checked(shop, liner, ring)
        typed = await form_of(request)
        base = typed.get("base", "")
        values = {key: value for key, value in typed.items() if key not in ("base", "by")}
        try:
            by = name_of(typed)
            saved = save_fields(shop.job, base, ring, parsed_values(values), by)
        except Overwritten as clash:
            fault = [{"what": str(clash), "remedy": "Do: look at both, enter what shall stand, save again."}]
            view = drawing_page(shop, ring, "", fault, typed, clash.theirs, shop.job.current().digest)
            return html("drawing.html", *view, theme_of(request), status=409)
        except HoopwrightError as refused:
            return html(
                "drawing.html", *drawing_page(shop, ring, "", faults_of(refused), typed), theme_of(request), status=422
            )
        return RedirectResponse(f"/{liner}@{saved.revision}/{ring}", 303)

    @routes.post("/{liner}@{revision}/{ring}/undo")
    async def back(request: Request, liner: str, revision: str, ring: str) -> Response:
        checked(shop, liner, ring)
        typed = await form_of(request)
        saved = undo(shop.job, typed.get("base", ""), "undo at the page")
        return RedirectResponse(f"/{liner}@{saved.revision}/{ring}", 303)

    return routes


def _file(routes: APIRouter, shop: Shop) -> None:
    @routes.get("/{liner}@{revision}/file")
    def whole(request: Request, liner: str, revision: str) -> Response:
        checked(shop, liner)
        return html("file.html", *file_page(shop), theme_of(request))

    @routes.post("/{liner}@{revision}/file")
    async def save_whole(request: Request, liner: str, revision: str) -> Response:
        checked(shop, liner)
        typed = await form_of(request)
        try:
            saved = save_text(shop.job, typed.get("base", ""), typed.get("text", ""), name_of(typed))
        except Overwritten as clash:
            kept = typed | {"base": shop.job.current().digest}
            return html("file.html", *file_page(shop, [], kept, str(clash)), theme_of(request), status=409)
        except (FileFaults, HoopwrightError) as refused:
            return html("file.html", *file_page(shop, faults_of(refused), typed), theme_of(request), status=422)
        return RedirectResponse(f"/{liner}@{saved.revision}", 303)
