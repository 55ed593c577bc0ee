"""Small tables as CSV files: a head with the names of the columns, numbers in the cells, every fault with its line."""

from __future__ import annotations

import csv
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Final

from hoopwright.errors import Fault, FileFaults, InputError

REMEDY: Final = "write the names of the columns in the first row, a number in every cell"
MOST_BYTES: Final = 1_000_000
YES: Final = ("1", "yes", "true")
NO: Final = ("", "0", "no", "false")

Row = tuple[int, Mapping[str, str]]


def table_rows(path: Path, columns: Sequence[str], more: Sequence[str] = ()) -> list[Row]:
    """Rows of a file with their line; `more` are columns that may be left out.

    Raises
    ------
    InputError
        A file that cannot be read, or is far too long for such a table.
    FileFaults
        Columns missing or not known.
    """
    try:
        if path.stat().st_size > MOST_BYTES:
            raise InputError("file", str(path), "", f"at most {MOST_BYTES} bytes", "keep one seam's readings in it")
        text = path.read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError) as problem:
        must = f"a readable text file ({type(problem).__name__})"
        raise InputError("file", str(path), "", must, "name another") from None
    reader = csv.DictReader(text.splitlines())
    head = [(name or "").strip() for name in reader.fieldnames or ()]
    missing = [c for c in columns if c not in head]
    strange = [c for c in head if c not in (*columns, *more)]
    if missing or strange:
        said = f"without {', '.join(missing)}" if missing else f"with {', '.join(strange)}"
        must = ", ".join((*columns, *(f"{m} (may be left out)" for m in more)))
        raise FileFaults(str(path), [Fault("head", said, "", must, REMEDY, 1)])
    return [
        (reader.line_num, {(k or "").strip(): v or "" for k, v in row.items() if isinstance(v, str | None)})
        for row in reader
        if any(isinstance(v, str) and v.strip() for v in row.values())
    ]


def numbers(row: Mapping[str, str], columns: Sequence[str], line: int, faults: list[Fault]) -> list[float]:
    """Numbers of some columns; what is none is added to the faults and left out."""
    found = []
    for column in columns:
        try:
            number = float(row.get(column, ""))
        except ValueError:
            number = float("nan")
        if number - number != 0.0:
            faults.append(Fault(column, repr(row.get(column, "")), "", "a finite number", REMEDY, line))
        else:
            found.append(number)
    return found


def flag(row: Mapping[str, str], column: str, line: int, faults: list[Fault]) -> bool:
    """A yes or no of a column; empty is no."""
    word = row.get(column, "").strip().lower()
    if word not in YES and word not in NO:
        faults.append(Fault(column, repr(word), "", "1 or 0, yes or no", "write 1 where it is so", line))
    return word in YES
