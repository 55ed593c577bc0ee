"""The same answers for a program, as JSON under the same validation."""

from __future__ import annotations

import datetime as dt
from dataclasses import asdict
from typing import Annotated, Any

from fastapi import APIRouter, Path, Query
from pydantic import BaseModel, ConfigDict, Field

from hoopwright.desk.page.board import board
from hoopwright.desk.page.press import press_card
from hoopwright.desk.page.recording import HitMade, take_hit, undo
from hoopwright.desk.page.whatif import parsed, what_if
from hoopwright.desk.page.working import working
from hoopwright.findings import Figure, Finding
from hoopwright.web.pages.press import card_data
from hoopwright.web.state import Shop

Word = Annotated[str, Field(min_length=1, max_length=64, pattern=r"^[\w .,@+-]+$")]
Name = Annotated[str, Path(min_length=1, max_length=64, pattern=r"^[\w.@+-]+$")]
Millimetres = Annotated[float, Field(ge=0.0, le=10_000.0, allow_inf_nan=False)]


class Fault(BaseModel):
    """One thing that is wrong, and what to do."""

    model_config = ConfigDict(extra="allow")
    what: str
    remedy: str


class Faults(BaseModel):
    """Everything that is wrong, at once."""

    faults: list[Fault]


REFUSED: dict[int | str, dict[str, Any]] = {
    code: {"model": Faults, "description": words}
    for code, words in (
        (400, "not understood"), (401, "the token is asked for"), (403, "from another page"), (404, "not there"),
        (409, "somebody else wrote in between"), (413, "too much at once"), (421, "another name"),
        (422, "a value is not what it must be"),
    )
}  # fmt: skip


class Hit(BaseModel):
    """One hit at the press, under the tablet's own number."""

    model_config = ConfigDict(extra="forbid")
    id: Annotated[str, Field(min_length=8, max_length=64, pattern=r"^[A-Za-z0-9-]+$")]
    serial: Word
    control: Word
    segment_set: Word
    stop_mm: Annotated[float, Field(ge=0.0, le=500.0, allow_inf_nan=False)]
    free_mm: Millimetres
    by: Word
    at: dt.datetime
    gauge: Annotated[str, Field(max_length=64, pattern=r"^[\w .,-]*$")] = ""
    part_degC: Annotated[float, Field(ge=-50.0, le=100.0, allow_inf_nan=False)] = 20.0
    over: bool = False
    note: Annotated[str, Field(max_length=400, pattern=r"^[^\x00-\x1f\x7f]*$")] = ""


class By(BaseModel):
    """Who does it."""

    model_config = ConfigDict(extra="forbid")
    by: Word


class Taken(BaseModel):
    """What became of it: its number, and whether it was there already."""

    id: str
    again: bool
    pulse: int


def figure_row(figure: Figure) -> dict[str, Any]:
    """A figure as plain data."""
    return asdict(figure)


def finding_row(finding: Finding) -> dict[str, Any]:
    """A finding as plain data."""
    return asdict(finding)


def router(shop: Shop) -> APIRouter:
    """Routes of the JSON API."""
    routes = APIRouter(prefix="/api", tags=["hoopwright"], responses=REFUSED)

    @routes.get("/liner", summary="The liner that is open, its revisions and rings")
    def liner() -> dict[str, Any]:
        now = shop.job.current()
        rings = [
            {"id": r.id, "side": r.side, "order": r.order, "thickness_mm": r.thickness_mm} for r in now.liner.rings
        ]
        return {
            "id": now.liner.id, "revision": now.name, "digest": now.digest, "revisions": list(shop.job.revisions()),
            "invented": now.liner.invented, "rings": rings,
        }  # fmt: skip

    @routes.get("/board", summary="Findings of the whole job, gravest first")
    def whole() -> dict[str, Any]:
        found = board(shop.job)
        return {"answer": found.answer, "mark": found.mark, "findings": [finding_row(f) for f in found.findings]}

    @routes.get("/rings/{ring}", summary="Plan of a ring: every figure and finding; levers may be moved")
    def ring(ring: Name, moved: Annotated[str, Query(alias="if", max_length=300)] = "") -> dict[str, Any]:
        shop.job.current().liner.ring(ring)
        plan = what_if(shop.job, ring, "", parsed(moved)).plan
        return {
            "ring": ring, "mark": plan.mark, "proven": plan.proven,
            "figures": [figure_row(f) for f in plan.figures], "findings": [finding_row(f) for f in plan.findings],
        }  # fmt: skip

    @routes.get("/figures/{identity:path}", summary="The working of a figure by its identity")
    def figure(identity: Annotated[str, Path(min_length=1, max_length=200)]) -> dict[str, Any]:
        found = working(shop.job, identity)
        return {"figure": figure_row(found.figure), "formula": found.formula, "with_numbers": found.with_numbers}

    _press(routes, shop)
    return routes


def _press(routes: APIRouter, shop: Shop) -> None:
    @routes.get("/press/{serial}", summary="Card of one ring at the press")
    def press(serial: Name) -> dict[str, Any]:
        return card_data(press_card(shop.job, serial))

    @routes.post("/records/hits", summary="Take a hit into the records, once", response_model=Taken)
    def hits(hit: Hit) -> dict[str, Any]:
        return asdict(take_hit(shop.job, HitMade(**hit.model_dump())))

    @routes.post(
        "/records/{identity}/undo", summary="Take back a reading; it stays as superseded", response_model=Taken
    )
    def back(identity: Name, by: By) -> dict[str, Any]:
        return asdict(undo(shop.job, identity, by.by))
