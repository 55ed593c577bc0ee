"""Editing the liner in the page: same validation as the file, comments kept, each save a new revision, nothing lost."""

from __future__ import annotations

import os
import secrets
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import tomlkit
from tomlkit.items import Item

from hoopwright.design.liner_reading import liner_from_text
from hoopwright.design.shapes import Liner
from hoopwright.desk.page.job import NAME, Job
from hoopwright.desk.page.store import store_of
from hoopwright.errors import FileFaults, HoopwrightError, InputError
from hoopwright.records.material import LinerRevision, digest_of

RING_FIELDS = ("thickness_mm", "metal_degC", "seam_theta_deg", "prior_strain_log")
CONTROL_FIELDS = ("diameter_mm", "tolerance_mm")


class Overwritten(HoopwrightError):
    """Somebody else saved the same fields in between. theirs, yours : by field; `by` saved, under `revision`."""

    def __init__(self, theirs: Mapping[str, str], yours: Mapping[str, str], revision: str) -> None:
        self.theirs, self.yours, self.revision = dict(theirs), dict(yours), revision
        fields = ", ".join(sorted(theirs))
        super().__init__(f"{fields} was saved by somebody else meanwhile, as revision {revision}. Nothing is lost.")


@dataclass(frozen=True, slots=True)
class Saved:
    """A revision as saved. merged : whether somebody else's save in between stands in it too."""

    revision: str
    digest: str
    merged: bool


def fields_of(text: str, ring: str) -> dict[str, Any]:
    """Editable fields of a ring as they stand in the file, by key ("control.lip_od.diameter_mm")."""
    table = _ring_table(tomlkit.parse(text), ring)
    found: dict[str, Any] = {key: _plain(table[key]) for key in RING_FIELDS if key in table}
    for control in table.get("control", []):
        for key in CONTROL_FIELDS:
            if key in control:
                found[f"control.{_plain(control['name'])}.{key}"] = _plain(control[key])
    return found


def _plain(value: Any) -> Any:
    return value.unwrap() if isinstance(value, Item) else value


def _ring_table(document: Any, ring: str) -> Any:
    for table in document.get("ring", []):
        if table.get("id") == ring:
            return table
    raise InputError("ring", ring[:40], "", "a ring of the liner file", "take one of them")


def save_fields(job: Job, base: str, ring: str, values: Mapping[str, float], by: str, why: str = "") -> Saved:
    """Save fields of a ring as a new revision.

    Parameters
    ----------
    base : digest of the revision that the person saw. values : field key to its new value; only what differs is set.

    Raises
    ------
    Overwritten
        Somebody else saved the same fields in between.
    FileFaults, InputError
        The liner would not be sound; nothing is saved.
    """
    with job.writing:
        seen = fields_of(revision_by_digest(job, base).text, ring)
        unknown = sorted(set(values) - set(seen))
        if unknown:
            raise InputError("field", unknown[0][:80], "", f"one of {', '.join(seen)}", "take one of these")
        mine = {key: value for key, value in values.items() if float(seen[key]) != float(value)}
        current = job.current()
        now = fields_of(current.text, ring)
        theirs = {key: now.get(key) for key in mine if now.get(key) != seen[key] and now.get(key) != mine[key]}
        if theirs:
            raise Overwritten(
                {key: f"{value}" for key, value in theirs.items()},
                {key: f"{mine[key]:g}" for key in theirs},
                current.name,
            )
        if not mine:
            return Saved(current.name, current.digest, False)
        document = tomlkit.parse(current.text)
        table = _ring_table(document, ring)
        for key, value in mine.items():
            _set(table, key, value)
        return _write(job, tomlkit.dumps(document), by, why or f"{ring}: {', '.join(mine)}", current.digest != base)


def _set(table: Any, key: str, value: float) -> None:
    if not key.startswith("control."):
        table[key] = float(value)
        return
    _, name, field = key.split(".")
    for control in table["control"]:
        if control["name"] == name:
            control[field] = float(value)


def save_text(job: Job, base: str, text: str, by: str, why: str = "") -> Saved:
    """Save a whole liner file as a new revision.

    Raises
    ------
    Overwritten
        Somebody else saved in between.
    FileFaults
        Every fault of the text; nothing is saved.
    """
    with job.writing:
        current = job.current()
        sound = text.replace("\r\n", "\n")
        if current.digest != base:
            raise Overwritten(
                {"the file": f"revision {current.name}"}, {"the file": "your text, kept below"}, current.name
            )
        if sound == current.text:
            return Saved(current.name, current.digest, False)
        return _write(job, sound, by, why or "edited as a whole", False)


def undo(job: Job, base: str, by: str) -> Saved:
    """Bring back the revision before the current one, as a new revision: an undo can be undone.

    Raises
    ------
    InputError
        There is none before.
    """
    with job.writing:
        current = job.current()
        if current.digest != base:
            raise Overwritten({"the file": f"revision {current.name}"}, {"the file": "undo"}, current.name)
        before = _before(job, current.name)
        return _write(job, job.revision(before).text, by, f"back to revision {before}", False)


def _before(job: Job, name: str) -> str:
    saved = job.folder / "revisions"
    found = sorted(
        (path for path in saved.glob("*.toml") if path.stem != name), key=lambda path: path.stat().st_mtime_ns
    )
    if not found:
        raise InputError("undo", name, "", "of a revision that has one before it", "change something first")
    return found[-1].stem


def revision_by_digest(job: Job, digest: str) -> Any:
    """The revision that a person saw."""
    for name in job.revisions():
        if job.revision(name).digest == digest:
            return job.revision(name)
    raise InputError("base", digest[:40], "", "the digest of a saved revision", "open the page again")


def next_name(job: Job, name: str) -> str:
    """Name of the revision after one: A, A.1, A.2; letters are given by whoever releases a drawing."""
    stem, _, number = name.partition(".")
    taken = set(job.revisions())
    count = int(number) + 1 if number.isdigit() else 1
    while f"{stem}.{count}" in taken:
        count += 1
    return f"{stem}.{count}"


def _write(job: Job, text: str, by: str, why: str, merged: bool) -> Saved:
    """Check, keep the revision before, and put the new one in its place; whole or not at all."""
    current = job.current()
    name = next_name(job, current.name)
    document = tomlkit.parse(text)
    try:
        document["liner"]["revision"] = name
    except (KeyError, TypeError):
        raise InputError("liner.revision", "missing", "", "in the file", "keep the table [liner]") from None
    named = tomlkit.dumps(document)
    liner = liner_from_text(named, "liner.toml", None, job.folder)
    _refuse_other(current.liner, liner)
    saved = job.folder / "revisions"
    saved.mkdir(exist_ok=True)
    if NAME.match(current.name) and not (saved / f"{current.name}.toml").exists():
        _put(saved / f"{current.name}.toml", current.text)
    with store_of(job).writing(by, why) as write:
        write.add(
            LinerRevision(id=digest_of(named), liner=liner.id, revision=name, content=named, state="in design"),
            again_ok=True,
        )
    _put(job.folder / "liner.toml", named)
    job.changed()
    return Saved(name, job.current().digest, merged)


def _refuse_other(now: Liner, new: Liner) -> None:
    if new.id != now.id:
        raise InputError(
            "liner.id", new.id, "", f"{now.id}, the liner of this job", "open another job for another liner"
        )


def _put(path: Path, text: str) -> None:
    beside = path.with_name(f".{path.name}.{secrets.token_hex(4)}")
    try:
        with beside.open("w", encoding="utf-8", newline="\n") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        os.replace(beside, path)
    except BaseException:
        beside.unlink(missing_ok=True)
        raise


def parsed_values(typed: Mapping[str, str]) -> dict[str, float]:
    """Numbers from a form; decimal commas are understood. Every one that is no number is named.

    Raises
    ------
    FileFaults
        With every field that is no number.
    """
    from hoopwright.errors import Fault

    found: dict[str, float] = {}
    faults = []
    for key, said in typed.items():
        try:
            found[key] = float(said.strip().replace(",", "."))
        except ValueError:
            faults.append(Fault(key, said[:40] or "empty", "", "a number", "enter a number"))
    if faults:
        raise FileFaults("entries", faults)
    return found
