"""Pages in the inspection room."""

from __future__ import annotations

from fastapi import APIRouter
from starlette.datastructures import UploadFile
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from hoopwright.desk.page.came_out import TurnTaken, take_turn
from hoopwright.errors import FileFaults, InputError
from hoopwright.web.answers import faults_of
from hoopwright.web.pages.readings import readings_page, round_page
from hoopwright.web.rendering import html, kept, theme_of
from hoopwright.web.routes.desk_pages import checked
from hoopwright.web.state import Shop

MOST_FILE_BYTES = 4_000_000


def router(shop: Shop) -> APIRouter:
    """Routes of the inspection room."""
    routes = APIRouter(include_in_schema=False)

    @routes.get("/part/{serial}/round")
    def rounded(request: Request, serial: str, z: float | None = None) -> Response:
        return kept(shop, request, "round.html", lambda: round_page(shop, serial, z), True)

    @routes.get("/{liner}@{revision}/{ring}/readings")
    def readings(request: Request, liner: str, revision: str, ring: str) -> Response:
        checked(shop, liner, ring)
        return html("readings.html", *readings_page(shop, ring, revision), theme_of(request))

    @routes.post("/{liner}@{revision}/{ring}/readings")
    async def take(request: Request, liner: str, revision: str, ring: str) -> Response:
        checked(shop, liner, ring)
        async with request.form(max_files=1, max_fields=12, max_part_size=MOST_FILE_BYTES) as form:
            typed = {k: v for k, v in form.items() if isinstance(v, str)}
            file = form.get("file")
            content, name = typed.get("table", "").encode(), "pasted readings"
            if isinstance(file, UploadFile) and file.filename:
                content, name = await file.read(), "file of readings"
        try:
            take_turn(shop.job, turn_from(typed, content, name))
        except (FileFaults, InputError) as refused:
            view = readings_page(shop, ring, revision, faults_of(refused), typed)
            return html("readings.html", *view, theme_of(request), status=422)
        return RedirectResponse(f"/part/{typed['serial'].strip()}/round", 303)

    return routes


def turn_from(typed: dict[str, str], content: bytes, name: str) -> TurnTaken:
    """What a form says, as a turn to be taken."""
    by, serial = typed.get("by", "").strip(), typed.get("serial", "").strip()
    if not by:
        raise InputError("by", "", "", "the name of who read it", "enter your name")
    if not serial or len(serial) > 40 or not serial.replace("-", "").isalnum():
        raise InputError("serial", serial[:40], "", "a serial such as 402-01", "read the number on the ring")
    try:
        z = float(typed.get("z_mm", ""))
    except ValueError:
        raise InputError("z_mm", typed.get("z_mm", "")[:20], "mm", "a number", "choose a place of the list") from None
    return TurnTaken(
        serial,
        content,
        z,
        typed.get("face", ""),
        typed.get("segment_set", "")[:60],
        typed.get("held", ""),
        by[:60],
        name,
    )
