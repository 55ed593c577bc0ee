"""A tool's bodies as files, made when somebody asks for them and kept while the job stays as it is."""

from __future__ import annotations

from hoopwright.desk.page.job import Job
from hoopwright.desk.page.papers import MEDIA, Sent, paper_date, ring_tools
from hoopwright.desk.solid_files import solid_files
from hoopwright.errors import InputError

KINDS = ("R", "S", "B", "T", "W")


def solid(job: Job, ring: str, kind: str, form: str, revision: str = "") -> Sent:
    """One tool as glb, STEP or STL.

    Raises
    ------
    InputError
        No such tool or form; the extra `cad` is not installed.
    """
    if kind not in KINDS:
        raise InputError("tool", kind[:20], "", f"one of {', '.join(KINDS)}", "take one of these")
    if form not in ("glb", "step", "stl"):
        raise InputError("as", form[:20], "", "glb, step or stl", "take one of these")
    tools = ring_tools(job, ring, revision)
    files: dict[str, bytes] = job.remembered(
        ("solid", tools.plan.mark, ring, kind), lambda: solid_files(tools.forms, kind, paper_date(job))[0]
    )
    name = next((n for n in files if n.endswith("." + form)), "")
    if not name:
        raise InputError("as", form, "", "a form this tool has", "take another")
    return Sent(name, files[name], MEDIA[form])
