"""Plan a liner and write what leaves this desk: plan.json, a walk sheet a ring, DXF of what a machine reads."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path

from hoopwright.design.demo import DEMO_FILES, demo_liner, demo_text
from hoopwright.design.liner_reading import cards_folder, read_liner
from hoopwright.design.shapes import Liner
from hoopwright.desk.folders import checked_target, write_whole
from hoopwright.desk.other_core import OtherCore
from hoopwright.desk.package import DEMO_DATE, package_files
from hoopwright.errors import HoopwrightError, InputError
from hoopwright.findings import LEVELS, Figure, Finding
from hoopwright.plan.as_json import json_text
from hoopwright.plan.liner_plan import LinerPlan, plan_liner
from hoopwright.plan.ring_plan import RingPlan
from hoopwright.plan.shelf import Shelf

Progress = Callable[[str], None]


@dataclass(frozen=True, slots=True)
class LookFirst:
    """One of the things to look at first: a finding, where its paper is, and which rings have it too."""

    ring: str
    finding: Finding
    paper: Path
    also: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Written:
    """A plan on disk. summary : a line a ring, one for a pressed end plate.

    look_first : at most three findings, gravest first, a ring each.
    refused : rings that could not be planned at all, with the reason. stops : number of findings that stop a tool or
    paper. proven : number of rings whose proof run leaves no residual.
    """

    folder: Path
    mark: str
    files: tuple[Path, ...]
    summary: tuple[str, ...]
    look_first: tuple[LookFirst, ...]
    refused: tuple[tuple[str, str], ...]
    stops: int
    proven: int = 0


def paper_date(text: str | None) -> dt.date:
    """The date to print: as given (2031-03-01), else today.

    Raises
    ------
    InputError
        No such day.
    """
    if text is None:
        return dt.date.today()
    try:
        return dt.date.fromisoformat(text)
    except ValueError:
        raise InputError("--date", text, "", "a day as 2031-03-01", "write year, month and day") from None


def plan_to_folder(
    path: Path,
    folder: Path,
    rings: Iterable[str] = (),
    date: dt.date | None = None,
    shop_folder: Path | None = None,
    progress: Progress | None = None,
    full: bool = False,
    prove: bool = False,
    both_cores: bool = False,
) -> Written:
    """Plan a liner file into a folder, written whole or not at all; `full` with solids and papers of every tool.

    prove : with a proof run of every ring, kept beside the liner file. both_cores : the plate in a second process.

    Raises
    ------
    FileFaults, CardError
        The liner file or a card is faulty.
    InputError
        A ring the liner does not have, or a folder that holds other things.
    """
    checked_target(folder)
    liner = read_liner(path, shop_folder)
    shelf = Shelf(shop_folder or cards_folder(path))
    home = path.absolute().parent if prove else None
    return _written(liner, shelf, folder, tuple(rings), date or dt.date.today(), progress, {}, full, home, both_cores)


def plan_demo(
    folder: Path,
    progress: Progress | None = None,
    full: bool = False,
    prove: bool = False,
    both_cores: bool = False,
) -> Written:
    """Plan the demonstration liner; its files lie beside the plan so that they can be changed and planned again.

    prove : with a proof run of every ring, kept beside the folder. both_cores : as for `plan_to_folder`.
    """
    checked_target(folder)
    sources = {f"demo/{name}": demo_text(name).encode() for name in DEMO_FILES}
    home = folder.absolute().parent if prove else None
    return _written(demo_liner(), Shelf(), folder, (), DEMO_DATE, progress, sources, full, home, both_cores)


def _written(
    liner: Liner,
    shelf: Shelf,
    folder: Path,
    rings: tuple[str, ...],
    date: dt.date,
    progress: Progress | None,
    more: dict[str, bytes],
    full: bool = False,
    home: Path | None = None,
    both_cores: bool = False,
) -> Written:
    """Plan and write; `home` is the folder of the job where its rings are to be proven."""
    tell = progress or (lambda _: None)
    # the press runs of a plate take as long as all the rings: they go on beside them
    wanted = both_cores and liner.end_plate is not None and not rings
    with OtherCore(_bring_in_pressing, wanted, fresh=True) as other:
        return _written_beside(other, liner, shelf, folder, rings, date, tell, more, full, home)


def _bring_in_pressing() -> None:
    import hoopwright.desk.pressing  # noqa: F401


def _written_beside(
    other: OtherCore,
    liner: Liner,
    shelf: Shelf,
    folder: Path,
    rings: tuple[str, ...],
    date: dt.date,
    tell: Progress,
    more: dict[str, bytes],
    full: bool,
    home: Path | None,
) -> Written:
    # the drawing libraries are heavy: only a plan that is written needs them
    from hoopwright.desk.hot_build import hot_files
    from hoopwright.desk.pressing import NOTHING, pressed_files
    from hoopwright.papers.ring_files import ring_files

    # a plan of some rings is no plan of the plate, whose press runs take seconds
    pressing = None if rings else other.ask(pressed_files, liner, Shelf(shelf.shop_folder), date, full)
    plan = planned(liner, shelf, rings, tell, home)
    files: dict[str, bytes] = {"plan.json": json_text(plan).encode()}
    for ring in plan.rings:
        tell(f"{ring.job.ring.id}: drawing")
        name = ring.job.ring.id
        files |= {f"{name}/{file}": content for file, content in ring_files(ring, date).items()}
    refused, hot_stops = list(plan.refused), 0
    if liner.thermal is not None and not rings:
        tell(f"{liner.id}: hot build")
        try:
            more_files, hot = hot_files(liner, shelf.shop_folder, date)
            files |= more_files
            hot_stops = sum(finding.level == "stop" for finding in hot.findings)
        except HoopwrightError as refusal:
            refused.append((f"{liner.id} hot build", str(refusal)))
    if pressing is not None and liner.end_plate is not None:
        tell(f"{liner.end_plate.id}: pressing")
    pressed = NOTHING if pressing is None else pressing.result()
    files |= pressed.files
    refused += pressed.refused
    tool_stops = pressed.stops
    if full:
        package = package_files(plan, shelf.shop_folder, date, tell)
        files |= package.files
        refused += package.refused
        tool_stops += package.stops
    if liner.invented:
        files["READ-ME.txt"] = b"Demonstration: every size, tolerance, temperature and reading here is invented.\n"
    paths = write_whole(folder, {**files, **more})
    return Written(
        folder=folder.absolute(),
        mark=plan.mark,
        files=paths,
        summary=(*(summary_line(ring) for ring in plan.rings), *pressed.summary),
        look_first=look_first(plan, folder.absolute()),
        refused=tuple(refused),
        stops=hot_stops + tool_stops + sum(finding.level == "stop" for finding in plan.findings),
        proven=sum(ring.proven for ring in plan.rings),
    )


def planned(liner: Liner, shelf: Shelf, rings: tuple[str, ...], tell: Progress, home: Path | None) -> LinerPlan:
    """The plan, with proof runs where the folder of the job says where they are kept."""
    if home is None:
        return plan_liner(liner, shelf, rings or None, lambda ring: tell(f"{ring}: reckoning"))
    # the kernels of a proof run are heavy to load: a plan without one does without
    from hoopwright.desk.proving import proofs_of, told

    wanted = [liner.ring(name).id for name in rings] if rings else [ring.id for ring in liner.rings]
    proofs = proofs_of(liner, shelf, wanted, home, tell)
    plan = plan_liner(liner, shelf, rings or None, lambda ring: tell(f"{ring}: reckoning"), proofs.proofs)
    return told(plan, proofs)


def summary_line(plan: RingPlan) -> str:
    """One ring in one line: blank, passes, segments, pull, and how many findings of each level."""
    ring = plan.job.ring.id
    blank = "strip" if plan.blank.kind == "strip" else "arc blank"
    cut = plan.figure("close/cut-length")
    pull = plan.figure("press/pull")
    count = {level: sum(f.level == level for f in plan.findings) for level in ("stop", "caution", "note")}
    said = ", ".join(f"{n} {level}{'s' if n != 1 else ''}" for level, n in count.items() if n)
    return (
        f"{ring}: {blank}, cut {cut.value:.2f} mm on the neutral fibre, {_passes(len(plan.passes.rows))}, "
        f"{plan.sizing.segments.count} segments, pin pull {pull.value:.1f} kN; {proof_words(plan)}; {said}"
    )


def proof_words(plan: RingPlan) -> str:
    """Whether a ring is proven, and with what residual."""
    if plan.proof is None:
        return "not yet proven"
    word = "proven" if plan.proven else "proof run"
    return f"{word}: residual {plan.proof.residual_mm:+.4f} mm"


def _passes(count: int) -> str:
    return "1 pass" if count == 1 else f"{count} passes"


def look_first(plan: LinerPlan, folder: Path) -> tuple[LookFirst, ...]:
    """At most three findings, no topic twice: the gravest first, of equally grave ones that of most rings."""
    by_topic: dict[str, list[tuple[str, Finding]]] = {}
    for ring in plan.rings:
        for finding in ring.findings:
            by_topic.setdefault(finding.topic, []).append((ring.job.ring.id, finding))
    ranked = sorted(
        by_topic.values(),
        key=lambda rows: (-max(LEVELS.index(f.level) for _, f in rows), -len({ring for ring, _ in rows})),
    )
    first: list[LookFirst] = []
    for rows in ranked[:3]:
        name, finding = max(rows, key=lambda row: LEVELS.index(row[1].level))
        others = tuple(dict.fromkeys(ring for ring, _ in rows if ring != name))
        first.append(LookFirst(name, finding, folder / name / f"{name}-walk.pdf", others))
    return tuple(first)


def figures_of(plan: LinerPlan) -> tuple[Figure, ...]:
    """Every figure of every ring."""
    return tuple(figure for ring in plan.rings for figure in ring.figures)
