"""Find: the number of anything leads to its page."""

from __future__ import annotations

from dataclasses import dataclass

from hoopwright.desk.page.job import Job
from hoopwright.desk.page.store import store_of
from hoopwright.records.making import Part

MOST = 40


@dataclass(frozen=True, slots=True)
class Found:
    """One thing: its number, what it is, its address."""

    number: str
    what: str
    href: str


def find(job: Job, words: str) -> tuple[Found, ...]:
    """Everything whose number or name holds the words; whole matches first."""
    wanted = words.strip().lower()
    if not wanted:
        return ()
    every = everything(job)
    exact = [f for f in every if f.number.lower() == wanted]
    holding = [f for f in every if wanted in f.number.lower() or wanted in f.what.lower()]
    return tuple(dict.fromkeys([*exact, *holding]))[:MOST]


def everything(job: Job) -> list[Found]:
    """Parts, tools, serials, lots, joints and figures of the job."""
    now = job.current()
    at = f"/{now.liner.id}@{now.name}"
    rows = [Found(now.liner.id, "liner", at)]
    rows += [Found(ring.id, "ring", f"{at}/{ring.id}/made") for ring in now.liner.rings]
    rows += [Found(tool.id, tool.kind, f"/tool/{tool.id}@{tool.revision}") for tool in job.register().tools]
    rows += [Found(lot.lot, "weld lot", f"/lot/{lot.lot}") for lot in job.readings().weld_lots]
    rows += [Found(joint.id, "joint", f"{at}/fits") for joint in now.liner.joints]
    rows += [Found(kept.id, f"serial of {kept.thing.part}", f"/press/{kept.id}") for kept in store_of(job).list(Part)]
    rows += [
        Found(figure.identity, figure.name, f"{at}/why/{figure.identity}")
        for plan in job.plans().rings
        for figure in plan.figures
    ]
    return rows
