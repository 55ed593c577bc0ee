"""The records from the desk: where they are, one record entered or changed from words, its history, copies of all."""

from __future__ import annotations

import dataclasses
import datetime as dt
import getpass
import os
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from hoopwright.desk.folders import write_whole
from hoopwright.errors import InputError, Overtaken
from hoopwright.records import Entry, Kept, Store, open_store
from hoopwright.records.archive import backup, restore
from hoopwright.records.export import everything
from hoopwright.records.shape import Shape, shown
from hoopwright.records.tables import KINDS, hints, plain

PLACE_WORD, BY_WORD = "HOOPWRIGHT_RECORDS", "HOOPWRIGHT_BY"
"""Names of the settings that say where the records are and who writes, where a command does not."""


def address_or_default(address: str | Path | None) -> str | Path | None:
    """The address given, else that of the setting, else this folder."""
    return address if address is not None else os.environ.get(PLACE_WORD)


def writer_or_default(by: str | None) -> str:
    """The name given, else that of the setting, else of the person at this machine."""
    if by:
        return by
    if os.environ.get(BY_WORD):
        return os.environ[BY_WORD]
    try:
        return getpass.getuser()
    except (KeyError, OSError, ImportError):
        raise InputError("--by", "not given", "", "the name of who writes", "name who writes, with --by") from None


@contextmanager
def records(address: str | Path | None, create: bool = False) -> Iterator[Store]:
    """The records at an address, closed again at the end."""
    store = open_store(address_or_default(address), create)
    try:
        yield store
    finally:
        store.close()


@dataclass(frozen=True, slots=True)
class FieldSaid:
    """A field as a person needs it to fill it in. refers : kind of record it names, "" where it names none."""

    name: str
    unit: str
    kind: str
    needed: bool
    words: tuple[str, ...]
    refers: str


@dataclass(frozen=True, slots=True)
class RecordShown:
    """A record with what the store says of it."""

    kind: str
    id: str
    version: int
    changed_by: str
    changed_at: str
    fields: Mapping[str, Any]


def kinds() -> tuple[str, ...]:
    """Every kind of record."""
    return tuple(KINDS)


def shape_of(kind: str) -> type[Shape]:
    """The shape of a kind.

    Raises
    ------
    InputError
        There is no such kind.
    """
    if kind not in KINDS:
        raise InputError("kind of record", shown(kind), "", ", ".join(KINDS), "name one of these")
    return KINDS[kind]


def fields_of(kind: str) -> tuple[FieldSaid, ...]:
    """The fields of a kind, those that must be given first."""
    shape = shape_of(kind)
    found = []
    for field in dataclasses.fields(shape):  # type: ignore[arg-type]
        hint, _ = hints(shape)[field.name]
        word = {str: "text", float: "number", int: "whole number", dt.date: "day", dt.datetime: "moment"}.get(hint)
        needed = field.default is dataclasses.MISSING and field.default_factory is dataclasses.MISSING
        meta = field.metadata
        found.append(
            FieldSaid(
                field.name, meta.get("unit", ""), word or "list", needed, meta.get("words", ()), meta.get("refers", "")
            )
        )
    return tuple(sorted(found, key=lambda f: not f.needed))


def value_from(kind: str, field: str, said: str) -> Any:
    """A value of a field from what a person wrote; decimal commas are fine, `a=1; b=2` makes a list of settings.

    Raises
    ------
    InputError
        No such field, or not a value of its kind.
    """
    shape = shape_of(kind)
    known = hints(shape)
    names = [f.name for f in dataclasses.fields(shape)]  # type: ignore[arg-type]
    if field not in names:
        raise InputError(f"{kind}.{field}", "unknown", "", f"one of {', '.join(names)}", "name one of these")
    hint, optional = known[field]
    text = said.strip()
    if text == "" and optional:
        return None
    if hint is str:
        return said
    if hint in (float, int):
        return _number(f"{kind}.{field}", text, hint)
    if hint in (dt.date, dt.datetime):
        try:
            return hint.fromisoformat(text)
        except ValueError:
            must = "a day as 2031-03-01" if hint is dt.date else "a moment as 2031-03-01T08:30+01:00"
            raise InputError(f"{kind}.{field}", shown(said), "", must, "write it so") from None
    return _list(f"{kind}.{field}", text, str(hint))


def _number(field: str, text: str, hint: type) -> float | int:
    plain_text = text.replace(",", ".") if text.count(",") == 1 and "." not in text else text
    try:
        return int(plain_text) if hint is int else float(plain_text)
    except ValueError:
        must = "a whole number" if hint is int else "a number"
        raise InputError(field, shown(text), "", must, "write it without unit or groups of thousands") from None


def _list(field: str, text: str, hint: str) -> tuple[Any, ...]:
    items = [item.strip() for item in text.split(";") if item.strip()]
    if "tuple[tuple" in hint:
        found = []
        for item in items:
            name, equals, value = item.partition("=")
            if not equals:
                raise InputError(field, shown(item), "", "name = value; name = value", "write it so")
            try:
                found.append((name.strip(), float(value.replace(",", ".")) if value.strip() else ""))
            except ValueError:
                found.append((name.strip(), value.strip()))
        return tuple(found)
    return tuple(_number(field, item, float) for item in items) if "float" in hint else tuple(items)


def enter(
    address: str | Path | None, kind: str, identity: str, given: Mapping[str, str], by: str | None, why: str = "",
    version: int | None = None,
) -> RecordShown:  # fmt: skip
    """Enter a record, or change the one that is there.

    Parameters
    ----------
    version : the version that was seen; where it is not today's, nothing is changed.

    Raises
    ------
    InputError
        A field breaks its rule. Overtaken: someone changed it since `version`.
    """
    shape = shape_of(kind)
    values = {field: value_from(kind, field, said) for field, said in given.items() if field != "id"}
    with records(address, create=True) as store:
        there = store.find(shape, identity) if identity else None
        if there is None and version is not None:
            raise InputError(kind, identity, "", "in the records at this version", "enter it without a version")
        if there is not None and version is not None and there.version != version:
            raise Overtaken(f"{kind} {identity}", version, there.version, there.changed_by, "")
        with store.writing(writer_or_default(by), why) as write:
            if there is None:
                thing = _made(shape, kind, identity, values)
                return as_shown(write.add(thing))
            return as_shown(write.change(there, **values))


def _made(shape: type[Shape], kind: str, identity: str, values: Mapping[str, Any]) -> Shape:
    missing = [f.name for f in fields_of(kind) if f.needed and f.name not in values and f.name != "id"]
    if missing:
        raise InputError(f"{kind} {identity}".strip(), "new", "", f"given {', '.join(missing)}", "add these fields")
    return shape(**({"id": identity} if identity else {}), **values)


def as_shown(kept: Kept[Any]) -> RecordShown:
    """A kept record as plain data."""
    thing = kept.thing
    return RecordShown(
        thing.kind, kept.id, kept.version, kept.changed_by, kept.changed_at.isoformat(), plain(thing)
    )  # fmt: skip


def look(address: str | Path | None, kind: str, identity: str) -> RecordShown:
    """One record."""
    with records(address) as store:
        return as_shown(store.get(shape_of(kind), identity))


def listed(
    address: str | Path | None, kind: str, limit: int = 100, where: Mapping[str, str] | None = None
) -> tuple[RecordShown, ...]:
    """Newest records of a kind, those only whose fields are as given."""
    conditions = {name: value_from(kind, name, said) for name, said in (where or {}).items()}
    with records(address) as store:
        return tuple(as_shown(k) for k in store.list(shape_of(kind), limit, newest_first=True, **conditions))


def history(address: str | Path | None, kind: str, identity: str) -> tuple[Entry, ...]:
    """Everything ever written of one record, first to last."""
    with records(address) as store:
        store.get(shape_of(kind), identity)
        return store.history(shape_of(kind), identity)


def trail(address: str | Path | None, limit: int = 50) -> tuple[Entry, ...]:
    """The audit trail, newest first."""
    with records(address) as store:
        return store.journal(limit)


def back_up(address: str | Path | None, target: Path) -> Mapping[str, int]:
    """Write everything into a new file; rows of each table."""
    with records(address) as store:
        return backup(store, target)


def put_back(source: Path, address: str | Path | None) -> Mapping[str, int]:
    """Put a backup into an empty place; rows of each table."""
    place = address_or_default(address)
    return restore(source, place if place is not None else ".")


def export_all(address: str | Path | None, folder: Path) -> tuple[Path, ...]:
    """Everything as open CSV and JSON in a folder of its own."""
    with records(address) as store:
        return write_whole(folder, everything(store))
