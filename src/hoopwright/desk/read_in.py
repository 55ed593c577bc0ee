"""Readings into the records, typed or from a table (CSV, TSV, XLSX). Of a faulty file nothing is stored."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

from hoopwright.desk.hardness import received
from hoopwright.desk.in_force import expectations
from hoopwright.desk.read_place import About, Place, ReadIn
from hoopwright.desk.record_book import records, value_from, writer_or_default
from hoopwright.errors import InputError
from hoopwright.measure.kinds import kind
from hoopwright.measure.table import Readings, read_readings_file
from hoopwright.records import Store
from hoopwright.records.making import Part
from hoopwright.records.material import Sheet, SourceFile, digest_of

OTHER_KINDS = ("loaded", "bead", "mismatch", "height", "load", "profile")
"""Kinds of single numbers that come typed only."""

ROUND_THE_RING = ("roundness", "diameters", "trace")
"""Kinds whose rows belong together: one reading with a series."""

NEAR = 0.06
"""How far a girth may lie off the expected size, as a share, before it is taken for a slip of the pen."""


def read_file(address: str | Path | None, what: str, file: Path, about: About, by: str | None) -> ReadIn:
    """Take a table of readings.

    Raises
    ------
    FileFaults
        Every fault with line and column; nothing is stored. InputError: the file was taken before.
    """
    wanted = kind(what)
    with records(address, create=True) as store:
        expected = _expected_range(store, about) if what == "girth" else None
        table = read_readings_file(file, wanted.name, file.name, expected)
        content = file.read_bytes()
        digest = digest_of(content)
        with store.writing(writer_or_default(by), f"read: {file.name}") as write:
            there = write.find(SourceFile, digest)
            if there is not None:
                when = f"{there.entered_at:%Y-%m-%d %H:%M} by {there.entered_by}"
                raise InputError("file", file.name, "", f"new; it was taken {when}", "name the file of new readings")
            place = Place(store, write, about)
            write.add(SourceFile(id=digest, name=file.name[:255], size_bytes=len(content), holds=what, rows=len(table)))
            made = [place.reading(file=digest, **row) for row in _rows(what, table)]
            found = place.stored(what, made, table.notes)
        return _with_hardness(store, found, about)


def read_typed(
    address: str | Path | None, what: str, values: Sequence[tuple[str, str]], about: About, by: str | None
) -> ReadIn:
    """Take readings as typed: (place or size, value), decimal commas are fine.

    Raises
    ------
    InputError
        Not a number, or far off what it can be.
    """
    unit = _unit(what)
    if about.replaces and len(values) != 1:
        raise InputError("--replaces", about.replaces, "", "given with one reading", "type the one that corrects it")
    if not values:
        raise InputError("readings", "none", "", "one or more, as lip_od=247.48", "type place=value")
    with records(address, create=True) as store:
        limits = _expected_range(store, about) if what == "girth" else None
        rows = []
        for name, said in values:
            number = value_from("reading", "value", said)
            if number is None:
                raise InputError(name, "empty", unit, "a number", "type the reading")
            if limits is not None:
                low, high = limits["diameter_mm"]
                if not low <= number <= high:
                    must = f"from {low:.1f} to {high:.1f}, near what the plan expects"
                    raise InputError(name, number, unit, must, "look at the tape again; enter it as read")
            rows.append({"what": what, "characteristic": name, "unit": unit, "value": number})
        with store.writing(writer_or_default(by), f"typed: {what}") as write:
            place = Place(store, write, about)
            found = place.stored(what, [place.reading(**row) for row in rows], ())
        return _with_hardness(store, found, about)


def _with_hardness(store: Store, found: ReadIn, about: About) -> ReadIn:
    """Hardness held against the other casts, once it is stored."""
    if found.what != "hardness" or about.of not in ("serial", "sheet"):
        return found
    of = store.find(Sheet, about.subject) if about.of == "sheet" else store.find(Part, about.subject)
    if of is None or of.thing.cast is None:
        return found
    more = received(store, of.thing.cast, about.subject)
    return dataclasses.replace(found, findings=(*found.findings, *more))


def _unit(what: str) -> str:
    if what in OTHER_KINDS:
        return "N" if what == "load" else "mm"
    columns = [c for c in kind(what).columns if not c.word]
    if what in ROUND_THE_RING or what == "coordinates":
        raise InputError("kind of reading", what, "", "one that has one number a place", "give it as a file")
    return columns[0].unit


def _expected_range(store: Store, about: About) -> Mapping[str, tuple[float, float]] | None:
    ring = about.ring or _ring_of(store, about)
    sizes = [e.free_mm for e in expectations(store, ring)] if ring else []
    if not sizes:
        return None
    return {"diameter_mm": ((1.0 - NEAR) * min(sizes), (1.0 + NEAR) * max(sizes))}


def _ring_of(store: Store, about: About) -> str:
    part = store.find(Part, about.subject) if about.of == "serial" else None
    return "" if part is None else part.thing.part


def _rows(what: str, table: Readings) -> Iterator[dict[str, Any]]:
    """Rows of a table as fields of readings; kinds that go round a ring make one reading with a series."""
    plain = [c for c in kind(what).columns if not c.word and c.name in table.numbers]
    names = [c.name for c in plain]
    if what in ROUND_THE_RING:
        series = tuple(v for n in range(len(table)) for v in (table.numbers[name][n] for name in names))
        yield {
            "what": what, "characteristic": what, "unit": plain[-1].unit, "series": series,
            "more": (("columns", " ".join(names)),),
        }  # fmt: skip
        return
    word = next(c.name for c in kind(what).columns if c.word)
    for n, line in enumerate(table.lines):
        row: dict[str, Any] = {"what": what, "characteristic": table.words[word][n], "line": line}
        if what == "coordinates":
            series = tuple(table.numbers[name][n] for name in names)
            yield {**row, "unit": "mm", "series": series, "more": (("columns", " ".join(names)),)}
            continue
        row |= {"unit": plain[0].unit, "value": table.numbers[names[0]][n]}
        yield row | {name: table.numbers[name][n] for name in names[1:]}


__all__ = ["About", "ReadIn", "read_file", "read_typed"]
