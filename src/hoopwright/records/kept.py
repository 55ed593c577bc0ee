"""A record as it stands in the store, and a line of the journal."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Generic, TypeVar

import sqlalchemy as sa

from hoopwright.records.shape import Shape
from hoopwright.records.tables import from_columns

S = TypeVar("S", bound=Shape)
S_co = TypeVar("S_co", bound=Shape, covariant=True)


@dataclass(frozen=True, slots=True)
class Kept(Generic[S_co]):
    """A record as it stands in the store. version : 1 when new, one more with each change; a change names the version
    it saw. seq : place in the journal where it was entered, later ones larger."""

    thing: S_co
    version: int
    seq: int
    entered_at: dt.datetime
    entered_by: str
    changed_at: dt.datetime
    changed_by: str

    @property
    def id(self) -> str:
        """Identity of the record."""
        return self.thing.id


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of the journal: who wrote what, when and why. body : the whole record as it was from then on.

    together : the same for everything written in one transaction.
    """

    seq: int
    at: dt.datetime
    by: str
    why: str
    together: str
    act: str
    kind: str
    record: str
    version: int
    body: Mapping[str, Any]


def kept(shape: type[S], row: sa.RowMapping) -> Kept[S]:
    """A row of a table as a kept record."""
    more = ("version", "seq", "entered_at", "entered_by", "changed_at", "changed_by")
    return Kept(from_columns(shape, row), *(row[name] for name in more))
