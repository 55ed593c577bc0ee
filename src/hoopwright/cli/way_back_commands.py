"""Commands of the way back: diagnose, correct, fit, change."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from hoopwright.cli.options import Json, Records, Why, finish


def diagnose(
    subject: Annotated[str, typer.Argument(help="Serial; or the symptom in words, to find it in the catalogue.")] = "",
    row: Annotated[int | None, typer.Option("--row", help="Row of the failure catalogue.")] = None,
    sign: Annotated[
        list[str] | None, typer.Option("--sign", metavar="CAUSE=yes|no", help="Whether a cause's sign is there.")
    ] = None,
    also: Annotated[
        list[str] | None, typer.Option("--also", metavar="NAME=VALUE", help="A further reading, such as bead_mm=0.08.")
    ] = None,
    seam: Annotated[float | None, typer.Option("--seam", help="Seam in the roundness readings, deg from zero.")] = None,
    radius: Annotated[
        float | None, typer.Option("--turned", help="Turned radius of the right segment set there, mm.")
    ] = None,
    records: Records = None,
    json: Json = False,
) -> None:
    """Ranked causes from everything that was read, with what was weighed and what to measure next."""
    from hoopwright.cli import correcting

    finish(lambda: correcting.diagnose(records, subject, row, sign or [], also or [], seam, radius, json), json)


def correct(
    serial: Annotated[str, typer.Argument(help="Serial that was hit and measured.")],
    hit: Annotated[int | None, typer.Option("--hit", help="Hit to look at; the last one if left out.")] = None,
    records: Records = None,
    json: Json = False,
) -> None:
    """The next hit of this ring, or no correction and why; then stop and band of the next ring."""
    from hoopwright.cli import correcting

    finish(lambda: correcting.correct(records, serial, hit, json), json)


def fit(
    serials: Annotated[
        list[str] | None, typer.Argument(help="Serials of the stack; without, the laps as they were read.")
    ] = None,
    records: Records = None,
    json: Json = False,
) -> None:
    """Gaps of every lap, and which rings to stretch by how much, with the chance that all is inside."""
    from hoopwright.cli import correcting

    finish(lambda: correcting.fit(records, serials or [], json), json)


def change(
    file: Annotated[Path, typer.Argument(help="Changes file (TOML).")],
    revision: Annotated[str, typer.Option("--revision", help="Which of its changes, where it holds several.")] = "",
    taken_by: Annotated[
        str | None, typer.Option("--taken-by", help="Who decides that it is made; without, it is only walked.")
    ] = None,
    why: Why = "",
    records: Records = None,
    json: Json = False,
) -> None:
    """Impact of a design change on tools, parts, papers and report lines, with a plan; taken with a name under it."""
    from hoopwright.cli import correcting

    finish(lambda: correcting.change(records, file, revision, taken_by, why, json), json)


def add_to(app: typer.Typer) -> None:
    """Add these commands to the program."""
    for command in (diagnose, correct, fit, change):
        app.command()(command)
