"""Templates to answers: HTML that a browser may keep until the job changes."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import jinja2
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from hoopwright import __version__
from hoopwright.web.shell import Page
from hoopwright.web.state import Shop, tag_of

FOLDER = Path(__file__).parent
THEMES = ("light", "dark", "contrast")
TEMPLATES = jinja2.Environment(
    loader=jinja2.FileSystemLoader(FOLDER / "templates"),
    autoescape=True,
    undefined=jinja2.StrictUndefined,
    trim_blocks=True,
    lstrip_blocks=True,
)
TEMPLATES.globals["stamp"] = __version__
Drawn = tuple[Page, Any]


def theme_of(request: Request) -> str:
    """The theme that this reader fixed; "" follows the system."""
    theme = request.cookies.get("hw-theme", "")
    return theme if theme in THEMES else ""


def html(template: str, head: Page, view: Any, theme: str = "", status: int = 200) -> HTMLResponse:
    """A page."""
    text = TEMPLATES.get_template(template).render(page=head, view=view, theme=theme)
    return HTMLResponse(text, status)


def kept(shop: Shop, request: Request, template: str, draw: Callable[[], Drawn], records: bool = False) -> Response:
    """A page that depends on the job and its address only: drawn once, kept until the job changes.

    records : whether it shows what stands in the records, too; else it depends on the job's files alone.
    """
    theme = theme_of(request)
    address = f"{theme}|{request.url.path}?{request.url.query}"
    state = shop.job.state() if records else shop.job.files_state()
    body = shop.kept_page(address, state)
    if body is None:
        head, view = draw()
        body = TEMPLATES.get_template(template).render(page=head, view=view, theme=theme).encode()
        shop.keep_page(address, state, body)
    tag = tag_of(body)
    if request.headers.get("if-none-match") == tag:
        return Response(status_code=304, headers={"ETag": tag})
    return Response(body, media_type="text/html; charset=utf-8", headers={"ETag": tag, "Vary": "Cookie"})
