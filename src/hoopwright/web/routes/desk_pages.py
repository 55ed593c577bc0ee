"""Pages at the desk."""

from __future__ import annotations

from urllib.parse import quote

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, RedirectResponse, Response

from hoopwright.desk.page.finding import find
from hoopwright.desk.page.papers import send
from hoopwright.desk.page.solid import solid
from hoopwright.desk.page.whatif import derivatives, parsed, what_if
from hoopwright.errors import HoopwrightError
from hoopwright.web.answers import Missing
from hoopwright.web.pages.board import board_page
from hoopwright.web.pages.change import change_page
from hoopwright.web.pages.fits import fits_page
from hoopwright.web.pages.growth import growth_page
from hoopwright.web.pages.lots import lot_page
from hoopwright.web.pages.papers import papers_page
from hoopwright.web.pages.tools import tool_page, tools_page
from hoopwright.web.pages.walk import live_view, walk_page
from hoopwright.web.pages.why import why_page
from hoopwright.web.rendering import TEMPLATES, html, kept, theme_of
from hoopwright.web.shell import page
from hoopwright.web.state import Shop

Moved = tuple[tuple[str, float], ...]


def checked(shop: Shop, liner: str, ring: str = "") -> None:
    """Refuse an address that names another liner or a ring it does not have."""
    own = shop.job.current().liner
    if liner != own.id:
        raise Missing(f"No liner {liner[:40]} stands here", f"/{own.id}@{shop.job.current().name}")
    if ring and ring not in {r.id for r in own.rings}:
        raise Missing(f"{own.id} has no ring {ring[:40]}", ", ".join(r.id for r in own.rings))


def moved_of(request: Request) -> Moved:
    """Levers moved: `if=t:0.82,mu:0.12`, or one field a lever as a plain form sends it."""
    query = request.query_params
    if "if" in query:
        return parsed(query["if"])
    return parsed(",".join(f"{name}:{value}" for name, value in query.items() if name not in ("show", "theme")))


def router(shop: Shop) -> APIRouter:
    """Routes of the pages at the desk."""
    routes = APIRouter(include_in_schema=False)
    _walks(routes, shop)
    _files(routes, shop)

    @routes.get("/")
    def front() -> Response:
        now = shop.job.current()
        return RedirectResponse(f"/{now.liner.id}@{now.name}", 307)

    @routes.get("/find")
    def found(request: Request, q: str = "") -> Response:
        rows = find(shop.job, q[:80])
        if len(rows) == 1 or (rows and rows[0].number.lower() == q.strip().lower()):
            return RedirectResponse(quote(rows[0].href, safe="/@.-"), 303)
        said = f"{len(rows)} things have it in their number or name." if rows else "Nothing here has it in its number."
        head = page(shop, "", f"Find {q[:40]}", f"Where is {q[:40]}?", said, wide=True)
        return html("find.html", head, rows, theme_of(request))

    @routes.get("/{liner}@{revision}")
    def board(request: Request, liner: str, revision: str) -> Response:
        checked(shop, liner)
        return kept(shop, request, "board.html", lambda: board_page(shop, revision))

    @routes.get("/{liner}@{revision}/growth")
    def growth(request: Request, liner: str, revision: str) -> Response:
        checked(shop, liner)
        return kept(shop, request, "evidence.html", lambda: growth_page(shop, revision))

    @routes.get("/{liner}@{revision}/fits")
    def fits(request: Request, liner: str, revision: str) -> Response:
        checked(shop, liner)
        return kept(shop, request, "evidence.html", lambda: fits_page(shop, revision))

    @routes.get("/{liner}/{before}..{after}")
    def change(request: Request, liner: str, before: str, after: str) -> Response:
        checked(shop, liner)
        return kept(shop, request, "evidence.html", lambda: change_page(shop, before, after))

    @routes.get("/lot/{name}")
    def lot(request: Request, name: str) -> Response:
        return kept(shop, request, "evidence.html", lambda: lot_page(shop, name))

    @routes.get("/tool/{tool}@{revision}")
    def tool(request: Request, tool: str, revision: str) -> Response:
        return kept(shop, request, "evidence.html", lambda: tool_page(shop, tool))

    @routes.get("/{liner}@{revision}/{ring}/tools")
    def tools(request: Request, liner: str, revision: str, ring: str) -> Response:
        checked(shop, liner, ring)
        return kept(shop, request, "evidence.html", lambda: tools_page(shop, ring, revision))

    @routes.get("/{liner}@{revision}/why/{identity:path}")
    def why(request: Request, liner: str, revision: str, identity: str) -> Response:
        checked(shop, liner)
        return kept(shop, request, "why.html", lambda: why_page(shop, identity, revision, moved_of(request)))

    @routes.get("/why/{identity:path}")
    def why_now(request: Request, identity: str) -> Response:
        return kept(shop, request, "why.html", lambda: why_page(shop, identity, "", moved_of(request)))

    return routes


def _walks(routes: APIRouter, shop: Shop) -> None:
    @routes.get("/{liner}@{revision}/{ring}/made")
    def made(request: Request, liner: str, revision: str, ring: str) -> Response:
        checked(shop, liner, ring)
        moved = moved_of(request)
        return kept(shop, request, "walk.html", lambda: walk_page(shop, ring, revision, moved))

    @routes.get("/{liner}@{revision}/{ring}/made/live")
    def live(request: Request, liner: str, revision: str, ring: str) -> Response:
        checked(shop, liner, ring)
        name = shop.job.revision(revision).name
        try:
            view = live_view(shop, ring, name, what_if(shop.job, ring, revision, moved_of(request)))
        except HoopwrightError as refusal:
            view = live_view(shop, ring, name, what_if(shop.job, ring, revision), str(refusal))
        text = TEMPLATES.get_template("live_part.html").render(view={"live": view})
        return HTMLResponse(text, headers={"Cache-Control": "no-store"})

    @routes.get("/{liner}@{revision}/{ring}/made/slopes")
    def slopes(request: Request, liner: str, revision: str, ring: str) -> Response:
        checked(shop, liner, ring)
        moved = moved_of(request)
        key = ("slopes", revision, ring, moved, shop.job.current().digest)
        return JSONResponse(shop.job.remembered(key, lambda: derivatives(shop.job, ring, revision, moved)))


def _files(routes: APIRouter, shop: Shop) -> None:
    @routes.get("/{liner}@{revision}/{ring}/papers")
    def papers(request: Request, liner: str, revision: str, ring: str) -> Response:
        checked(shop, liner, ring)
        return kept(shop, request, "papers.html", lambda: papers_page(shop, ring, revision))

    @routes.get("/out/{ring}@{revision}/solid/{kind}")
    def solids(request: Request, ring: str, revision: str, kind: str) -> Response:
        checked(shop, shop.job.current().liner.id, ring)
        sent = solid(shop.job, ring, kind, request.query_params.get("as", "glb"), revision)
        shown = {"Content-Disposition": f'attachment; filename="{sent.file}"'}
        return Response(sent.content, media_type=sent.media, headers=shown)

    @routes.get("/out/{ring}@{revision}/{file}")
    def out(request: Request, ring: str, revision: str, file: str) -> Response:
        checked(shop, shop.job.current().liner.id, ring)
        sent = send(shop.job, ring, file, revision)
        show = "inline" if request.query_params.get("show") else "attachment"
        return Response(sent.content, media_type=sent.media, headers={
            "Content-Disposition": f'{show}; filename="{sent.file}"'
        })  # fmt: skip
