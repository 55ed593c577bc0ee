"""Saying what a release rests on: reports, concessions, build books, genealogies."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from pathlib import Path

from hoopwright.cli import exits
from hoopwright.cli.show import finding_lines, say, say_json
from hoopwright.errors import InputError


def _day(text: str | None) -> dt.date | None:
    from hoopwright.desk.planning import paper_date

    return None if text is None else paper_date(text)


def _files(paths: Sequence[Path]) -> None:
    for path in paths:
        say(f"  {path}")


def release(
    address: str | None, asked: tuple[str, str, str, str, str, str], out: Path | None, date: str | None,
    by: str | None, as_json: bool,
) -> int:  # fmt: skip
    """The report of a serial, and its release where it is signed."""
    from hoopwright.desk.release import Ask
    from hoopwright.desk.release import release as made_release

    found = made_release(address, Ask(*asked), out, _day(date), by)
    report = found.report
    held = bool(report.lacking)
    if as_json:
        say_json(found)
        return exits.STOPPED if held else exits.DONE
    say(f"{report.serial} ({report.part}), {report.extent} report, inputs {report.about.mark}")
    for row in report.rows:
        result = f"{row.result:.3f} ± {row.expanded:.3f} {row.unit}" if row.result is not None else "no reading"
        say(f"  {row.number:2} {row.name}: {result}, {row.verdict}" + (f" ({row.note})" if row.note else ""))
    for statement in report.statements:
        say(f"  {statement.characteristic}: {statement.says}")
    for text in report.lacking:
        say(f"  lacking: {text}")
    for line in finding_lines(report.findings):
        say(line)
    if report.signed is not None:
        s = report.signed
        say(f"released by {s.name}, {s.office}, {s.day.isoformat()}" + (f" ({found.release})" if found.release else ""))
    else:
        say("not released: a computed pass is no release; a named signatory releases")
    _files(found.files)
    return exits.STOPPED if held else exits.DONE


def concession(
    address: str | None, serial: str, characteristic: str | None, effect: str, disposition: str, out: Path | None,
    date: str | None, by: str | None, as_json: bool,
) -> int:  # fmt: skip
    """Ask for a concession, or print the form of one."""
    from hoopwright.desk.concede import ask_concession, concession_form

    if characteristic is None:
        if out is None:
            raise InputError("--out", "not given", "", "a folder for the form", "name a folder")
        found = concession_form(address, serial, out, _day(date))
    else:
        if not effect.strip():
            raise InputError("--effect", "empty", "", "the effect in words", "say what the deviation does")
        found = ask_concession(address, serial, characteristic, effect, by, disposition, out, _day(date))
    if as_json:
        say_json(found)
        return exits.DONE
    line = found.line
    say(f"concession {line.number}: {line.serial} {line.characteristic} {line.measured:.3f} {line.unit}, "
        f"{line.beyond:.3f} outside, {line.state}")  # fmt: skip
    for text in found.chain:
        say(f"  {text}")
    _files(found.files)
    return exits.DONE


def book(
    address: str | None, build: str, signed: tuple[str, str, str, str], out: Path | None, date: str | None,
    by: str | None, as_json: bool,
) -> int:  # fmt: skip
    """The build book, and the release of the build where it is signed."""
    from hoopwright.desk.concede import Signature, build_book

    sign = Signature(*signed) if signed[0] or signed[1] else None
    found = build_book(address, build, out, _day(date), sign, by)
    code = exits.STOPPED if found.book.open_points else exits.DONE
    if as_json:
        say_json(found)
        return code
    say(f"{found.book.build}, inputs {found.book.about.mark}")
    for part in found.book.parts:
        say(
            f"  {part.place}: {part.serial} rev {part.revision}, {part.state}"
            + (f", {part.sizes}" if part.sizes else "")
        )
    for joint, gap, word in found.book.laps:
        say(f"  {joint}: " + (f"{gap:.3f} mm, {word}" if gap is not None else word))
    for text in found.book.open_points:
        say(f"  open: {text}")
    if found.book.signed is not None:
        say(f"released by {found.book.signed.name}, {found.book.signed.office}, {found.book.signed.day.isoformat()}")
    _files(found.files)
    return code


def line(address: str | None, serial: str, as_json: bool) -> int:
    """A genealogy."""
    from hoopwright.desk.genealogy import genealogy
    from hoopwright.desk.record_book import records

    with records(address) as store:
        links = genealogy(store, serial)
    if as_json:
        say_json(links)
        return exits.DONE
    for link in links:
        say(f"{'  ' * link.depth}{link.what} {link.id}: {link.words}")
    return exits.DONE
