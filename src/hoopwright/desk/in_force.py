"""What is in force in the records: the liner, what its plan lets expect, its register."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

from hoopwright.design.liner_reading import liner_from_text
from hoopwright.design.register import Register
from hoopwright.design.register import Tool as RegisterTool
from hoopwright.design.shapes import Liner
from hoopwright.errors import InputError
from hoopwright.records import Store
from hoopwright.records.making import Expectation, Tool
from hoopwright.records.material import LinerRevision


def revision_in_force(store: Store, liner: str = "") -> LinerRevision | None:
    """The liner revision in force; of the only liner, or of the one named.

    Raises
    ------
    InputError
        There are several liners and none is named.
    """
    where: dict[str, Any] = {"liner": liner} if liner else {}
    found = [k.thing for k in store.list(LinerRevision, state="in force", **where)]
    names = sorted({r.liner for r in found})
    if len(names) > 1:
        raise InputError("liner", "not named", "", f"one of {', '.join(names)}", "name it")
    return found[-1] if found else None


def liner_in_force(store: Store, liner: str = "") -> Liner | None:
    """The liner in force, or none."""
    revision = revision_in_force(store, liner)
    return None if revision is None else _liner(revision.content, f"{revision.liner} revision {revision.revision}")


@lru_cache(maxsize=8)
def _liner(content: str, name: str) -> Liner:
    return liner_from_text(content, name)


def needed_liner(store: Store, liner: str = "") -> Liner:
    """The liner in force.

    Raises
    ------
    InputError
        There is none.
    """
    found = liner_in_force(store, liner)
    if found is None:
        raise InputError("liner", liner or "none", "", "in the records", "take its file: hoopwright take LINER.toml")
    return found


def expectations(store: Store, ring: str, hit: int | None = None) -> tuple[Expectation, ...]:
    """What the plan in force lets expect of a ring, of one hit or of all."""
    where: dict[str, Any] = {"hit": hit} if hit is not None else {}
    return tuple(k.thing for k in store.list(Expectation, part=ring, state="in force", **where))


def needed_expectations(store: Store, ring: str, hit: int | None = None) -> tuple[Expectation, ...]:
    """The same; InputError where the plan is not in the records."""
    found = expectations(store, ring, hit)
    if not found:
        what = f"expected sizes of {ring}" + (f", hit {hit}" if hit is not None else "")
        raise InputError(what, "none", "", "in the records", "take its plan: hoopwright take FOLDER/plan.json")
    return found


def register_of(store: Store, liner: str) -> Register:
    """The tools of a liner as the register that the rooms below understand."""
    tools = []
    for kept in store.list(Tool, liner=liner):
        tool = kept.thing
        note = tool.note
        if tool.stock_mm is not None and "regrind stock" not in note:
            note = "; ".join(part for part in (note, f"regrind stock {tool.stock_mm:g} mm on radius") if part)
        state = "proven" if tool.state == "worn" else tool.state
        tools.append(
            RegisterTool(tool.id, tool.what, tool.serves, tool.revision, state, tool.hits, tool.stage, note)  # type: ignore[arg-type]
        )
    return Register(liner, False, tuple(tools))
