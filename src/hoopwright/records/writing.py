"""Writing records inside one transaction: each write leaves a line in the journal and overtakes nobody unseen."""

from __future__ import annotations

import dataclasses
import uuid
from collections.abc import Sequence
from typing import Any, TypeVar

import sqlalchemy as sa

from hoopwright.errors import InputError, Overtaken
from hoopwright.records.kept import Kept, kept
from hoopwright.records.making import Reading
from hoopwright.records.shape import Shape, now
from hoopwright.records.tables import JOURNAL, TABLES, as_columns, plain

S = TypeVar("S", bound=Shape)


class Writing:
    """One transaction under way. by, why : who writes, and the reason; both stand in the journal."""

    def __init__(self, connection: sa.Connection, by: str, why: str) -> None:
        self.connection, self.by, self.why = connection, by, why
        self.together = uuid.uuid4().hex
        self.at = now()

    def find(self, shape: type[S], identity: str) -> Kept[S] | None:
        """A record as this transaction sees it."""
        table = TABLES[shape.kind]
        row = self.connection.execute(sa.select(table).where(table.c.id == identity)).mappings().first()
        return None if row is None else kept(shape, row)

    def add(self, thing: S, again_ok: bool = False) -> Kept[S]:
        """Enter a new record.

        Parameters
        ----------
        again_ok : the same record sent a second time (a tablet that heard no answer) is taken as sent once.

        Raises
        ------
        InputError
            Its number is taken, or it refers to what is not there.
        """
        there = self.find(type(thing), thing.id)
        if there is None:
            self._references(thing)
            try:
                with self.connection.begin_nested():
                    kept_one = self._insert([thing])[0]
                self._replace([thing])
                return kept_one
            except sa.exc.IntegrityError:
                there = self.find(type(thing), thing.id)
                if there is None:
                    raise
        if again_ok and there.thing == thing:
            return there
        who = f"entered by {there.entered_by} at {there.entered_at:%Y-%m-%d %H:%M}"
        raise InputError(
            f"{thing.kind.replace('_', ' ')}.id", thing.id, "", f"new; this number is taken ({who})",
            "give another number, or change the record that is there",
        )  # fmt: skip

    def add_all(self, things: Sequence[S]) -> tuple[Kept[S], ...]:
        """Enter many new records of one kind, all or none.

        Raises
        ------
        InputError
            A number is taken or comes twice, or a record refers to what is not there.
        """
        if not things:
            return ()
        seen: set[str] = set()
        table = TABLES[things[0].kind]
        for thing in things:
            if thing.id in seen:
                raise InputError(f"{thing.kind}.id", thing.id, "", "there once", "take one of them away")
            seen.add(thing.id)
        for chunk in _chunks(sorted(seen)):
            taken = self.connection.execute(sa.select(table.c.id).where(table.c.id.in_(chunk))).scalars().first()
            if taken is not None:
                raise InputError(f"{things[0].kind}.id", taken, "", "new; this number is taken", "give another number")
        for unlike in {tuple(_targets(thing)): thing for thing in things}.values():
            self._references(unlike)
        written = self._insert(things)
        self._replace(things)
        return written

    def change(self, seen: Kept[S], **values: Any) -> Kept[S]:
        """Change fields of a record as it was seen; what stood before stays in the journal.

        Raises
        ------
        Overtaken
            Someone changed it since it was read. InputError: a value breaks a rule.
        """
        if "id" in values:
            raise InputError("id", values["id"], "", "left as it is", "supersede the record by a new one")
        thing = dataclasses.replace(seen.thing, **values)  # type: ignore[type-var]
        if thing == seen.thing:
            return seen
        self._references(thing)
        table, version = TABLES[thing.kind], seen.version + 1
        here = {**as_columns(thing), "version": version, "changed_at": self.at, "changed_by": self.by}
        of_version = sa.and_(table.c.id == thing.id, table.c.version == seen.version)
        if self.connection.execute(sa.update(table).where(of_version).values(here)).rowcount != 1:
            raise self._overtaken(seen)
        self.connection.execute(sa.insert(JOURNAL).values(self._line(thing, "change", version)))
        return dataclasses.replace(seen, thing=thing, version=version, changed_at=self.at, changed_by=self.by)

    def _replace(self, things: Sequence[Shape]) -> None:
        """A reading that another one corrects stands as superseded from then on."""
        for thing in things:
            if isinstance(thing, Reading) and thing.replaces is not None:
                older = self.find(Reading, thing.replaces)
                if older is not None:
                    self.change(older, standing="superseded")

    def _overtaken(self, seen: Kept[S]) -> Exception:
        kind = seen.thing.kind.replace("_", " ")
        there = self.find(type(seen.thing), seen.id)
        if there is None:
            return InputError(kind, seen.id, "", "in the records", "enter it first")
        new, old = plain(there.thing), plain(seen.thing)
        changed = "; ".join(f"{name}: {old[name]} -> {new[name]}"[:120] for name in new if new[name] != old[name])
        return Overtaken(f"{kind} {seen.id}", seen.version, there.version, there.changed_by, changed)

    def _references(self, thing: Shape) -> None:
        """Say which reference leads nowhere, before the database says only that one does."""
        for field, kind, identity in _targets(thing):
            target = TABLES[kind]
            if self.connection.execute(sa.select(target.c.id).where(target.c.id == identity)).first() is None:
                what = kind.replace("_", " ")
                raise InputError(f"{thing.kind}.{field}", identity, "", f"a {what} in the records", f"enter the {what}")

    def _line(self, thing: Shape, act: str, version: int) -> dict[str, Any]:
        return {
            "at": self.at, "by": self.by, "why": self.why, "together": self.together, "act": act, "kind": thing.kind,
            "record": thing.id, "version": version, "body": plain(thing),
        }  # fmt: skip

    def _insert(self, things: Sequence[S]) -> tuple[Kept[S], ...]:
        lines = [self._line(thing, "add", 1) for thing in things]
        query = sa.insert(JOURNAL).returning(JOURNAL.c.seq, sort_by_parameter_order=True)
        places = list(self.connection.execute(query, lines).scalars())
        stamp = {
            "version": 1, "entered_at": self.at, "entered_by": self.by, "changed_at": self.at, "changed_by": self.by,
        }  # fmt: skip
        rows = [{**as_columns(t), **stamp, "seq": seq} for t, seq in zip(things, places, strict=True)]
        self.connection.execute(sa.insert(TABLES[things[0].kind]), rows)
        return tuple(Kept(t, 1, seq, self.at, self.by, self.at, self.by) for t, seq in zip(things, places, strict=True))


def _targets(thing: Shape) -> list[tuple[str, str, str]]:
    """Field, kind and identity of everything a record refers to."""
    found = []
    for field in dataclasses.fields(thing):  # type: ignore[arg-type]
        kind, identity = field.metadata.get("refers"), getattr(thing, field.name)
        if kind and identity is not None:
            found.append((field.name, kind, identity))
    return found


def _chunks(names: list[str], size: int = 500) -> list[list[str]]:
    return [names[n : n + size] for n in range(0, len(names), size)]
