"""Options that several commands share, and how a command ends."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Annotated

import typer

from hoopwright.cli import exits
from hoopwright.cli.show import complain, error_as_json, say_json
from hoopwright.errors import HoopwrightError, InputError

Json = Annotated[bool, typer.Option("--json", help="Say it as JSON on standard output.")]
Records = Annotated[
    str | None,
    typer.Option(
        "--records",
        help="Where the records are: a folder, a file, or postgresql://user@host/name; else HOOPWRIGHT_RECORDS, else "
        "this folder.",
    ),
]
By = Annotated[str | None, typer.Option("--by", help="Who writes; else HOOPWRIGHT_BY, else the name at this machine.")]
Why = Annotated[str, typer.Option("--why", help="The reason, for the journal.")]
ShopFolder = Annotated[
    Path | None, typer.Option("--cards", help="Folder with the shop's own cards; they rule over the built-in ones.")
]
Out = Annotated[Path | None, typer.Option("--out", help="Folder for the papers.")]
Day = Annotated[str | None, typer.Option("--date", help="Date to print on the papers, as 2031-03-01.")]


def finish(run: Callable[[], int], as_json: bool) -> None:
    """Run a command; an error of the tree becomes a message and its exit code, never a traceback."""
    try:
        code = run()
    except HoopwrightError as error:
        code = exits.code_of(error)
        if as_json:
            say_json(error_as_json(error, code))
        else:
            complain(str(error))
    raise typer.Exit(code)


def pairs_of(words: Sequence[str], what: str) -> dict[str, str]:
    """`name=value` words as a mapping.

    Raises
    ------
    InputError
        A word without an equals sign, or a name that comes twice.
    """
    found: dict[str, str] = {}
    for word in words:
        name, equals, value = word.partition("=")
        if not equals or not name:
            raise InputError(what, word, "", "name=value", "write it as name=value, without spaces round the sign")
        if name in found:
            raise InputError(what, name, "", "there once", "take one of the two away")
        found[name] = value
    return found
