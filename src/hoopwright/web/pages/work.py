"""Work under way: what it said, how long it takes, a way to stop it."""

from __future__ import annotations

from dataclasses import dataclass

from hoopwright.web.shell import Page, page
from hoopwright.web.state import Shop
from hoopwright.web.work import Work


@dataclass(frozen=True, slots=True)
class WorkView:
    """A piece of work."""

    id: str
    state: str
    lines: tuple[str, ...]
    over: bool
    done: bool
    size: str


def work_page(shop: Shop, work: Work) -> tuple[Page, WorkView]:
    """One piece of work."""
    said = {
        "waiting": "It waits for the work before it.",
        "under way": f"It is under way; last: {work.lines[-1] if work.lines else 'begun'}.",
        "done": f"It is done, in {work.took_s:.0f} s.",
        "stopped": "It was stopped; nothing is kept of it.",
        "refused": f"It cannot be done: {work.lines[-1] if work.lines else ''}",
    }[work.state]
    head = page(
        shop, "papers", work.what, f"What is being done? {work.what[0].upper()}{work.what[1:]}", said, wide=True
    )
    size = f"{len(work.content) / 1e6:.1f} MB" if work.content is not None else ""
    return head, WorkView(work.id, work.state, tuple(work.lines), work.over, work.content is not None, size)
