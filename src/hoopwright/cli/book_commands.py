"""Commands of the records: record, take, read, register, findings, history, backup, restore, export."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from hoopwright.cli.options import By, Json, Records, Why, finish, pairs_of


def record(
    kind: Annotated[str, typer.Argument(help="Kind of record, such as tool or part; `list` names them all.")],
    identity: Annotated[
        str | None,
        typer.Argument(help="Its number; `new` where nobody numbers it, `list` for the newest. Without: the fields."),
    ] = None,
    fields: Annotated[
        list[str] | None, typer.Argument(metavar="NAME=VALUE", help="Fields to enter or change; without: show it.")
    ] = None,
    version: Annotated[
        int | None, typer.Option("--version", help="Version that was seen; another one there now stops the change.")
    ] = None,
    by: By = None,
    why: Why = "",
    records: Records = None,
    json: Json = False,
) -> None:
    """Enter a record, change or show the one that is there. Nothing is ever deleted: what stood before is kept."""
    from hoopwright.cli import booking

    finish(lambda: booking.record(records, kind, identity, fields or [], by, why, version, json), json)


def take(
    files: Annotated[list[Path], typer.Argument(help="Liner file, plan.json, register or readings (TOML), in turn.")],
    by: By = None,
    why: Why = "",
    records: Records = None,
    json: Json = False,
) -> None:
    """Take files of the house into the records; what they replace is superseded."""
    from hoopwright.cli import booking

    finish(lambda: booking.take(records, files, by, why, json), json)


def read(
    what: Annotated[
        str,
        typer.Argument(
            help="girth, diameters, roundness, trace, thickness, hardness, coordinates; typed also loaded, "
            "bead, mismatch, height, load, profile."
        ),
    ],
    subject: Annotated[str, typer.Argument(help="Serial that was measured (or sheet, tool, lot, see --of).")],
    readings: Annotated[
        list[str] | None, typer.Argument(metavar="FILE or PLACE=VALUE", help="A table, or readings as typed.")
    ] = None,
    of: Annotated[str, typer.Option("--of", help="serial, sheet, tool or lot.")] = "serial",
    ring: Annotated[str, typer.Option("--ring", help="Ring of a serial that is new.")] = "",
    hit: Annotated[int | None, typer.Option("--hit", help="After which hit on the segments.")] = None,
    stop: Annotated[float | None, typer.Option("--stop", help="Pin stop that was used, mm.")] = None,
    segments: Annotated[str, typer.Option("--set", help="Segment set, as its label reads.")] = "",
    gauge: Annotated[str, typer.Option("--gauge", help="Gauge, by its number.")] = "",
    degC: Annotated[
        float | None, typer.Option("--degC", help="Temperature of the part; a girth is brought to 20.")
    ] = None,
    tension: Annotated[float | None, typer.Option("--tension", help="Pull on the tape, N.")] = None,
    held: Annotated[str, typer.Option("--held", help="free or restrained.")] = "",
    how: Annotated[str, typer.Option("--how", help="How it was held.")] = "",
    more: Annotated[list[str] | None, typer.Option("--also", help="Anything else, name=value.")] = None,
    note: Annotated[str, typer.Option("--note", help="A note.")] = "",
    replaces: Annotated[
        str, typer.Option("--replaces", help="Reading that this one corrects; it then stands as superseded.")
    ] = "",
    by: By = None,
    records: Records = None,
    json: Json = False,
) -> None:
    """Take readings, typed or from CSV, TSV or XLSX. Of a faulty file nothing is stored."""
    from hoopwright.cli import booking
    from hoopwright.desk.read_in import About

    def run() -> int:
        about = About(
            subject, of, ring, hit, stop, segments, gauge, degC, tension, held, how,
            pairs_of(more or [], "--also"), note, replaces,
        )  # fmt: skip
        return booking.read(records, what, about, readings or [], by, json)

    finish(run, json)


def register(
    tool: Annotated[str | None, typer.Argument(help="One tool; without, all of them.")] = None,
    ring: Annotated[str, typer.Option("--for", help="Ring it is to be used for; a wrong tool is refused.")] = "",
    live: Annotated[bool, typer.Option("--live", help="Leave out what is superseded or withdrawn.")] = False,
    supersede: Annotated[bool, typer.Option("--supersede", help="Mark it superseded; give --why.")] = False,
    replaced_by: Annotated[str, typer.Option("--replaced-by", help="Tool that takes its place.")] = "",
    by: By = None,
    why: Why = "",
    records: Records = None,
    json: Json = False,
) -> None:
    """The tool register: state, place, hits, stock; a superseded tool is refused for the press."""
    from hoopwright.cli import booking

    finish(lambda: booking.register(records, tool, ring, live, supersede, replaced_by, by, why, json), json)


def history(
    kind: Annotated[str | None, typer.Argument(help="Kind of record; without, the newest of everything.")] = None,
    identity: Annotated[str | None, typer.Argument(help="Its number.")] = None,
    limit: Annotated[int, typer.Option("--limit", help="Most lines.")] = 50,
    records: Records = None,
    json: Json = False,
) -> None:
    """The journal: who wrote what, when and why."""
    from hoopwright.cli import booking

    finish(lambda: booking.history(records, kind, identity, limit, json), json)


def findings(
    about: Annotated[str, typer.Argument(help="Serial, tool or lot; without, all that stand open.")] = "",
    answer: Annotated[str, typer.Option("--answer", help="Number of a finding to answer; give --verdict, --why.")] = "",
    verdict: Annotated[str, typer.Option("--verdict", help="What was decided, in a few words.")] = "",
    office: Annotated[str, typer.Option("--office", help="The office in which it was decided.")] = "",
    by: By = None,
    why: Why = "",
    records: Records = None,
    json: Json = False,
) -> None:
    """Findings that stand open; answered by a decision with a name under it."""
    from hoopwright.cli import booking

    finish(lambda: booking.findings(records, about, answer, (verdict, why, office), by, json), json)


def backup(
    file: Annotated[Path, typer.Argument(help="New file (zip) for everything that is in the records.")],
    records: Records = None,
    json: Json = False,
) -> None:
    """Write everything into one file, while others go on writing; nothing is ever written over."""
    from hoopwright.cli import booking

    finish(lambda: booking.copies(records, "backup", file, json), json)


def restore(
    file: Annotated[Path, typer.Argument(help="File written by `backup`, from a file or a server.")],
    records: Records = None,
    json: Json = False,
) -> None:
    """Put a backup into an empty place, whole or not at all."""
    from hoopwright.cli import booking

    finish(lambda: booking.copies(records, "restore", file, json), json)


def export(
    folder: Annotated[Path, typer.Argument(help="New folder for open CSV and JSON of everything.")],
    records: Records = None,
    json: Json = False,
) -> None:
    """Everything as open CSV and JSON; no cell can run as a formula."""
    from hoopwright.cli import booking

    finish(lambda: booking.copies(records, "export", folder, json), json)


def add_to(app: typer.Typer) -> None:
    """Add these commands to the program."""
    for command in (record, take, read, register, findings, history, backup, restore, export):
        app.command()(command)
