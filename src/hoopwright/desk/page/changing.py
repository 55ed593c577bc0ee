"""What if it changes? A change that is proposed walked through tools and parts; or two saved revisions compared."""

from __future__ import annotations

import difflib
from dataclasses import dataclass

from hoopwright.correct.change import Impact, impact_of
from hoopwright.design.changes import Change
from hoopwright.desk.page.job import Job
from hoopwright.errors import InputError
from hoopwright.findings import Figure


@dataclass(frozen=True, slots=True)
class Differs:
    """One figure that two revisions plan differently."""

    before: Figure
    after: Figure


@dataclass(frozen=True, slots=True)
class Changing:
    """What a change means. impact and change : where it is proposed; lines, figures : where both are saved."""

    before: str
    after: str
    change: Change | None
    impact: Impact | None
    lines: tuple[str, ...]
    figures: tuple[Differs, ...]
    rings: tuple[str, ...]
    answer: str


def changing(job: Job, before: str, after: str) -> Changing:
    """From one revision to another.

    Raises
    ------
    InputError
        Neither is proposed or saved.
    """
    proposed = next((c for c in job.changes().changes if c.revision == after), None)
    if proposed is not None and after not in job.revisions():
        return _proposed(job, before, proposed)
    if after not in job.revisions():
        known = ", ".join(dict.fromkeys((*job.revisions(), *(c.revision for c in job.changes().changes))))
        raise InputError("revision", after[:40], "", f"one of {known}", "take one of these")
    return _saved(job, before, after)


def _proposed(job: Job, before: str, change: Change) -> Changing:
    liner, register = job.revision(before).liner, job.register()
    impact: Impact = job.remembered(("impact", liner, register, change), lambda: impact_of(liner, register, change))
    rework = [t for t in impact.tools if t.verdict not in ("unaffected", "note")]
    scrapped = [p for p in impact.parts if "scrap" in p.verdict]
    last = impact.plans[0].milestones[-1] if impact.plans and impact.plans[0].milestones else None
    ready = f" The last step is done on {last.date:%A} {last.date.day} {last.date:%B}." if last is not None else ""
    answer = (
        f"{_count(len(rework))} tool{'s are' if len(rework) != 1 else ' is'} reground, "
        f"{_count(len(impact.parts)).lower()} part{'s' if len(impact.parts) != 1 else ''} stretched again, "
        f"{'nothing is scrapped' if not scrapped else f'{len(scrapped)} scrapped'}.{ready}"
    )
    rings = tuple(dict.fromkeys((change.ring, *(c.part for c in impact.controls))))
    return Changing(before, change.revision, change, impact, (), (), rings, answer)


def _saved(job: Job, before: str, after: str) -> Changing:
    one, two = job.revision(before), job.revision(after)
    diff = difflib.unified_diff(one.text.splitlines(), two.text.splitlines(), lineterm="", n=0)
    lines = tuple(line for line in diff if line[:3] not in ("---", "+++") and line[:2] != "@@")
    shared = {ring.id for ring in one.liner.rings} & {ring.id for ring in two.liner.rings}
    rings = tuple(r for r in sorted(shared) if one.liner.ring(r) != two.liner.ring(r))
    figures: list[Differs] = []
    for ring in rings:
        old = {f.identity: f for f in job.plan(ring, before).figures}
        for new in job.plan(ring, after).figures:
            was = old.get(new.identity)
            if was is not None and abs(was.value - new.value) >= 0.5 * 10.0**-new.digits:
                figures.append(Differs(was, new))
    said = f"{len(lines)} lines differ" if lines else "Nothing differs"
    where = f"; {', '.join(rings)} {'is' if len(rings) == 1 else 'are'} drawn otherwise" if rings else ""
    answer = f"{said}{where}, and {len(figures)} figures of the plans move." if lines else f"{said} between the two."
    return Changing(before, after, None, None, lines, tuple(figures), rings, answer)


def _count(n: int) -> str:
    words = ("No", "One", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight", "Nine", "Ten")
    return words[n] if n < len(words) else str(n)
