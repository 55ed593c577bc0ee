"""A file of readings as rows of text: CSV, TSV or XLSX, with everything that can be wrong before a number is read."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from hoopwright.errors import Fault, FileFaults
from hoopwright.measure.xlsx_grid import first_sheet

SIZE_LIMIT_MB = 8
ROW_LIMIT = 100_000
COLUMN_LIMIT = 200
SUFFIXES = (".csv", ".tsv", ".txt", ".xlsx")


@dataclass(frozen=True, slots=True)
class Row:
    """line : where it stands in the file, from 1. cells : as text, without surrounding blanks."""

    line: int
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Grid:
    """name of the file, its rows without the empty ones, and how numbers are written in it ("." or "," or "")."""

    name: str
    rows: tuple[Row, ...]
    separator: str


def refused(name: str, value: str, must: str, remedy: str, key: str = "file", line: int | None = None) -> FileFaults:
    """One fault as an error of the whole file."""
    return FileFaults(name, [Fault(key, value, "", must, remedy, line)])


def column_letter(index: int) -> str:
    """Spreadsheet letter of a column, 0 for A.

    >>> column_letter(0), column_letter(25), column_letter(27)
    ('A', 'Z', 'AB')
    """
    letters = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, 26)
        letters = chr(65 + rest) + letters
    return letters


def read_grid(source: Path | bytes, name: str = "") -> Grid:
    """Rows of a file (a path) or of its content.

    Raises
    ------
    FileFaults
        Not there, a folder, empty, too large, of another kind, not UTF-8, no table; line and column where there are
        any.
    """
    if isinstance(source, Path):
        return _from_bytes(_content(source), name or source.name)
    return _from_bytes(source, name or "readings")


def _content(path: Path) -> bytes:
    name = path.name
    if path.suffix.lower() not in SUFFIXES:
        kind = path.suffix or "no ending"
        raise refused(name, kind, "one of " + ", ".join(SUFFIXES), "save it as CSV or XLSX", "kind of file")
    if path.is_dir():
        raise refused(name, "a folder", "a file", "name a file in it")
    try:
        size = path.stat().st_size
        if size > SIZE_LIMIT_MB * 1_000_000:
            raise refused(name, f"{size / 1e6:.1f} MB", f"at most {SIZE_LIMIT_MB} MB", "split it, or check the file")
        return path.read_bytes()
    except FileNotFoundError:
        raise refused(name, "missing", "there", "check the name and the folder") from None
    except OSError as problem:
        raise refused(name, f"not readable ({problem.strerror})", "readable", "check permissions") from None


def _from_bytes(content: bytes, name: str) -> Grid:
    if len(content) > SIZE_LIMIT_MB * 1_000_000:
        raise refused(
            name, f"{len(content) / 1e6:.1f} MB", f"at most {SIZE_LIMIT_MB} MB", "split it, or check the file"
        )
    if not content.strip(b"\xef\xbb\xbf \t\r\n,;"):
        raise refused(name, "empty", "filled in", "export the readings again")
    if content.startswith(b"PK\x03\x04"):
        rows = first_sheet(content, name, ROW_LIMIT, COLUMN_LIMIT)
        return Grid(name, tuple(Row(line, cells) for line, cells in rows), "sheet")
    if content.startswith(b"\xd0\xcf\x11\xe0"):
        raise refused(name, "an old binary workbook (XLS)", "CSV or XLSX", "save it again as XLSX", "kind of file")
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise refused(name, "UTF-16", "UTF-8", "export it as CSV UTF-8", "encoding")
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as problem:
        line = content[: problem.start].count(b"\n") + 1
        byte = f"byte 0x{content[problem.start]:02x}"
        raise refused(name, byte, "UTF-8", "export it as CSV UTF-8", "encoding", line) from None
    if "\x00" in text:
        line = text[: text.index("\x00")].count("\n") + 1
        raise refused(name, "a null byte", "text", "export the readings as CSV", "encoding", line)
    return _from_text(text, name)


def _from_text(text: str, name: str) -> Grid:
    separator = _separator(text)
    rows: list[Row] = []
    reader = csv.reader(io.StringIO(text), delimiter=separator, strict=True)
    try:
        before = 0
        for cells in reader:
            line, before = before + 1, reader.line_num
            kept = tuple(cell.strip() for cell in cells)
            if not any(kept) or kept[0].startswith("#"):
                continue
            if len(kept) > COLUMN_LIMIT:
                raise refused(
                    name, f"{len(kept)} columns", f"at most {COLUMN_LIMIT}", "check the separator", "row", line
                )
            rows.append(Row(line, kept))
            if len(rows) > ROW_LIMIT:
                raise refused(name, f"over {ROW_LIMIT} rows", f"at most {ROW_LIMIT}", "split the file", "rows", line)
    except csv.Error as problem:
        remedy = "close the quotation mark, or take it out"
        raise refused(name, f"not readable ({problem})", "a table", remedy, "row", reader.line_num + 1) from None
    if not rows:
        raise refused(name, "only comments", "filled in", "export the readings again")
    return Grid(name, tuple(rows), separator)


def _separator(text: str) -> str:
    """The separator of the first row that is no comment: tab, then semicolon, then comma."""
    for line in text.splitlines():
        if line.strip() and not line.lstrip().startswith("#"):
            counts: list[tuple[str, Callable[[str], int]]] = [("\t", line.count), (";", line.count)]
            for separator, count in counts:
                if count(separator):
                    return separator
            return ","
    return ","
