"""Commands of the way back: diagnose, correct, fit, change, release, concession, book, genealogy."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from hoopwright.cli.options import By, Day, Json, Out, Records, Why, finish


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
    keep: Annotated[bool, typer.Option("--keep", help="Keep its stops and cautions in the records.")] = False,
    by: By = None,
    records: Records = None,
    json: Json = False,
) -> None:
    """Ranked causes from everything that was read, with what was weighed and what to measure next."""
    from hoopwright.cli import correcting

    finish(
        lambda: correcting.diagnose(records, subject, row, sign or [], also or [], seam, radius, json, keep, by), json
    )


def correct(
    serial: Annotated[str, typer.Argument(help="Serial that was hit and measured.")],
    hit: Annotated[int | None, typer.Option("--hit", help="Hit to look at; the last one if left out.")] = None,
    keep: Annotated[bool, typer.Option("--keep", help="Keep its stops and cautions in the records.")] = False,
    by: By = None,
    records: Records = None,
    json: Json = False,
) -> None:
    """The next hit of this ring, or no correction and why; then stop and band of the next ring."""
    from hoopwright.cli import correcting

    finish(lambda: correcting.correct(records, serial, hit, json, keep, by), json)


def fit(
    serials: Annotated[
        list[str] | None, typer.Argument(help="Serials of the stack; without, the laps as they were read.")
    ] = None,
    stock: Annotated[
        bool, typer.Option("--stock", help="Choose the serials from all that are measured and in no build.")
    ] = False,
    liners: Annotated[int, typer.Option("--liners", help="With --stock: how many liners to make at once.")] = 1,
    records: Records = None,
    json: Json = False,
) -> None:
    """Gaps of every lap, and which rings to stretch by how much, with the chance that all is inside."""
    from hoopwright.cli import correcting

    if stock:
        finish(lambda: correcting.stock(records, liners, json), json)
    finish(lambda: correcting.fit(records, serials or [], json), json)


def change(
    file: Annotated[Path | None, typer.Argument(help="Changes file (TOML); with --to, for its dates and days.")] = None,
    to: Annotated[
        Path | None,
        typer.Option("--to", help="New revision of the liner file; what differs is found by planning both."),
    ] = None,
    old: Annotated[
        Path | None, typer.Option("--from", help="Older revision; without it the one in force in the records.")
    ] = None,
    register: Annotated[
        Path | None, typer.Option("--register", help="Tool register (TOML); without it the tools of the records.")
    ] = None,
    revision: Annotated[str, typer.Option("--revision", help="Which of its changes, where it holds several.")] = "",
    taken_by: Annotated[
        str | None, typer.Option("--taken-by", help="Who decides that it is made; without, it is only walked.")
    ] = None,
    why: Why = "",
    records: Records = None,
    json: Json = False,
) -> None:
    """Impact of a design change, or of a new liner file, on tools, parts, papers and report lines, with a plan."""
    from hoopwright.cli import correcting

    if to is not None:
        files = correcting.RevisionFiles(to, old, file, register)
        finish(lambda: correcting.revise(records, files, revision, taken_by, why, json), json)
    else:
        finish(lambda: correcting.change(records, file, revision, taken_by, why, json), json)


def release(
    serial: Annotated[str, typer.Argument(help="Serial to report on, or to release.")],
    signed_by: Annotated[str, typer.Option("--signed-by", help="Who releases: a named person.")] = "",
    office: Annotated[str, typer.Option("--office", help="The office in which that person signs.")] = "",
    partial: Annotated[
        str, typer.Option("--partial", help="Only the lines that the change to this revision touches.")
    ] = "",
    statement: Annotated[
        str, typer.Option("--statement", help="Limits that the part carries (test only, hours).")
    ] = "",
    out: Out = None,
    date: Day = None,
    by: By = None,
    why: Why = "",
    records: Records = None,
    json: Json = False,
) -> None:
    """First-article report of a serial (PDF, XLSX), what is lacking, and the release, which only a person signs."""
    from hoopwright.cli import releasing

    ask = (serial, why, partial, signed_by, office, statement)
    finish(lambda: releasing.release(records, ask, out, date, by, json), json)


def concession(
    serial: Annotated[str, typer.Argument(help="Serial; or a concession's own number, to print its form again.")],
    characteristic: Annotated[
        str | None, typer.Argument(help="Characteristic, as the inspection plan names it.")
    ] = None,
    effect: Annotated[str, typer.Option("--effect", help="What the deviation does, as seen by who asks.")] = "",
    disposition: Annotated[
        str, typer.Option("--disposition", help="use as is, rework, pair with a chosen mate, or scrap.")
    ] = "use as is",
    out: Out = None,
    date: Day = None,
    by: By = None,
    records: Records = None,
    json: Json = False,
) -> None:
    """Ask for a concession, filled from what was measured; or print the form of one that is there."""
    from hoopwright.cli import releasing

    finish(
        lambda: releasing.concession(records, serial, characteristic, effect, disposition, out, date, by, json), json
    )


def book(
    build: Annotated[str, typer.Argument(help="Build, as its parts name it.")],
    signed_by: Annotated[str, typer.Option("--signed-by", help="Who releases the build: a named person.")] = "",
    office: Annotated[str, typer.Option("--office", help="The office in which that person signs.")] = "",
    statement: Annotated[str, typer.Option("--statement", help="Limits that the build carries.")] = "",
    out: Out = None,
    date: Day = None,
    by: By = None,
    why: Why = "",
    records: Records = None,
    json: Json = False,
) -> None:
    """The build book: parts, laps, concessions, genealogy, what is open (PDF, XLSX); released by a person only."""
    from hoopwright.cli import releasing

    signed = (signed_by, office, why, statement)
    finish(lambda: releasing.book(records, build, signed, out, date, by, json), json)


def genealogy(
    serial: Annotated[str, typer.Argument(help="Serial.")], records: Records = None, json: Json = False
) -> None:
    """Where a part came from: cast, sheet, weld lot, every operation with its tool, readings, build."""
    from hoopwright.cli import releasing

    finish(lambda: releasing.line(records, serial, json), json)


def add_to(app: typer.Typer) -> None:
    """Add these commands to the program."""
    for command in (diagnose, correct, fit, change, release, concession, book, genealogy):
        app.command()(command)
