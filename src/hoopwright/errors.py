"""The one error tree.

HoopwrightError
├── InputError (ValueError)      a value is not what it must be; says which, in which unit, and what to do
│   ├── GeometryError            a contour cannot be what it is asked to be (offset through itself, a kink)
│   └── FileFaults               every fault found in one file, together
├── CardError (LookupError)      a card or a figure on it is not there; lists what is
├── RangeError (ValueError)      a table was asked outside its range
├── NotConverged (RuntimeError)  a solver stopped short; carries its last state
└── StoreError (RuntimeError)    the records cannot be opened, read or written
    └── Overtaken                a record was changed by someone else since it was read

A part out of tolerance is never an error: it is a `Finding`.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any


class HoopwrightError(Exception):
    """Root of everything this program raises on purpose."""


class InputError(HoopwrightError, ValueError):
    """A value is not what it must be.

    Parameters
    ----------
    field : str
        Name of the value, as the person wrote it (`ring[1].thickness_mm`).
    value : object
        What was given.
    unit : str
        Unit of the value; "" where there is none.
    must : str
        What it must be ("above 0 and at most 5").
    remedy : str
        What to do about it, as an instruction.
    """

    def __init__(self, field: str, value: object, unit: str, must: str, remedy: str = "") -> None:
        self.field, self.value, self.unit, self.must, self.remedy = field, value, unit, must, remedy
        shown = f"{value} {unit}".strip() or '""'
        super().__init__(f"{field} is {shown}; it must be {must}." + (f" Do: {remedy}" if remedy else ""))


class GeometryError(InputError):
    """A contour cannot be what it is asked to be."""


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong in a file: where it stands, what was read, what would be accepted, what to do."""

    key: str
    value: str
    unit: str
    must: str
    remedy: str
    line: int | None = None

    def __str__(self) -> str:
        place = f"line {self.line}: " if self.line is not None else ""
        shown = f"{self.value} {self.unit}".strip()
        return f"{place}{self.key} is {shown}; it must be {self.must}. Do: {self.remedy}"


class FileFaults(InputError):
    """Every fault of one file at once (`faults`), so that a person mends it in one sitting."""

    def __init__(self, path: str, faults: Iterable[Fault]) -> None:
        self.path = path
        self.faults: tuple[Fault, ...] = tuple(faults)
        count = len(self.faults)
        super().__init__(path, f"faulty in {count} place{'s' if count != 1 else ''}", "", "free of faults", "mend each")
        self.args = (
            "\n".join([f"{path}: {count} fault{'s' if count != 1 else ''}"] + [f"  {f}" for f in self.faults]),
        )


class CardError(HoopwrightError, LookupError):
    """A card, or a figure on a card, is not there; the message lists what is there."""


class RangeError(HoopwrightError, ValueError):
    """A table was asked outside its range; extrapolation must be asked for by name."""


class NotConverged(HoopwrightError, RuntimeError):
    """A solver stopped short. `last_state` holds what it had, `remedy` what to try."""

    def __init__(self, message: str, last_state: Any = None, remedy: str = "") -> None:
        self.last_state, self.remedy = last_state, remedy
        super().__init__(message + (f" Do: {remedy}" if remedy else ""))


class StoreError(HoopwrightError, RuntimeError):
    """The records cannot be opened, read or written: what is so, and what to do. Nothing was written."""

    def __init__(self, message: str, remedy: str) -> None:
        self.remedy = remedy
        super().__init__(f"{message} Do: {remedy}")


class Overtaken(StoreError):
    """A record was changed by someone else since it was read; `record` names it, `theirs` is the version there now."""

    def __init__(self, record: str, yours: int, theirs: int, who: str, what: str) -> None:
        self.record, self.yours, self.theirs, self.who, self.what = record, yours, theirs, who, what
        super().__init__(
            f"{record} was changed by {who} meanwhile: it is at version {theirs}, yours was {yours}"
            + (f" ({what})." if what else "."),
            "look at it again, then repeat your change; nothing was written",
        )


def require_finite(field: str, value: float, unit: str = "") -> float:
    """Return `value` as float; refuse NaN, infinity, truth values and anything that is no number."""
    if isinstance(value, bool) or (not isinstance(value, (int, float)) and not hasattr(value, "__float__")):
        raise InputError(field, value, unit, "a number", "enter a number")
    number = float(value)
    if not math.isfinite(number):
        raise InputError(field, value, unit, "a finite number", "enter a finite number")
    return number


def require_positive(field: str, value: float, unit: str = "") -> float:
    """Return `value` as float; refuse everything that is not above zero."""
    number = require_finite(field, value, unit)
    if number <= 0.0:
        raise InputError(field, value, unit, "above 0", "enter a value above 0")
    return number


def require_range(field: str, value: float, low: float, high: float, unit: str = "") -> float:
    """Return `value` as float; refuse everything outside `low` to `high`, both allowed."""
    number = require_finite(field, value, unit)
    if not low <= number <= high:
        raise InputError(field, value, unit, f"from {low:g} to {high:g}", "enter a value inside this range")
    return number
