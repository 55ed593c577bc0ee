"""The page on the commands, made from the commands themselves."""

from __future__ import annotations

import importlib
from typing import Any

import typer

HEAD = """# Commands

This page is made from the program (`python3 start.py docs`); change the help text there.
"""


def cell(text: str) -> str:
    """Text that may stand in a cell of a table."""
    return " ".join(text.split()).replace("|", "\\|")


def section(command: Any, context: Any, depth: int) -> list[str]:
    """Heading, help, usage and options of one command, then of the commands below it."""
    lines = [f"{'#' * depth} `{context.command_path}`", "", (command.help or "").strip(), ""]
    lines += ["    " + " ".join(command.get_usage(context).removeprefix("Usage:").split()), ""]
    records = [record for parameter in command.get_params(context) if (record := parameter.get_help_record(context))]
    if records:
        lines += ["| argument or option | meaning |", "|---|---|"]
        lines += [f"| `{cell(name)}` | {cell(meaning)} |" for name, meaning in records]
        lines += [""]
    for name, below in sorted(getattr(command, "commands", {}).items()):
        if not below.hidden:
            inner = below.make_context(name, [], parent=context, resilient_parsing=True)
            lines += section(below, inner, min(depth + 1, 6))
    return lines


def page(app: typer.Typer, name: str) -> str:
    """The whole page for a command line called `name`."""
    command = typer.main.get_command(app)
    context = command.make_context(name, [], resilient_parsing=True)
    return "\n".join([HEAD, *section(command, context, 2)]).rstrip() + "\n"


def hoopwright() -> str:
    """The page for this program; its command line is `app` in `hoopwright.cli.main`."""
    return page(importlib.import_module("hoopwright.cli.main").app, "hoopwright")
