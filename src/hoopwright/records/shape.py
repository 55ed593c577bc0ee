"""What a record is made of: fields with a rule each, checked whenever a record is made. Names end in their unit.

A record is frozen. Its first field is `id`. A field may refer to a record of another kind; the store holds it to that.
"""

from __future__ import annotations

import dataclasses
import datetime as dt
import re
import uuid
from typing import Any, ClassVar

from hoopwright.errors import InputError, require_range

NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9_.-]{0,79}")
MOST_TEXT = 2000
CONTROL = re.compile(r"[\x00-\x08\x0b-\x1f\x7f\u200e\u200f\u202a-\u202e\u2066-\u2069]")
"""Signs that no text of a shop needs: they hide what stands there, or break a file or a terminal."""

DEVICES = frozenset(
    ("con", "prn", "aux", "nul", *(f"com{n}" for n in range(1, 10)), *(f"lpt{n}" for n in range(1, 10)))
)
"""Names that one operating system takes for devices, whatever their ending: no file can be called so there."""

Pairs = tuple[tuple[str, float | str], ...]
"""Names with values, as settings are: ("pin_stop_mm", 44.8)."""


def new_id() -> str:
    """A fresh identity for a record that nobody numbers; made by the writer, so that sending it twice is harmless."""
    return uuid.uuid4().hex


def now() -> dt.datetime:
    """This moment in UTC, to the microsecond."""
    return dt.datetime.now(dt.UTC)


def checked_name(field: str, value: object) -> str:
    """An identity that may stand in addresses and file names.

    Raises
    ------
    InputError
        Other signs than letters, digits, point, dash and underscore; a leading point; a device's name.
    """
    must = "letters, digits, '.', '-' and '_', at most 80, beginning with a letter or digit"
    if not isinstance(value, str) or not NAME.fullmatch(value):
        raise InputError(field, shown(value), "", must, "write the number as it is etched or drawn, without spaces")
    if ".." in value or value.endswith(".") or value.split(".")[0].lower() in DEVICES:
        raise InputError(field, value, "", "no name that a computer keeps for itself", "give it another number")
    return value


def checked_text(field: str, value: object, least: int = 0, most: int = MOST_TEXT) -> str:
    """Text without control signs, of a length between `least` and `most`."""
    if not isinstance(value, str):
        raise InputError(field, shown(value), "", "text", "enter text")
    if not least <= len(value.strip()) or len(value) > most:
        raise InputError(field, shown(value), "", f"of {least} to {most} signs", "shorten it, or say it in words")
    if CONTROL.search(value):
        raise InputError(field, shown(value), "", "without control signs", "type it anew instead of pasting it")
    return value


def shown(value: object) -> str:
    """A value as a message may quote it: short, one line, control signs written out."""
    text = repr(value) if not isinstance(value, str) else CONTROL.sub(lambda m: f"\\u{ord(m.group()):04x}", value)
    text = text.replace("\n", " ")
    return text if len(text) <= 60 else text[:57] + "..."


class Shape:
    """Base of every record: on being made, each field is held to its rule. `kind` is its word in the store."""

    __slots__ = ()
    kind: ClassVar[str]
    id: str

    def __post_init__(self) -> None:
        for field in dataclasses.fields(self):  # type: ignore[arg-type]
            value = getattr(self, field.name)
            if value is None and field.metadata.get("optional"):
                continue
            field.metadata["check"](f"{self.kind}.{field.name}", value)
        self.further()

    def further(self) -> None:
        """Rules across fields; a kind may have its own."""


def _field(check: Any, default: Any, **more: Any) -> Any:
    return dataclasses.field(metadata={"check": check, **more}, default=default)


def identity() -> Any:
    """The record's own number."""
    return _field(checked_name, dataclasses.MISSING)


def given_identity() -> Any:
    """An identity made on the spot where the writer gives none."""
    return dataclasses.field(metadata={"check": checked_name}, default_factory=new_id)


def name(default: Any = dataclasses.MISSING) -> Any:
    """A word that may stand in addresses and file names; a default of "" may stay empty."""

    def check(field: str, value: object) -> None:
        if not (value == "" and default == ""):
            checked_name(field, value)

    return _field(check, default)


def refers(kind: str, optional: bool = True) -> Any:
    """Identity of a record of another kind, which must be there."""
    return _field(checked_name, None if optional else dataclasses.MISSING, refers=kind, optional=optional)


def text(default: Any = "", least: int = 0, most: int = MOST_TEXT) -> Any:
    """Text; with `least` above 0 it must be given."""
    return _field(
        lambda f, v: checked_text(f, v, least, most), dataclasses.MISSING if least and default == "" else default
    )


def number(unit: str, low: float, high: float, default: Any = dataclasses.MISSING) -> Any:
    """A finite number within bounds; a default of None may stay empty."""
    return _field(lambda f, v: require_range(f, v, low, high, unit), default, optional=default is None, unit=unit)


def count(low: int = 0, high: int = 10_000_000, default: Any = dataclasses.MISSING) -> Any:
    """A whole number within bounds."""

    def check(field: str, value: object) -> None:
        if isinstance(value, bool) or not isinstance(value, int) or not low <= value <= high:
            raise InputError(field, shown(value), "", f"a whole number from {low} to {high}", "enter a whole number")

    return _field(check, default, optional=default is None)


def one_of(*words: str, default: Any = dataclasses.MISSING) -> Any:
    """One of these words."""

    def check(field: str, value: object) -> None:
        if value not in words:
            raise InputError(field, shown(value), "", f"one of {', '.join(words)}", "take one of these words")

    return _field(check, default, words=words)


def moment() -> Any:
    """A moment with its time zone; now where none is given."""

    def check(field: str, value: object) -> None:
        if not isinstance(value, dt.datetime) or value.tzinfo is None:
            raise InputError(field, shown(value), "", "a date and time with its zone", "write 2031-03-01T08:30+01:00")

    return dataclasses.field(metadata={"check": check}, default_factory=now)


def day(default: Any = None) -> Any:
    """A calendar day, or none."""

    def check(field: str, value: object) -> None:
        if not isinstance(value, dt.date) or isinstance(value, dt.datetime):
            raise InputError(field, shown(value), "", "a day", "write it as 2031-03-01")

    return _field(check, default, optional=True)


def numbers() -> Any:
    """A row of finite numbers."""

    def check(field: str, value: object) -> None:
        if not isinstance(value, tuple) or len(value) > 100_000:
            raise InputError(field, shown(value), "", "at most 100000 numbers", "split it")
        for n, item in enumerate(value, 1):
            require_range(f"{field}[{n}]", item, -1e9, 1e9)

    return _field(check, ())


def words() -> Any:
    """A row of short texts."""

    def check(field: str, value: object) -> None:
        if not isinstance(value, tuple) or len(value) > 10_000:
            raise InputError(field, shown(value), "", "at most 10000 texts", "split it")
        for n, item in enumerate(value, 1):
            checked_text(f"{field}[{n}]", item, 1, 200)

    return _field(check, ())


def pairs() -> Any:
    """Names with numbers or texts."""

    def check(field: str, value: object) -> None:
        if not isinstance(value, tuple) or len(value) > 500:
            raise InputError(field, shown(value), "", "at most 500 names with values", "split it")
        for item in value:
            if not isinstance(item, tuple) or len(item) != 2:
                raise InputError(field, shown(item), "", "a name and a value", "write name = value")
            checked_name(f"{field} name", item[0])
            if isinstance(item[1], str):
                checked_text(f"{field}.{item[0]}", item[1])
            else:
                require_range(f"{field}.{item[0]}", item[1], -1e9, 1e9)

    return _field(check, ())
