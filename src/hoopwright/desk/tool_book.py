"""The tool register from the records: where each tool is and in which state, and what may go on the press."""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass
from pathlib import Path

from hoopwright.desk.record_book import records, writer_or_default
from hoopwright.errors import InputError
from hoopwright.findings import Finding
from hoopwright.records import Store
from hoopwright.records.making import Operation, Part, Tool


@dataclass(frozen=True, slots=True)
class ToolShown:
    """A tool with what hangs on it. serials : parts made with it. refusal : why it does not go on a machine."""

    tool: Tool
    version: int
    changed_by: str
    changed_at: str
    serials: tuple[str, ...]
    refusal: Finding | None


def refusal(store: Store, tool_id: str, ring: str = "") -> Finding | None:
    """Why a tool does not go on the press; none where it may.

    Raises
    ------
    InputError
        There is no such tool in the records.
    """
    tool = store.get(Tool, tool_id).thing
    alike = [k.thing for k in store.list(Tool, what=tool.what, serves=tool.serves) if not k.thing.dead]
    live = tool.replaced_by or next((t.id for t in alike if t.state in ("proven", "trial")), "")
    remedy = f"take {live}" if live else "ask which tool takes its place"
    if tool.dead:
        sentence = f"{tool.what} {tool.id} is {tool.state}: it does not go on the press."
        return Finding("stop", sentence, remedy, tool_id, "tool-superseded", tool.note)
    if tool.state in ("in design", "in making"):
        sentence = f"{tool.what} {tool.id} is {tool.state}: it is not ready for the press."
        return Finding("stop", sentence, f"wait until it is on trial ({tool.stage})" if tool.stage else remedy,
                       tool_id, "tool-not-ready")  # fmt: skip
    if ring and tool.serves not in (ring, "all rings"):
        right = next((k.id for k in store.list(Tool, what=tool.what, serves=ring) if not k.thing.dead), "")
        sentence = f"{tool.what} {tool.id} is for {tool.serves}, not for {ring}."
        remedy = f"take {right}" if right else "read the number on the tool"
        return Finding("stop", sentence, remedy, tool_id, "tool-of-another-ring")
    return None


def register(address: str | Path | None, live_only: bool = False) -> tuple[ToolShown, ...]:
    """Every tool, in order of its number."""
    with records(address) as store:
        found = sorted(store.list(Tool), key=lambda k: k.id)
        return tuple(
            ToolShown(k.thing, k.version, k.changed_by, k.changed_at.isoformat(), (), None)
            for k in found
            if not (live_only and k.thing.dead)
        )


def tool(address: str | Path | None, tool_id: str, ring: str = "") -> ToolShown:
    """One tool with the serials made on it, and whether it may go on the press for a ring."""
    with records(address) as store:
        kept = store.get(Tool, tool_id)
        made = dict.fromkeys(k.thing.serial for k in store.list(Operation, tool=tool_id))
        found = refusal(store, tool_id, ring)
        return ToolShown(
            kept.thing, kept.version, kept.changed_by, kept.changed_at.isoformat(), tuple(made), found
        )  # fmt: skip


def confirm_set(address: str | Path | None, tool_id: str, serial: str) -> Finding | None:
    """What the press asks before a hit: may this set (number read off its label) stretch this serial?"""
    with records(address) as store:
        part = store.get(Part, serial).thing
        return refusal(store, tool_id, part.part)


def supersede(address: str | Path | None, tool_id: str, by: str | None, why: str, replaced_by: str = "") -> ToolShown:
    """Mark a tool superseded; its papers and the press say so from then on.

    Raises
    ------
    InputError
        No reason is given, or the tool that takes its place is not in the records.
    """
    if not why.strip():
        raise InputError("--why", "empty", "", "the reason in words", "say why the tool is superseded")
    with records(address) as store:
        kept = store.get(Tool, tool_id)
        with store.writing(writer_or_default(by), why) as write:
            values = {"replaced_by": replaced_by} if replaced_by else {}
            changed = write.change(kept, state="superseded", **values)
        shown = ToolShown(changed.thing, changed.version, changed.changed_by, changed.changed_at.isoformat(), (), None)
        return dataclasses.replace(shown, refusal=refusal(store, tool_id))
