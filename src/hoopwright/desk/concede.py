"""A concession from the measured row, and the build book of a liner."""

from __future__ import annotations

import datetime as dt
import hashlib
from dataclasses import dataclass
from pathlib import Path

from hoopwright.correct.fits import FitRule, lap_control
from hoopwright.design.shapes import Liner
from hoopwright.desk.folders import checked_target, write_whole
from hoopwright.desk.genealogy import genealogy
from hoopwright.desk.in_force import expectations, needed_liner
from hoopwright.desk.record_book import records, writer_or_default
from hoopwright.desk.release import SEGMENTS, concession_lines, line_of, open_findings
from hoopwright.desk.release_rows import rows_of
from hoopwright.desk.sizes import size_now
from hoopwright.errors import InputError
from hoopwright.measure.decision import Rule
from hoopwright.papers.release.shapes import About, BuildBook, BuildPart, ConcessionLine, Link, Signed
from hoopwright.records import Store
from hoopwright.records.judging import Concession, Release
from hoopwright.records.making import Build, Part


@dataclass(frozen=True, slots=True)
class Conceded:
    """A concession and its form."""

    line: ConcessionLine
    chain: tuple[str, ...]
    files: tuple[Path, ...]


def ask_concession(
    address: str | Path | None, serial: str, characteristic: str, effect: str, by: str | None = None,
    disposition: str = "use as is", out: Path | None = None, day: dt.date | None = None,
) -> Conceded:  # fmt: skip
    """Ask for a concession, filled from what was measured.

    Raises
    ------
    InputError
        The characteristic is not on the plan, was not measured, or is inside its limits.
    """
    if out is not None:
        checked_target(out)
    who = writer_or_default(by)
    with records(address) as store:
        part = store.get(Part, serial).thing
        liner = needed_liner(store, part.liner)
        segments = next((e.segments for e in expectations(store, part.part)), SEGMENTS)
        rows = {r.name: r for r in rows_of(store, liner, serial, segments, Rule())}
        if characteristic not in rows:
            must = f"on the inspection plan: {', '.join(rows)}"
            raise InputError("characteristic", characteristic, "", must, "name one of these")
        row = rows[characteristic]
        if row.result is None:
            raise InputError(characteristic, "not measured", "", "measured", "enter its reading first")
        number = f"{serial}.concession-{store.count(Concession, serial=serial) + 1}"
        asked = Concession(
            id=number, liner=part.liner, serial=serial, characteristic=characteristic, unit=row.unit,
            measured=row.result, low=row.low, high=row.high, effect=effect, disposition=disposition, asked_by=who,
        )  # fmt: skip
        if asked.beyond <= 0.0:
            raise InputError(
                characteristic, round(row.result, 3), row.unit, "outside its limits", "no concession is due"
            )
        with store.writing(who, "concession asked for") as write:
            write.add(asked)
        chain = tuple(_chain(liner, part.part, characteristic, asked))
        links = genealogy(store, serial)
    about = About(number, liner.id, part.revision, _mark(repr(asked)), day or dt.date.today(), liner.invented)
    return Conceded(line_of(asked), chain, _form(about, asked, part.part, chain, links, out))


def concession_form(address: str | Path | None, number: str, out: Path, day: dt.date | None = None) -> Conceded:
    """The form of a concession that is in the records, as it stands."""
    checked_target(out)
    with records(address) as store:
        asked = store.get(Concession, number).thing
        part = store.get(Part, asked.serial).thing
        liner = needed_liner(store, part.liner)
        links = genealogy(store, asked.serial)
    chain = tuple(_chain(liner, part.part, asked.characteristic, asked))
    about = About(number, liner.id, part.revision, _mark(repr(asked)), day or dt.date.today(), liner.invented)
    return Conceded(line_of(asked), chain, _form(about, asked, part.part, chain, links, out))


def _mark(text: str) -> str:
    digest = hashlib.sha256(text.encode()).hexdigest()
    return f"{digest[:4]} {digest[4:8]}"


def _form(
    about: About, asked: Concession, part: str, chain: tuple[str, ...], links: tuple[Link, ...], out: Path | None
) -> tuple[Path, ...]:
    if out is None:
        return ()
    from hoopwright.papers.release.concession_form import concession_pdf

    return write_whole(out, {f"{about.number}.pdf": concession_pdf(about, line_of(asked), part, chain, links)})


def _chain(liner: Liner, part: str, characteristic: str, asked: Concession) -> list[str]:
    """Laps that the size takes part in, and what the deviation does to their gap."""
    found = []
    signed = asked.measured - (asked.high or asked.measured) if asked.high and asked.measured > asked.high else 0.0
    if asked.low is not None and asked.measured < asked.low:
        signed = asked.measured - asked.low
    for joint in liner.joints:
        if part not in (joint.outer, joint.inner):
            continue
        try:
            control = lap_control(liner, part, joint)
        except InputError:
            continue
        if control.name == characteristic:
            way = 0.5 * signed * (1.0 if joint.outer == part else -1.0)
            mate = joint.inner if joint.outer == part else joint.outer
            found.append(
                f"lap {joint.id} with {mate}: its radial gap changes by {way:+.3f} mm beyond the worst of the limits"
            )
    return found or ["no lap takes this size"]


@dataclass(frozen=True, slots=True)
class Booked:
    """A build book and its files."""

    book: BuildBook
    files: tuple[Path, ...]


@dataclass(frozen=True, slots=True)
class Signature:
    """Who releases a build: name, office, reason, and the statement it carries."""

    signed_by: str
    office: str
    reason: str
    statement: str = ""


def build_book(
    address: str | Path | None,
    build: str,
    out: Path | None = None,
    day: dt.date | None = None,
    sign: Signature | None = None,
    by: str | None = None,
) -> Booked:
    """The book of a liner as built, from the records of every part in it; with a signature, its release.

    Raises
    ------
    InputError
        No such build, or a release is asked for while a point is open: each is named.
    """
    if out is not None:
        checked_target(out)
    if sign is not None:
        _release_build(address, build, sign, by)
    with records(address) as store:
        kept = store.get(Build, build)
        liner = needed_liner(store, kept.thing.liner)
        parts = sorted((k.thing for k in store.list(Part, build=build)), key=lambda p: p.place)
        if not parts:
            raise InputError("build", build, "", "of one part or more", "name the build on each part: record part …")
        lines = [_part(store, liner, p) for p in parts]
        laps, open_laps = _laps(store, liner, parts)
        concessions = tuple(c for p in parts for c in concession_lines(store, p.id))
        links = tuple(link for p in parts for link in genealogy(store, p.id))
        points = (*_open(store, liner, parts, concessions), *open_laps)
        signed = store.list(Release, about_kind="build", about=build, state="in force")
    who = signed[-1].thing if signed else None
    signed_as = Signed(who.signed_by, who.office, who.signed_at.date(), who.statement) if who is not None else None
    mark = _mark(repr((lines, laps, concessions, links, points)))
    about = About(build, liner.id, kept.thing.revision, mark, day or dt.date.today(), liner.invented)
    book = BuildBook(about, build, tuple(lines), laps, concessions, links, points, signed_as)
    return Booked(book, _book_files(book, out))


def _release_build(address: str | Path | None, build: str, sign: Signature, by: str | None) -> None:
    if not (sign.signed_by and sign.office and sign.reason):
        must = "given: who signs, in which office, and the reason"
        raise InputError("release", "without a name", "", must, "give --signed-by, --office and --why")
    book = build_book(address, build).book
    if book.open_points:
        must = "without an open point: " + "; ".join(book.open_points)
        raise InputError("release", build, "", must, "close each; a computed pass is no release either")
    with records(address) as store:
        kept = store.get(Build, build)
        number = f"{build}.release-{store.count(Release, about=build) + 1}"
        with store.writing(writer_or_default(by), f"released by {sign.signed_by}") as write:
            write.add(
                Release(
                    id=number,
                    liner=kept.thing.liner,
                    about_kind="build",
                    about=build,
                    reason=sign.reason,
                    statement=sign.statement,
                    signed_by=sign.signed_by,
                    office=sign.office,
                    evidence=book.about.mark,
                )
            )
            write.change(kept, state="released")


def _book_files(book: BuildBook, out: Path | None) -> tuple[Path, ...]:
    if out is None:
        return ()
    from hoopwright.papers.release.build_book import build_book_pdf
    from hoopwright.papers.release.workbook import build_book_xlsx

    stem = f"{book.build}-build-book"
    return write_whole(out, {f"{stem}.pdf": build_book_pdf(book), f"{stem}.xlsx": build_book_xlsx(book)})


def _part(store: Store, liner: Liner, part: Part) -> BuildPart:
    rings = {r.id for r in liner.rings}
    names = [c.name for c in liner.ring(part.part).controls] if part.part in rings else []
    sizes = [(name, size_now(store, part.id, name)) for name in names]
    words = ", ".join(f"{name} {value:.3f}" for name, value in sizes if value is not None)
    return BuildPart(part.place, part.id, part.revision, part.state, words, part.weld_lot or "", part.cast or "")


def _laps(
    store: Store, liner: Liner, parts: list[Part]
) -> tuple[tuple[tuple[str, float | None, str], ...], tuple[str, ...]]:
    of = {p.part: p.id for p in parts}
    rule = FitRule()
    rows: list[tuple[str, float | None, str]] = []
    points = []
    for joint in liner.joints:
        if joint.outer not in of or joint.inner not in of:
            continue
        faces = []
        for part in (joint.outer, joint.inner):
            try:
                faces.append(size_now(store, of[part], lap_control(liner, part, joint).name))
            except InputError:
                faces.append(None)
        if faces[0] is None or faces[1] is None:
            rows.append((joint.id, None, "not measured"))
            points.append(f"lap {joint.id} is not measured")
            continue
        gap = 0.5 * (faces[0] - faces[1])
        inside = rule.gap_low_mm - 1e-9 <= gap <= rule.gap_high_mm + 1e-9
        rows.append((joint.id, gap, "inside" if inside else "outside"))
        if not inside:
            points.append(f"lap {joint.id} has a gap of {gap:.3f} mm")
    return tuple(rows), tuple(points)


def _open(store: Store, liner: Liner, parts: list[Part], concessions: tuple[ConcessionLine, ...]) -> tuple[str, ...]:
    """Every open point that touches a serial in the build."""
    found = [f"concession {c.number} on {c.serial} is {c.state}" for c in concessions if c.state != "granted"]
    for part in parts:
        if part.state != "released":
            found.append(f"{part.id} is {part.state}, not released")
        found += [f"{part.id}: {f.sentence}" for f in open_findings(store, part.id) if f.level == "stop"]
        if part.revision != liner.revision:
            found.append(f"{part.id} is of revision {part.revision}, the liner of {liner.revision}")
    return tuple(found)
