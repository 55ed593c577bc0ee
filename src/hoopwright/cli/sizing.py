"""Commands about a ring on its segments: size, choose, study."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from hoopwright.cli import exits
from hoopwright.cli.options import Json, ShopFolder, finish
from hoopwright.cli.show import complain, progress, report_shown, say, say_json

Ring = Annotated[str, typer.Argument(help="Number of the ring, such as HD-402.")]
Of = Annotated[Path | None, typer.Option("--of", help="Liner file; the demonstration liner if left out.")]
Waves = Annotated[
    list[str] | None,
    typer.Option(
        "--wave", help="Out-of-round as welded: order,amplitude mm,crest deg from segment 1; may be given again."
    ),
]
SeamAt = Annotated[float | None, typer.Option("--seam-at", help="Seam from the middle of segment 1, deg.")]
Zone = Annotated[float | None, typer.Option("--seam-zone", help="Width of the seam's soft zone, mm.")]
Strength = Annotated[float | None, typer.Option("--seam-strength", help="Seam over annealed parent.")]
Errors = Annotated[str | None, typer.Option("--errors", help="How far each segment stands out, mm, with commas.")]
CAUTION = "A stretched ring holds energy: guard shut, positive retract and hold-down on. A computed size is no release."
ROWS_SHOWN = 8


def size(
    ring: Ring,
    of: Of = None,
    out: Annotated[Path | None, typer.Option("--out", help="Folder for sheet, pictures and tables.")] = None,
    wave: Waves = None,
    seam_at: SeamAt = None,
    seam_zone: Zone = None,
    seam_strength: Strength = None,
    errors: Errors = None,
    date: Annotated[str | None, typer.Option("--date", help="Date to print on the sheet, as 2031-03-01.")] = None,
    cards: ShopFolder = None,
    json: Json = False,
) -> None:
    """The ring through its hits on real segments: sizes, roundness, strain, pressure, pull; sheet and pictures."""
    from hoopwright.desk.planning import paper_date
    from hoopwright.desk.sizing import incoming_of, planned, size_ring

    def run() -> int:
        incoming = incoming_of(tuple(wave or ()), seam_at, seam_zone, seam_strength, errors)
        report = size_ring(planned(ring, of, cards), incoming, out, paper_date(date))
        return report_shown(report, json, CAUTION)

    finish(run, json)


def choose(
    ring: Ring,
    of: Of = None,
    out: Annotated[Path | None, typer.Option("--out", help="Folder for table and picture.")] = None,
    cards: ShopFolder = None,
    json: Json = False,
) -> None:
    """Which segments and hits: count, edges, radius turned to, stretch, hits, index, seam; best first with reasons."""
    from hoopwright.desk.choosing import choose_set
    from hoopwright.desk.sizing import planned

    def run() -> int:
        report = choose_set(planned(ring, of, cards), out, None if json else progress)
        if json:
            say_json(report)
            return exits.DONE
        say(report.sentence)
        for row in report.rows[:ROWS_SHOWN]:
            lower = f", second hit {row.lowered_mm:.3f} lower" if row.lowered_mm else ""
            say(f"{row.place:3} {row.words}{lower}")
            say(
                f"      out of round {row.out_of_round_mm:.3f} mm, thinnest {row.thinnest_mm:.4f} mm, pull "
                f"{row.pull_kN:.1f} kN, edges {row.edge_pressure_MPa:.0f} MPa, {row.cuts} cuts, rocking stiffness "
                f"{row.rocking_stiffness:.2f}, seam at {row.seam_from_segment_deg:.1f} deg"
            )
            say(f"      {row.reason[0].upper()}{row.reason[1:]}")
        if len(report.rows) > ROWS_SHOWN:
            say(f"    and {len(report.rows) - ROWS_SHOWN} more; --json or --out shows all.")
        for path in report.files:
            say(f"written: {path}")
        return exits.DONE

    finish(run, json)


def study(
    ring: Ring,
    of: Of = None,
    out: Annotated[
        Path | None, typer.Option("--out", help="Folder for journal, table and picture; a killed study goes on there.")
    ] = None,
    samples: Annotated[int, typer.Option("--samples", help="Rings whose scatter is told.")] = 20_000,
    runs: Annotated[int, typer.Option("--runs", help="Runs the stand-in is made of.")] = 256,
    held_back: Annotated[int, typer.Option("--held-back", help="Runs the stand-in is checked by.")] = 96,
    every_run: Annotated[
        bool, typer.Option("--every-run", help="Run the kernel for every sample; takes long.")
    ] = False,
    seed: Annotated[int, typer.Option("--seed", help="Seed; the same gives the same study.")] = 1,
    processes: Annotated[int | None, typer.Option("--processes", help="Processes; all cores if left out.")] = None,
    scheduler: Annotated[
        str | None, typer.Option("--scheduler", help="Address of a dask scheduler; needs the extra `cluster`.")
    ] = None,
    wave: Waves = None,
    seam_at: SeamAt = None,
    cards: ShopFolder = None,
    json: Json = False,
) -> None:
    """How rings scatter over the spread card: shares inside the limits, and which input matters most."""
    from hoopwright.desk.sizing import incoming_of, planned
    from hoopwright.desk.studying import StudyPlan, study_ring

    def run() -> int:
        wanted = StudyPlan(samples, runs, held_back, seed, every_run)
        incoming = incoming_of(tuple(wave or ()), seam_at, None, None, None)
        tell = None if json else progress
        report = study_ring(planned(ring, of, cards), wanted, incoming, out, processes, scheduler, tell)
        if json:
            say_json(report)
            return exits.DONE
        say(report.sentence)
        for row in report.rows:
            inside = "" if row.inside_pct is None else f", {row.inside_pct:.1f} % inside"
            most = ", ".join(f"{name} {100 * total:.0f} %" for name, _first, total in row.matters[:3])
            say(f"{row.name}: {row.low:.4g} to {row.high:.4g} {row.unit}{inside}; {most}")
            say(f"      stand-in against {report.held_back} held-back runs: rms {row.stand_in_rms:.2g} {row.unit}")
        for name in report.missing:
            complain(f"no card gives a spread of: {name}; left out")
        for number, reason in report.refused:
            complain(f"run {number} found no answer: {reason}")
        for path in report.files:
            say(f"written: {path}")
        return exits.DONE

    finish(run, json)
