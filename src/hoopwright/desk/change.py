"""A design change through everything in the records: the impact list, and taking the change with a name under it."""

from __future__ import annotations

import dataclasses
import datetime as dt
import json
from dataclasses import dataclass
from pathlib import Path

from hoopwright.correct.change import Impact, impact_of
from hoopwright.design.changes import Change, read_changes
from hoopwright.desk.in_force import needed_liner, register_of, revision_in_force
from hoopwright.desk.record_book import records, writer_or_default
from hoopwright.errors import InputError
from hoopwright.records import Store, Writing
from hoopwright.records.judging import DesignChange, Paper
from hoopwright.records.making import DEAD_STATES, Expectation, Part, Tool

NOT_FINISHED = ("in work", "scrapped")


@dataclass(frozen=True, slots=True)
class ChangeShown:
    """A change and its impact. done : what was written when it was taken. left : serials that could not be walked."""

    liner: str
    revision: str
    words: str
    state: str
    impact: Impact
    done: tuple[str, ...]
    left: tuple[str, ...] = ()


def change(
    address: str | Path | None,
    file: Path,
    revision: str = "",
    taken_by: str | None = None,
    reason: str = "",
) -> ChangeShown:
    """Walk a change of a changes file through the records; with a name, take it.

    Parameters
    ----------
    revision : which of the file's changes; may be left out where it holds one.
    taken_by : who decides. Tools to rework or replace, papers and expected sizes of the rings concerned are then
        superseded or held, in one transaction.

    Raises
    ------
    InputError
        The file is of another liner, the change was taken before, or it cannot be walked.
    """
    changes = read_changes(file)
    one = _chosen(changes.changes, revision, file)
    with records(address) as store:
        liner = needed_liner(store, changes.liner)
        one, left = with_finished_parts(store, liner.id, one)
        impact = impact_of(liner, register_of(store, liner.id), one)
        identity = f"{liner.id}.{one.revision}"
        there = store.find(DesignChange, identity)
        state = there.thing.state if there is not None else "proposed"
        done: tuple[str, ...] = ()
        if taken_by is not None:
            if state == "taken":
                raise InputError("change", identity, "", "one that was not taken yet", "look at its record")
            if not reason.strip():
                raise InputError("--why", "empty", "", "the reason in words", "say why the change is made")
            with store.writing(writer_or_default(taken_by), f"change {identity}: {reason}") as write:
                done = take_change(store, write, liner.id, one, impact, taken_by, reason)
            state = "taken"
    return ChangeShown(liner.id, one.revision, one.text, state, impact, done, left)


def _chosen(changes: tuple[Change, ...], revision: str, file: Path) -> Change:
    known = ", ".join(c.revision for c in changes)
    found = [c for c in changes if revision in ("", c.revision)]
    if len(found) != 1:
        raise InputError("--revision", revision or "not given", "", f"one of {known}", f"name a change of {file.name}")
    return found[0]


def with_finished_parts(store: Store, liner: str, one: Change) -> tuple[Change, tuple[str, ...]]:
    """The change with every finished serial of the records; and serials that cannot be walked, for their number.

    The walk tells a serial's ring by its first number ("403-01" is an HD-403).
    """
    finished = [k.thing for k in store.list(Part, 100_000, liner=liner) if k.thing.state not in NOT_FINISHED]
    walked = [p.id for p in finished if p.id.partition("-")[0] == p.part.rpartition("-")[2]]
    left = tuple(p.id for p in finished if p.id not in walked)
    named = dict.fromkeys((*one.finished_parts, *walked))
    return dataclasses.replace(one, finished_parts=tuple(named)), left


def take_change(
    store: Store, write: Writing, liner: str, one: Change, impact: Impact, by: str, reason: str
) -> tuple[str, ...]:
    """Write a taken change: tools off the press, parts on hold, papers and expected sizes superseded; what was done."""
    said: list[str] = []
    text = json.dumps(dataclasses.asdict(impact), default=_plain, ensure_ascii=False)
    old = revision_in_force(store, liner)
    record = DesignChange(
        id=f"{liner}.{one.revision}", liner=liner, revision=one.revision, words=one.text, state="taken",
        decided_by=by, reason=reason, impact=text, old=old.id if old is not None else None,
    )  # fmt: skip
    there = store.find(DesignChange, record.id)
    if there is None:
        write.add(record)
    else:
        write.change(there, state="taken", decided_by=by, reason=reason, impact=text)
    said += _tools(store, write, one, impact)
    rings = {p.ring for p in impact.parts if p.verdict != "use"} | {one.ring} | {c.part for c in impact.controls}
    rings |= {thing for thing, _, _ in impact.papers}
    said += _parts(store, write, one, impact)
    said += _stale(store, write, rings, one)
    return tuple(said)


def _plain(value: object) -> str:
    if isinstance(value, (dt.date, dt.datetime)):
        return value.isoformat()
    raise TypeError(type(value))


def _tools(store: Store, write: Writing, one: Change, impact: Impact) -> list[str]:
    said = []
    for tool in impact.tools:
        kept = store.get(Tool, tool.tool)
        if kept.thing.state in DEAD_STATES:
            continue
        if tool.verdict == "replace":
            write.change(kept, state="superseded", note=_noted(kept.thing.note, f"dead since revision {one.revision}"))
            said.append(f"{tool.tool} is superseded: it cannot be reworked")
        elif tool.verdict == "rework":
            stage = f"rework to revision {one.revision}"
            write.change(kept, state="in making", stage=stage)
            said.append(f"{tool.tool} is off the press until its rework is done")
    return said


def _parts(store: Store, write: Writing, one: Change, impact: Impact) -> list[str]:
    said = []
    for part in impact.parts:
        kept = store.find(Part, part.serial)
        if kept is not None and part.verdict in ("re-stretch", "rework", "scrap") and kept.thing.state != "on hold":
            note = _noted(kept.thing.note, f"revision {one.revision}: {part.verdict}")
            write.change(kept, state="on hold", note=note)
            said.append(f"{part.serial} is on hold: {part.verdict}")
    return said


def _stale(store: Store, write: Writing, rings: set[str], one: Change) -> list[str]:
    said = []
    for ring in sorted(rings - {""}):
        papers = store.list(Paper, about=ring, state="in force")
        expected = store.list(Expectation, part=ring, state="in force")
        for paper in papers:
            write.change(paper, state="superseded", note=_noted(paper.thing.note, f"revision {one.revision}"))
        for expectation in expected:
            write.change(expectation, state="superseded")
        if papers or expected:
            said.append(f"{ring}: {len(papers)} papers and {len(expected)} expected sizes are superseded")
    return said


def _noted(note: str, more: str) -> str:
    return "; ".join(part for part in (note, more) if part)
