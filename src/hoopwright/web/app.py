"""The application: routes, the door in front of them, and one place where errors become answers."""

from __future__ import annotations

from fastapi import FastAPI
from starlette.middleware.gzip import GZipMiddleware

from hoopwright import __version__
from hoopwright.desk.page.job import Job
from hoopwright.web import answers
from hoopwright.web.guard import Guard
from hoopwright.web.routes import api, desk_pages, editing_pages, files, inspection_pages, live, machine_pages
from hoopwright.web.settings import Settings
from hoopwright.web.state import Shop
from hoopwright.web.token_door import TokenDoor
from hoopwright.web.work import Bench


def create_app(job: Job, settings: Settings) -> FastAPI:
    """The page of one job.

    Parameters
    ----------
    job : opened by `open_job`.
    settings : where it is served and what is asked of a caller.
    """
    app = FastAPI(
        title="hoopwright", version=__version__, docs_url=None, redoc_url=None, openapi_url="/api/openapi.json"
    )
    shop = Shop(job, settings)
    app.state.shop = shop
    answers.install(app)
    app.include_router(files.router(shop))
    app.include_router(api.router(shop))
    app.include_router(live.router(shop, Bench()))
    app.include_router(machine_pages.router(shop))
    app.include_router(inspection_pages.router(shop))
    app.include_router(desk_pages.router(shop))
    app.include_router(editing_pages.router(shop))
    app.add_middleware(GZipMiddleware, minimum_size=900, compresslevel=5)
    app.add_middleware(TokenDoor, settings=settings)
    app.add_middleware(Guard, settings=settings)
    return app
