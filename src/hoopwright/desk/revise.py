"""Two revisions of the liner file in, the impact list out: against the records, or against files alone."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path

from hoopwright.correct.revision.impact import RevisionImpact, impact_of_revision
from hoopwright.design.changes import Change, Durations, read_changes
from hoopwright.design.liner_reading import cards_folder, read_liner
from hoopwright.design.register import read_register
from hoopwright.design.shapes import Liner
from hoopwright.desk.change import ChangeShown, take_change, with_finished_parts
from hoopwright.desk.in_force import needed_liner, register_of
from hoopwright.desk.record_book import records, writer_or_default
from hoopwright.errors import InputError
from hoopwright.plan.shelf import Shelf
from hoopwright.records import Store
from hoopwright.records.judging import DesignChange

MOST_SIGNS = 2000


@dataclass(frozen=True, slots=True)
class Revised:
    """What was compared and what it does. shown : as of any change; found : differences and figures beside it."""

    shown: ChangeShown
    found: RevisionImpact


def revise(
    address: str | Path | None,
    new_file: Path,
    old_file: Path | None = None,
    changes_file: Path | None = None,
    register_file: Path | None = None,
    revision: str = "",
    taken_by: str | None = None,
    reason: str = "",
) -> Revised:
    """Compare a new liner file with the liner in force (or with another file) and say what of the old still serves.

    Parameters
    ----------
    old_file : the older revision; without it the one in force in the records. changes_file : finished parts, dates and
        days for the plan of the change (its change of `revision`, or the only one). register_file : tools; without it
        those of the records. taken_by, reason : as for `change`; only with records.

    Raises
    ------
    InputError
        No older revision or no tools to be had, files of two liners, or files that say the same.
    """
    new = read_liner(new_file)
    by_files = old_file is not None and register_file is not None
    if taken_by is not None and (old_file is not None or register_file is not None):
        remedy = "leave --from and --register out, and name the records"
        raise InputError("--taken-by", taken_by, "", "given only where the records rule", remedy)
    with _records(address, not by_files) as store:
        old = read_liner(old_file) if old_file is not None else needed_liner(_needed(store), new.id)
        register = read_register(register_file) if register_file is not None else register_of(_needed(store), new.id)
        planning, left = _planning(store, new, changes_file, revision)
        found = impact_of_revision(old, new, register, planning, Shelf(cards_folder(new_file)))
        if not planning.text:
            planning = replace(planning, text="; ".join(d.sentence for d in found.differences)[:MOST_SIGNS])
        identity = f"{new.id}.{new.revision}"
        there = store.find(DesignChange, identity) if store is not None else None
        state = there.thing.state if there is not None else "proposed"
        done: tuple[str, ...] = ()
        if store is not None and taken_by is not None:
            if state == "taken":
                raise InputError("change", identity, "", "one that was not taken yet", "look at its record")
            if not reason.strip():
                raise InputError("--why", "empty", "", "the reason in words", "say why the change is made")
            with store.writing(writer_or_default(taken_by), f"revision {identity}: {reason}") as write:
                done = take_change(store, write, new.id, planning, found.impact, taken_by, reason)
            state = "taken"
    shown = ChangeShown(new.id, new.revision, planning.text, state, found.impact, done, left)
    return Revised(shown, found)


@contextmanager
def _records(address: str | Path | None, wanted: bool) -> Iterator[Store | None]:
    if not wanted:
        yield None
        return
    with records(address) as store:
        yield store


def _needed(store: Store | None) -> Store:
    if store is None:
        raise InputError("--records", "none", "", "records, or --from and --register", "name what is in force")
    return store


def _planning(
    store: Store | None, new: Liner, changes_file: Path | None, revision: str
) -> tuple[Change, tuple[str, ...]]:
    """The change's dates, days and finished parts, under the new revision's name."""
    planning = Change(new.revision, "", "", (), (), None, Durations(), ())
    if changes_file is not None:
        every = read_changes(changes_file)
        if every.liner != new.id:
            raise InputError(f"{changes_file.name} liner", every.liner, "", new.id, "give the changes of this liner")
        wanted = revision or new.revision
        known = ", ".join(one.revision for one in every.changes)
        chosen = [one for one in every.changes if one.revision == wanted or len(every.changes) == 1]
        if not chosen:
            raise InputError("--revision", wanted, "", f"one of {known}", f"name a change of {changes_file.name}")
        planning = replace(chosen[0], revision=new.revision, new_sizes=())
    return with_finished_parts(store, new.id, planning) if store is not None else (planning, ())
