"""What the records say against giving a paper out: a superseded revision, a set that does not go on the press."""

from __future__ import annotations

from pathlib import Path

from hoopwright.design.liner_writing import write_liner
from hoopwright.design.shapes import Liner
from hoopwright.desk.record_book import records, writer_or_default
from hoopwright.desk.tool_book import refusal
from hoopwright.findings import Finding
from hoopwright.records import Store
from hoopwright.records.judging import Paper
from hoopwright.records.making import Tool
from hoopwright.records.material import LinerRevision, digest_of

PRESS_PAPERS = ("machine-card", "sizing-record")
SET = "segment set"


def standing_of(address: str | Path, liner: Liner, ring: str, name: str) -> tuple[Finding, ...]:
    """Findings that hold a paper back, from the records: revision first, then the set where the paper is for the press.

    Parameters
    ----------
    liner : as the paper is made from it. name : of the paper ("machine-card").
    """
    with records(address) as store:
        found = _revision(store, liner, ring)
        if name in PRESS_PAPERS:
            found += _set(store, ring)
    return tuple(found)


def _revision(store: Store, liner: Liner, ring: str) -> list[Finding]:
    kept = store.find(LinerRevision, digest_of(write_liner(liner)))
    about = f"{ring}/revision"
    if kept is None:
        sentence = f"This liner file, revision {liner.revision}, is not in the records."
        return [Finding("caution", sentence, "take it, or print from the one in force", about, "revision-unknown")]
    if kept.thing.state != "superseded":
        return []
    now = [k.thing.revision for k in store.list(LinerRevision, liner=liner.id, state="in force")]
    instead = f"print from revision {now[-1]}" if now else "ask which revision is in force"
    sentence = f"Superseded: revision {liner.revision} is not in force."
    return [Finding("stop", sentence, instead, about, "revision-superseded")]


def _set(store: Store, ring: str) -> list[Finding]:
    sets = sorted(k.id for k in store.list(Tool, what=SET, serves=ring))
    refused = {name: found for name in sets if (found := refusal(store, name, ring)) is not None}
    if not sets or len(refused) < len(sets):
        return []
    # all sets of the ring are refused; the one in making says most of what is to be waited for
    ready = [f for f in refused.values() if f.topic == "tool-not-ready"]
    return [(ready or list(refused.values()))[0]]


def give_out(address: str | Path, liner: Liner, ring: str, name: str, mark: str, pdf: bytes, by: str | None) -> None:
    """Keep that a paper was given out; older ones of the same name, made from other inputs, are superseded."""
    with records(address) as store:
        older = store.list(Paper, about=ring, paper=name, state="in force")
        digest = digest_of(pdf)
        if any(k.thing.digest == digest for k in older):
            return
        with store.writing(writer_or_default(by), f"paper given out: {name} of {ring}") as write:
            new = write.add(
                Paper(liner=liner.id, revision=liner.revision, paper=name, about=ring, mark=mark, digest=digest)
            )
            for kept in older:
                if kept.thing.mark != mark:
                    write.change(kept, state="superseded", replaced_by=new.id)


__all__ = ["PRESS_PAPERS", "give_out", "standing_of"]
