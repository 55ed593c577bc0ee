"""Live: a page that is open hears that the job has changed, and work that takes long runs beside it."""

from __future__ import annotations

import asyncio
import json
from collections.abc import AsyncIterator

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response, StreamingResponse

from hoopwright.web.answers import Missing
from hoopwright.web.pages.work import work_page
from hoopwright.web.rendering import html, theme_of
from hoopwright.web.state import Shop
from hoopwright.web.work import Bench, Work

LOOK_S = 0.4
BEAT_S = 15.0
LONGEST_S = 3600.0


def router(shop: Shop, bench: Bench) -> APIRouter:
    """Routes of what is live."""
    routes = APIRouter(include_in_schema=False)

    @routes.get("/live")
    async def live(request: Request) -> Response:
        return StreamingResponse(
            news(request, shop), media_type="text/event-stream", headers={"Cache-Control": "no-store"}
        )

    @routes.post("/long-work/package")
    def package() -> Response:
        return RedirectResponse(f"/long-work/{bench.package(shop.job).id}", 303)

    @routes.get("/long-work/{identity}")
    def show(request: Request, identity: str) -> Response:
        return html("work.html", *work_page(shop, _found(bench, identity)), theme_of(request))

    @routes.post("/long-work/{identity}/stop")
    def stop(identity: str) -> Response:
        _found(bench, identity).stop()
        return RedirectResponse(f"/long-work/{identity}", 303)

    @routes.get("/long-work/{identity}/package.zip")
    def taken(identity: str) -> Response:
        work = _found(bench, identity)
        if work.content is None:
            raise Missing("This work has no files to take along", "it again when it is done")
        shown = {"Content-Disposition": 'attachment; filename="package.zip"'}
        return Response(work.content, media_type="application/zip", headers=shown)

    return routes


def _found(bench: Bench, identity: str) -> Work:
    work = bench.find(identity)
    if work is None:
        raise Missing("No such work is under way", "the board")
    return work


async def news(request: Request, shop: Shop) -> AsyncIterator[str]:
    """One line now, then one each time the job has changed, and a beat so that a lost line is noticed."""
    state, beat, began = "", 0.0, asyncio.get_running_loop().time()
    while not await request.is_disconnected():
        now = asyncio.get_running_loop().time()
        if now - began > LONGEST_S:
            return
        found = shop.job.state()
        if found != state:
            state, beat = found, now
            said = {"state": found, "pulse": shop.job.pulse, "revision": shop.job.current().name}
            yield f"event: state\ndata: {json.dumps(said)}\n\n"
        elif now - beat > BEAT_S:
            beat = now
            yield ": beat\n\n"
        await asyncio.sleep(LOOK_S)
