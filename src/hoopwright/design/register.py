"""The tool register as a file, schema `hoopwright-register-1`: which tools there are, for what, in which state."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Literal

from pydantic import Field

from hoopwright.design.file_types import Count, Name, Said, Table, Text, key
from hoopwright.design.mapping import as_shape, as_table
from hoopwright.design.plain_reading import opened_from, refuse, repeated, validated
from hoopwright.design.toml_text import toml_text

SCHEMA = "hoopwright-register-1"
PAGE = "docs/files/register.md"

ToolState = Literal["in design", "in making", "trial", "proven", "superseded", "withdrawn"]


@dataclass(frozen=True, slots=True)
class Tool:
    """A tool. serves : part or parts it is for. stage : how far a tool in making is. hits : parts made on it."""

    id: str
    kind: str
    serves: str
    revision: str
    state: ToolState
    hits: int
    stage: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Register:
    """The tools of one liner."""

    liner: str
    invented: bool
    tools: tuple[Tool, ...]


class ToolTable(Table):
    """A tool."""

    id: Name = key("number of the tool, etched on it")
    kind: Said = key("what it is (`roll pair`, `segment set`, ...)")
    serves: Said = key("part it is for, or `all rings`")
    revision: Name = key("revision of the tool's drawing")
    state: ToolState = key("where it stands")
    hits: Count = key("parts made on it")
    stage: Text = key("how far a tool in making is, in words", "")
    note: Text = key("anything else", "")


class RegisterFile(Table):
    """A whole register file."""

    schema_: Literal["hoopwright-register-1"] = Field(alias="schema", description="`hoopwright-register-1`")
    liner: Name = key("liner the tools are for")
    invented: bool = key("true when the data describe no real tools")
    tool: Annotated[list[ToolTable], Field(max_length=10_000)] = key("the tools")


def read_register(source: Path | str, name: str = "") -> Register:
    """The register of a file (a path) or of a text.

    Raises
    ------
    FileFaults
        Every fault of the file, each with line, key, value and remedy.
    """
    opened = opened_from(source, name)
    file = validated(opened, SCHEMA, RegisterFile, PAGE)
    refuse(opened, repeated(((f"tool[{n}].id", tool.id) for n, tool in enumerate(file.tool, 1)), "tool"))
    return as_shape(Register, file)


def write_register(register: Register) -> str:
    """A register as the text of its file."""
    head = [f"Tool register of liner {register.liner}."]
    if register.invented:
        head.append("All data in this file are invented for demonstration and test.")
    return toml_text({"schema": SCHEMA, **as_table(register)}, head, ["tool"])
