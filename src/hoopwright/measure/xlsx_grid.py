"""The first sheet of an XLSX workbook as text cells, by the standard library alone.

Guards: no document type declarations (entity bombs), a ceiling on what the archive unpacks to, no outside links
followed, formulas only by the value the spreadsheet program stored, dates and errors refused by cell.
"""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Iterator
from xml.etree import ElementTree

from hoopwright.errors import Fault, FileFaults

UNPACKED_LIMIT_MB = 64
MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
REL = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}"
PACKAGE = "{http://schemas.openxmlformats.org/package/2006/relationships}"
CELL = re.compile(r"^([A-Z]{1,3})([0-9]{1,7})$")


def _refused(
    name: str, value: str, must: str, remedy: str, key: str = "workbook", line: int | None = None
) -> FileFaults:
    return FileFaults(name, [Fault(key, value, "", must, remedy, line)])


def first_sheet(content: bytes, name: str, most_rows: int, most_columns: int) -> list[tuple[int, tuple[str, ...]]]:
    """(row number, cells) of the first sheet, empty rows left out.

    Raises
    ------
    FileFaults
        No workbook, broken, password kept, too large when unpacked, or a cell that holds no plain value.
    """
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as archive:
            if sum(item.file_size for item in archive.infolist()) > UNPACKED_LIMIT_MB * 1_000_000:
                raise _refused(
                    name, "too large when unpacked", f"at most {UNPACKED_LIMIT_MB} MB", "keep one sheet only"
                )
            parts = {item.filename for item in archive.infolist()}
            if "xl/workbook.xml" not in parts:
                raise _refused(name, "a ZIP archive", "an XLSX workbook", "save the readings as XLSX or CSV")
            sheet = _sheet_part(archive, name)
            strings = list(_strings(archive, name)) if "xl/sharedStrings.xml" in parts else []
            tree = _xml(archive, sheet, name)
    except (zipfile.BadZipFile, KeyError, EOFError, OSError, RuntimeError) as problem:
        reason = type(problem).__name__
        raise _refused(
            name, f"broken ({reason})", "a whole XLSX workbook", "save it again, without a password"
        ) from None
    return _rows(tree, strings, name, most_rows, most_columns)


def _xml(archive: zipfile.ZipFile, part: str, name: str) -> ElementTree.Element:
    with archive.open(part) as file:
        data = file.read(UNPACKED_LIMIT_MB * 1_000_000 + 1)
    if len(data) > UNPACKED_LIMIT_MB * 1_000_000:
        raise _refused(name, "too large when unpacked", f"at most {UNPACKED_LIMIT_MB} MB", "keep one sheet only")
    if b"<!DOCTYPE" in data or b"<!ENTITY" in data:
        raise _refused(name, "with a document type declaration", "plain XLSX", "save it again from the spreadsheet")
    try:
        return ElementTree.fromstring(data)
    except ElementTree.ParseError:
        raise _refused(name, f"broken in {part}", "a whole XLSX workbook", "save it again") from None


def _sheet_part(archive: zipfile.ZipFile, name: str) -> str:
    book = _xml(archive, "xl/workbook.xml", name)
    sheet = book.find(f"{MAIN}sheets/{MAIN}sheet")
    if sheet is None:
        raise _refused(name, "without a sheet", "one sheet of readings", "put the readings on the first sheet")
    wanted = sheet.get(f"{REL}id")
    for relation in _xml(archive, "xl/_rels/workbook.xml.rels", name).iter(f"{PACKAGE}Relationship"):
        if relation.get("Id") == wanted:
            target = (relation.get("Target") or "").lstrip("/")
            return target if target.startswith("xl/") else "xl/" + target
    raise _refused(name, "without its first sheet", "one sheet of readings", "save it again")


def _strings(archive: zipfile.ZipFile, name: str) -> Iterator[str]:
    for item in _xml(archive, "xl/sharedStrings.xml", name).iter(f"{MAIN}si"):
        yield "".join(text.text or "" for text in item.iter(f"{MAIN}t"))


def _rows(
    tree: ElementTree.Element, strings: list[str], name: str, most_rows: int, most_columns: int
) -> list[tuple[int, tuple[str, ...]]]:
    found: list[tuple[int, tuple[str, ...]]] = []
    line = 0
    for row in tree.iter(f"{MAIN}row"):
        line = int(row.get("r") or line + 1)
        cells: list[str] = []
        for cell in row.iter(f"{MAIN}c"):
            place = CELL.match(cell.get("r") or "")
            index = _index(place.group(1)) if place else len(cells)
            if index >= most_columns:
                raise _refused(name, f"column {cell.get('r')}", f"within {most_columns} columns", "keep the table only")
            cells += [""] * (index - len(cells))
            cells.append(_text(cell, strings, name, line))
        if any(cells) and not cells[0].startswith("#"):
            found.append((line, tuple(cells)))
        if len(found) > most_rows:
            raise _refused(name, f"over {most_rows} rows", f"at most {most_rows}", "split the file", "rows", line)
    if not found:
        raise _refused(name, "empty", "filled in", "put the readings on the first sheet", "first sheet")
    return found


def _index(letters: str) -> int:
    index = 0
    for letter in letters:
        index = 26 * index + ord(letter) - 64
    return index - 1


def _text(cell: ElementTree.Element, strings: list[str], name: str, line: int) -> str:
    kind, value = cell.get("t", "n"), cell.findtext(f"{MAIN}v")
    place = f"cell {cell.get('r') or line}"
    if kind == "inlineStr":
        return "".join(text.text or "" for text in cell.iter(f"{MAIN}t")).strip()
    if value is None or (value.strip() == "" and kind != "s"):
        # some programs write an empty value beside a formula that was never worked out
        if cell.find(f"{MAIN}f") is not None:
            raise _refused(name, "a formula without a value", "a number", "paste values, then save", place, line)
        return ""
    if kind == "s":
        if not value.isdigit() or int(value) >= len(strings):
            raise _refused(name, "a text that is not there", "a value", "save the workbook again", place, line)
        return strings[int(value)].strip()
    if kind == "e":
        raise _refused(name, f"a spreadsheet fault {value}", "a number", "mend the formula", place, line)
    if kind == "b":
        raise _refused(name, "true or false", "a number or a word", "write it out", place, line)
    return value.strip()
