"""Everything as open files: one CSV a kind, one JSON of all, and the journal. A cell that a spreadsheet would take for
a formula is put behind an apostrophe in CSV; the JSON has it as it was written."""

from __future__ import annotations

import csv
import datetime as dt
import io
import json
from typing import Any

import sqlalchemy as sa

from hoopwright.records.store import Store
from hoopwright.records.tables import JOURNAL, TABLES

FORMULA_SIGNS = ("=", "+", "-", "@", "\t", "\r", "\n")


def harmless(value: Any) -> str:
    """A cell of a CSV: numbers as they are, text so that no spreadsheet runs it."""
    if value is None:
        return ""
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        text = _as_text(value)
        return f"'{text}" if text.lstrip(" ").startswith(FORMULA_SIGNS) else text
    return repr(value)


def _as_text(value: Any) -> str:
    if isinstance(value, str):
        return value
    if isinstance(value, (dt.datetime, dt.date)):
        return _moment(value)
    return json.dumps(value, ensure_ascii=False)


def _moment(value: object) -> str:
    if isinstance(value, (dt.datetime, dt.date)):
        return value.isoformat()
    raise TypeError(type(value))


def csv_bytes(columns: list[str], rows: list[Any]) -> bytes:
    """A CSV with a heading, UTF-8 with its mark so that spreadsheets read it right."""
    sheet = io.StringIO()
    writer = csv.writer(sheet, lineterminator="\r\n")
    writer.writerow(columns)
    writer.writerows([[harmless(row[name]) for name in columns] for row in rows])
    return sheet.getvalue().encode("utf-8-sig")


def everything(store: Store) -> dict[str, bytes]:
    """Files by name: `KIND.csv` of each kind, `journal.csv`, and `records.json` with all of it."""
    files: dict[str, bytes] = {}
    whole: dict[str, list[dict[str, Any]]] = {}
    with store.reading() as connection:
        for table in (*TABLES.values(), JOURNAL):
            rows = [dict(row) for row in connection.execute(sa.select(table).order_by(table.c.seq)).mappings()]
            files[f"{table.name}.csv"] = csv_bytes([column.name for column in table.columns], rows)
            whole[table.name] = rows
    text = json.dumps(whole, default=_moment, indent=1, ensure_ascii=False, allow_nan=False)
    files["records.json"] = (text + "\n").encode()
    return files
