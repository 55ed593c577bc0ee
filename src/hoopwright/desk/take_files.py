"""Files of the house taken into the records: liner file, plan, register, readings; each whole or not at all."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from hoopwright.correct.change import STOCK
from hoopwright.design.liner_reading import read_liner
from hoopwright.design.liner_writing import write_liner
from hoopwright.design.mark import input_mark
from hoopwright.design.register import read_register
from hoopwright.desk.record_book import records, writer_or_default
from hoopwright.desk.take_plan import take_plan
from hoopwright.desk.take_readings import take_readings
from hoopwright.errors import InputError
from hoopwright.records import Store, Writing
from hoopwright.records.making import Expectation, Tool
from hoopwright.records.material import LinerRevision, digest_of

MOST_BYTES = 8_000_000


@dataclass(frozen=True, slots=True)
class Taken:
    """What was taken from a file: its kind, and in words how many of what."""

    file: str
    holds: str
    said: tuple[str, ...]


def take(
    address: str | Path | None, file: Path, by: str | None, why: str = "", shop_folder: Path | None = None
) -> Taken:
    """Take a file of the house into the records; which of them it is says its own `schema`.

    Raises
    ------
    InputError
        It is none of them, or breaks a rule; then nothing of it is taken.
    """
    schema = _schema(file)
    takers: dict[str, Callable[[Store, Writing, Path, Path | None], tuple[str, ...]]] = {
        "hoopwright-liner": _take_liner,
        "hoopwright-register": _take_register,
        "hoopwright-readings": take_readings,
        "hoopwright-plan": take_plan,
    }
    word = schema.rpartition("-")[0]
    if word == "hoopwright-changes":
        raise InputError("file", str(file), "", "taken by `change`", f"run: hoopwright change {file}")
    if word not in takers:
        must = f"a file whose schema is one of {', '.join(takers)}"
        raise InputError("file", str(file), "", must, "readings as tables (CSV, XLSX) are taken by `read`")
    with (
        records(address, create=True) as store,
        store.writing(writer_or_default(by), why or f"taken: {file.name}") as w,
    ):
        return Taken(str(file), word.removeprefix("hoopwright-"), takers[word](store, w, file, shop_folder))


def _schema(file: Path) -> str:
    try:
        size = file.stat().st_size
    except OSError as problem:
        raise InputError("file", str(file), "", f"readable ({problem.strerror})", "name the right file") from None
    if size > MOST_BYTES:
        raise InputError("file", str(file), "", f"at most {MOST_BYTES} bytes", "name the right file")
    try:
        text = file.read_text(encoding="utf-8-sig")
        data = json.loads(text) if file.suffix.lower() == ".json" else tomllib.loads(text)
    except OSError as problem:
        raise InputError("file", str(file), "", f"readable ({problem.strerror})", "name the right file") from None
    except (ValueError, RecursionError):
        raise InputError("file", str(file), "", "a TOML or JSON file of hoopwright", "name the right file") from None
    return str(data.get("schema", "")) if isinstance(data, dict) else ""


def _take_liner(store: Store, write: Writing, file: Path, shop_folder: Path | None) -> tuple[str, ...]:
    liner = read_liner(file, shop_folder)
    content = write_liner(liner)
    identity = digest_of(content)
    there = write.find(LinerRevision, identity)
    if there is not None:
        return (f"{liner.id} revision {liner.revision} is in the records already ({there.thing.state})",)
    older = [k for k in store.list(LinerRevision, liner=liner.id) if k.thing.state != "superseded"]
    if any(k.thing.revision == liner.revision for k in older):
        must = "a new one: this revision is in the records with other content"
        raise InputError("liner.revision", liner.revision, "", must, "give the changed file a new revision letter")
    said = [f"{liner.id} revision {liner.revision} is in force"]
    for kept in older:
        write.change(kept, state="superseded")
        said.append(f"revision {kept.thing.revision} is superseded")
    stale = store.list(Expectation, liner=liner.id, state="in force")
    for expectation in stale:
        write.change(expectation, state="superseded")
    if stale:
        said.append(f"{len(stale)} expected sizes of the older plan are superseded: take the new plan")
    mark = input_mark(liner)
    write.add(
        LinerRevision(
            id=identity, liner=liner.id, revision=liner.revision, content=content, mark=mark, state="in force"
        )
    )
    return tuple(said)


def _take_register(store: Store, write: Writing, file: Path, _: Path | None) -> tuple[str, ...]:
    register = read_register(file)
    new = changed = 0
    for tool in register.tools:
        stock = STOCK.search(tool.note)
        values: dict[str, Any] = {
            "what": tool.kind, "serves": tool.serves, "revision": tool.revision, "state": tool.state,
            "hits": tool.hits, "stage": tool.stage, "note": tool.note,
            "stock_mm": float(stock.group(1)) if stock else None,
        }  # fmt: skip
        there = store.find(Tool, tool.id)
        if there is None:
            write.add(Tool(id=tool.id, liner=register.liner, **values))
            new += 1
        elif write.change(there, **values).version != there.version:
            changed += 1
    return (f"{new} tools entered, {changed} changed, {len(register.tools) - new - changed} as they were",)
