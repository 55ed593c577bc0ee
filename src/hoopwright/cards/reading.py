"""A card file read: every fault at once, each with its line; then figures with their sources."""

from __future__ import annotations

import hashlib
import re
import tomllib
from collections.abc import Iterable
from dataclasses import replace
from functools import lru_cache
from pathlib import Path
from types import MappingProxyType
from typing import Any

from pydantic import ValidationError

from hoopwright.cards.card import At, Card, CardFigure, CardFlow, CardNote
from hoopwright.cards.checking import meaning_faults
from hoopwright.cards.schema import SCHEMA, AtShape, CardShape, FigureShape, FlowShape, GroundShape, TableShape
from hoopwright.cards.shape_faults import shape_faults
from hoopwright.cards.tables import CardTable
from hoopwright.cards.toml_lines import line_of, locate
from hoopwright.cards.words import WORDS
from hoopwright.errors import Fault, FileFaults
from hoopwright.findings import Source


def read_card(path: Path) -> Card:
    """The card in a file, on its own: what it is based on is not looked up.

    Raises
    ------
    FileFaults
        All faults of the file, each with line, key, value, unit and remedy.
    """
    stat = path.stat()
    return _read(path, stat.st_mtime_ns, stat.st_size)


@lru_cache(maxsize=512)
def _read(path: Path, _changed_ns: int, _size: int) -> Card:
    return card_from_text(path.read_bytes(), str(path))


def card_from_text(content: bytes, name: str) -> Card:
    """The card in the bytes of a file; `name` stands in its faults. Raises FileFaults as `read_card` does."""
    data, text = toml_data(content, name)
    if data.get("schema") != SCHEMA:
        shown = str(data.get("schema", "missing"))
        fault = Fault("schema", shown, "", SCHEMA, f'write schema = "{SCHEMA}" and the keys of docs/cards.md')
        raise FileFaults(name, with_lines([fault], text))
    try:
        shape = CardShape.model_validate(data)
    except ValidationError as problem:
        raise FileFaults(name, with_lines(shape_faults(problem), text)) from None
    faults = list(meaning_faults(shape))
    if faults:
        raise FileFaults(name, with_lines(faults, text))
    return _card(shape, name, hashlib.sha256(content).hexdigest())


def toml_data(content: bytes, name: str) -> tuple[dict[str, Any], str]:
    """Data and text of a TOML file. Raises FileFaults when it is no UTF-8 or no TOML."""
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as problem:
        line = content.count(b"\n", 0, problem.start) + 1
        fault = Fault("text", f"byte {content[problem.start]:#04x}", "", "UTF-8", "save the file as UTF-8", line)
        raise FileFaults(name, [fault]) from None
    text = text.replace("\r\n", "\n")
    try:
        return tomllib.loads(text), text
    except tomllib.TOMLDecodeError as problem:
        found = re.search(r"at line (\d+)", str(problem))
        place = int(found.group(1)) if found else None
        reason = re.sub(r"\s*\(at .*\)$", "", str(problem))
        fault = Fault("text", f"no TOML ({reason})", "", "TOML", "mend this line; quotes, brackets and = first", place)
        raise FileFaults(name, [fault]) from None


def with_lines(faults: Iterable[Fault], text: str) -> list[Fault]:
    """The faults with the line of their key, in the order of the lines."""
    lines = locate(text)
    placed = [replace(fault, line=_line(lines, fault.key)) for fault in faults]
    return sorted(placed, key=lambda fault: fault.line or 0)


def _line(lines: dict[str, int], key: str) -> int | None:
    """Line of a key; a whole figure, table or curve that is missing has none."""
    if key not in lines and key.count(".") == 1 and key.partition(".")[0] in ("figure", "table", "flow"):
        return None
    return line_of(lines, key)


def _card(shape: CardShape, name: str, digest: str) -> Card:
    words = WORDS[shape.kind]
    return Card(
        kind=shape.kind,
        id=shape.id,
        title=shape.title,
        family=shape.family,
        condition=shape.condition,
        range_of_use=shape.range_of_use,
        entered_by=shape.entered_by,
        checked_by=shape.checked_by,
        based_on=shape.based_on,
        path=name,
        digest=digest,
        figures=MappingProxyType({key: _figure(entry) for key, entry in shape.figure.items()}),
        tables=MappingProxyType({key: _table(shape.id, key, entry) for key, entry in shape.table.items()}),
        flows=MappingProxyType({key: _flow(entry) for key, entry in shape.flow.items()}),
        notes=tuple(CardNote(n.about, n.text, Source(n.basis, n.where, n.invented)) for n in shape.note),
        vocabulary=words.figures,
    )


def _source(entry: GroundShape) -> Source:
    return Source(entry.basis, entry.where, entry.invented)


def _at(at: AtShape) -> At:
    return At(at.temperature_degC, at.from_degC, at.to_degC, at.condition)


def _figure(entry: FigureShape) -> CardFigure:
    low, high = entry.range if entry.range is not None else (None, None)
    return CardFigure(entry.value, entry.unit, _source(entry), _at(entry.at), entry.u, low, high, entry.note)


def _table(card: str, name: str, entry: TableShape) -> CardTable:
    row_basis = entry.row_basis or [entry.basis] * len(entry.rows)
    return CardTable(
        card=card,
        name=name,
        columns=tuple(entry.columns),
        units=tuple(entry.units),
        rows=tuple(tuple(row) for row in entry.rows),
        sources=tuple(Source(basis, entry.where, entry.invented) for basis in row_basis),
        condition=str(_at(entry.at)),
        u=tuple(entry.u) if entry.u is not None else None,
        reference_degC=entry.reference_degC,
        note=entry.note,
    )


def _flow(entry: FlowShape) -> CardFlow:
    return CardFlow(
        law=entry.law,
        constants=MappingProxyType(dict(entry.constants)),
        points=tuple((pair[0], pair[1]) for pair in entry.points),
        strain_max_log=entry.strain_max_log,
        source=_source(entry),
        rms_MPa=entry.rms_MPa,
        u=MappingProxyType(dict(entry.u)),
        at=_at(entry.at),
        note=entry.note,
    )
