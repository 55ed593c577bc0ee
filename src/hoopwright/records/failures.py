"""What a database says, turned into what a person can act on."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

import sqlalchemy as sa

from hoopwright.errors import InputError, StoreError

KNOWN: tuple[tuple[str, str, str], ...] = (
    ("database is locked", "The records stayed busy too long.", "close what holds them open, then try again"),
    ("disk is full", "The disk is full.", "make room, then enter it again; what was acknowledged is kept"),
    ("disk i/o error", "The disk did not take it.", "check the disk; then restore the newest backup if it stays so"),
    ("readonly database", "The records may only be read here.", "ask for the right to write to file and folder"),
    ("unable to open database", "The file cannot be opened.", "check its folder and its rights"),
    ("not a database", "The file is no database.", "name the right file, or restore a backup"),
    ("malformed", "The file is damaged.", "keep it, and restore the newest backup beside it"),
    ("connection refused", "The server does not answer.", "check that it runs, and its address"),
    ("could not translate host name", "There is no such server.", "check the address"),
    ("password authentication failed", "The server refuses name or password.", "check both; PGPASSWORD may hold it"),
    ("no password supplied", "The server asks for a password.", "give it in PGPASSWORD or ~/.pgpass"),
    ("timeout expired", "The server does not answer.", "check that it runs, and its address"),
    ("permission denied", "The server refuses this.", "ask its keeper for the right"),
    ("never deleted", "Records are never deleted.", "supersede it by a newer one"),
)  # fmt: skip


def in_words(problem: sa.exc.DBAPIError, place: str) -> StoreError:
    """A fault of the database as an error of ours."""
    said = str(problem.orig).lower()
    for sign, sentence, remedy in KNOWN:
        if sign in said:
            return StoreError(f"{sentence} ({place})", remedy)
    first = str(problem.orig).strip().splitlines()[0] if str(problem.orig).strip() else type(problem.orig).__name__
    return StoreError(f"The records cannot be used ({place}): {first}.", "try again; then ask who keeps the database")


@contextmanager
def in_our_words(place: str) -> Iterator[None]:
    """Turn every fault of the database inside into an error of ours."""
    try:
        yield
    except sa.exc.IntegrityError as problem:
        if "never deleted" in str(problem.orig):
            raise in_words(problem, place) from None
        first = str(problem.orig).strip().splitlines()[0]
        raise InputError("record", first, "", "new, and refer to records that are there", "look at it again") from None
    except sa.exc.DBAPIError as problem:
        raise in_words(problem, place) from None
