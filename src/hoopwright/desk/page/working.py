"""The working of any figure of the job: formula, numbers, inputs, and where each input has a working of its own."""

from __future__ import annotations

from hoopwright.desk.explain import Explained, explain, find
from hoopwright.desk.page.job import Job
from hoopwright.desk.page.welding import verdicts
from hoopwright.desk.page.whatif import what_if
from hoopwright.findings import Figure
from hoopwright.plan.ring_tools import tools_of
from hoopwright.plan.tool_making import tool_room_shelf


def working(job: Job, identity: str, revision: str = "", moved: tuple[tuple[str, float], ...] = ()) -> Explained:
    """The working of a figure by its identity.

    Raises
    ------
    InputError
        No such figure; the message names the nearest ones.
    """
    return explain(find(figures_near(job, identity, revision, moved), identity))


def figures_near(job: Job, identity: str, revision: str, moved: tuple[tuple[str, float], ...]) -> tuple[Figure, ...]:
    """Figures among which one should be: of the ring that the identity names first, else of everything."""
    liner = job.revision(revision).liner
    rings = {ring.id for ring in liner.rings}
    part = identity.partition("/")[0]
    ring = next((r for r in rings if part == r or part.startswith(f"{r}-")), None)
    if ring is not None:
        plan = what_if(job, ring, revision, moved).plan
        found = list(plan.figures)
        if part != ring:
            made = tools_of(plan, tool_room_shelf(job.shop_folder))
            found += [f for tool in made.made if tool.stock is not None for f in tool.stock.figures]
        hot = any(word in identity for word in ("/constraint/", "/growth/"))
        return (*found, *(job.hot(revision).figures if hot else ()))
    found = [figure for verdict in verdicts(job) for figure in verdict.figures]
    if liner.thermal is not None:
        found += job.hot(revision).figures
    known = {figure.identity for figure in found}
    rests = {item.figure for figure in found for item in figure.inputs}
    if identity in known | rests:
        return tuple(found)
    return (*found, *(figure for plan in job.plans(revision).rings for figure in plan.figures))
