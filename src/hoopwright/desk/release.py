"""Release: the report of a serial from the records, what is lacking, and the release itself, which a person signs."""

from __future__ import annotations

import dataclasses
import datetime as dt
import json
from dataclasses import dataclass
from pathlib import Path

from hoopwright.design.shapes import Liner
from hoopwright.desk.folders import checked_target, write_whole
from hoopwright.desk.genealogy import genealogy, tools_of
from hoopwright.desk.in_force import expectations, needed_liner, revision_in_force
from hoopwright.desk.record_book import records, writer_or_default
from hoopwright.desk.release_rows import rows_of, statements_of
from hoopwright.errors import InputError
from hoopwright.findings import Finding
from hoopwright.measure.decision import Rule
from hoopwright.papers.release.shapes import About, ConcessionLine, FirstArticle, Row, Signed
from hoopwright.records import Store
from hoopwright.records.judging import Concession, DesignChange, KeptFinding, Paper, Release
from hoopwright.records.making import Part
from hoopwright.records.material import WeldLot, digest_of

SEGMENTS = 8
HELD_VERDICTS = ("refused", "undecided", "not measured")


@dataclass(frozen=True, slots=True)
class Released:
    """A report and what came of it. files : written. release : its number where it was signed, "" else."""

    report: FirstArticle
    files: tuple[Path, ...]
    release: str


@dataclass(frozen=True, slots=True)
class Ask:
    """What is asked. partial : only the lines that a change touches, with its reason. signed_by, office : who signs."""

    serial: str
    reason: str = ""
    partial: str = ""
    signed_by: str = ""
    office: str = ""
    statement: str = ""


def release(
    address: str | Path | None, ask: Ask, out: Path | None = None, day: dt.date | None = None, by: str | None = None
) -> Released:
    """Make the first-article report of a serial; with a signatory, release it.

    Raises
    ------
    InputError
        A release is asked for and something is lacking: each thing is named, nothing is written.
    """
    if out is not None:
        checked_target(out)
    with records(address) as store:
        report = report_of(store, ask, day or dt.date.today())
        number = ""
        if ask.signed_by or ask.office:
            report, number = _sign(store, report, ask, writer_or_default(by))
        files = _files(report)
        if out is not None:
            written = write_whole(out, files)
            _issued(store, report, files, writer_or_default(by))
            return Released(report, written, number)
    return Released(report, (), number)


def report_of(store: Store, ask: Ask, day: dt.date) -> FirstArticle:
    """The report of a serial, as the records stand."""
    kept = store.get(Part, ask.serial)
    part = kept.thing
    liner = needed_liner(store, part.liner)
    rule = Rule()
    segments = next((e.segments for e in expectations(store, part.part)), SEGMENTS)
    rows = rows_of(store, liner, ask.serial, segments, rule)
    if ask.partial:
        rows = _only_changed(store, liner, part, rows, ask.partial)
    concessions = concession_lines(store, ask.serial)
    findings = open_findings(store, ask.serial)
    lacking = _lacking(store, part, rows, concessions, findings)
    invented = liner.invented
    about = About(ask.serial, liner.id, part.revision, "", day, invented)
    report = FirstArticle(
        about, part.part, ask.serial, "partial" if ask.partial else "full", ask.reason or "first parts of this tool",
        rows, statements_of(store, liner, part.part), tools_of(store, ask.serial), genealogy(store, ask.serial),
        concessions, findings, lacking, rule.words, _signed_before(store, ask.serial),
    )  # fmt: skip
    return dataclasses.replace(report, about=dataclasses.replace(about, mark=_mark(report)))


def _mark(report: FirstArticle) -> str:
    text = json.dumps(dataclasses.asdict(dataclasses.replace(report, signed=None)), default=str, sort_keys=True)
    digest = digest_of(text)
    return f"{digest[:4]} {digest[4:8]}"


def _only_changed(store: Store, liner: Liner, part: Part, rows: tuple[Row, ...], revision: str) -> tuple[Row, ...]:
    """Lines of the plan that a design change names for this part."""
    change = store.get(DesignChange, f"{liner.id}.{revision}").thing
    impact = json.loads(change.impact or "{}")
    named = [item for thing, item in impact.get("first_article", []) if thing == part.part]
    found = tuple(r for r in rows if any(_same(r.name, item) for item in named))
    if not found:
        must = f"a change that touches {part.part}"
        raise InputError("--partial", revision, "", must, "make a full report, or name the change")
    return found


def _same(name: str, item: str) -> bool:
    """Whether a line of the inspection plan is what a change calls `item` ("lip_od", "lip roundness", "joggle")."""
    if name == item:
        return True
    if "roundness" in item:
        return name.startswith("roundness")
    return name.startswith("profile") and ("profile" in item or "joggle" in item)


def concession_lines(store: Store, serial: str) -> tuple[ConcessionLine, ...]:
    """Concessions of a serial, as papers show them."""
    return tuple(line_of(k.thing) for k in store.list(Concession, serial=serial))


def line_of(c: Concession) -> ConcessionLine:
    """A concession as a paper shows it."""
    return ConcessionLine(
        c.id, c.serial, c.characteristic, c.unit, c.measured, c.low, c.high, c.beyond, c.effect, c.disposition,
        c.state, c.asked_by, c.signed_by, c.office, c.expires, c.reason,
    )  # fmt: skip


def open_findings(store: Store, about: str) -> tuple[Finding, ...]:
    """Findings about something that nobody has answered."""
    kept = [k.thing for k in store.list(KeptFinding, about=about, state="open")]
    return tuple(Finding(f.level, f.sentence, f.remedy, f.about, f.topic, f.why) for f in kept)  # type: ignore[arg-type]


def _lacking(
    store: Store, part: Part, rows: tuple[Row, ...], concessions: tuple[ConcessionLine, ...],
    findings: tuple[Finding, ...],
) -> tuple[str, ...]:  # fmt: skip
    """Everything that stands against a release, in words."""
    found = [f"{r.name}: {r.verdict}" + (f" ({r.note})" if r.note else "") for r in rows if r.verdict in HELD_VERDICTS]
    found += [f"concession {c.number} is {c.state}" for c in concessions if c.state in ("open", "refused", "expired")]
    found += [f"open finding: {f.sentence}" for f in findings if f.level == "stop"]
    if part.state in ("on hold", "scrapped"):
        found.append(f"the serial is {part.state}" + (f" ({part.note})" if part.note else ""))
    revision = revision_in_force(store, part.liner)
    if revision is None or revision.revision != part.revision:
        now = revision.revision if revision is not None else "none"
        found.append(f"the serial is of revision {part.revision}; in force is {now}")
    if part.cast is None and part.sheet is None:
        found.append("the sheet or cast it was made from is not recorded")
    if part.weld_lot is None:
        found.append("the weld lot of its seam is not recorded")
    elif store.get(WeldLot, part.weld_lot).thing.state != "released":
        state = store.get(WeldLot, part.weld_lot).thing.state
        found.append(f"weld lot {part.weld_lot} is {state}")
    return tuple(found)


def _sign(store: Store, report: FirstArticle, ask: Ask, by: str) -> tuple[FirstArticle, str]:
    if not (ask.signed_by and ask.office and ask.reason):
        must = "given: who signs, in which office, and the reason"
        raise InputError("release", "without a name", "", must, "give --signed-by, --office and --why")
    if report.lacking:
        raise InputError(
            "release", ask.serial, "", "without anything lacking: " + "; ".join(report.lacking),
            "mend each; a computed pass is no release either",
        )  # fmt: skip
    kept = store.get(Part, ask.serial)
    count = store.count(Release, about=ask.serial) + 1
    number = f"{ask.serial}.release-{count}"
    with store.writing(by, f"released by {ask.signed_by}") as write:
        made = write.add(
            Release(
                id=number,
                liner=report.about.liner,
                about_kind="part",
                about=ask.serial,
                extent=report.extent,
                reason=ask.reason,
                statement=ask.statement,
                signed_by=ask.signed_by,
                office=ask.office,
                evidence=report.about.mark,
            )
        ).thing
        write.change(kept, state="released")
    signed = Signed(made.signed_by, made.office, report.about.date, made.statement)
    return dataclasses.replace(report, signed=signed), number


def _signed_before(store: Store, serial: str) -> Signed | None:
    found = store.list(Release, about_kind="part", about=serial, state="in force")
    if not found:
        return None
    r = found[-1].thing
    return Signed(r.signed_by, r.office, r.signed_at.date(), r.statement)


def _files(report: FirstArticle) -> dict[str, bytes]:
    from hoopwright.papers.release.first_article import first_article_pdf
    from hoopwright.papers.release.workbook import first_article_xlsx

    stem = f"{report.serial}-first-article"
    return {f"{stem}.pdf": first_article_pdf(report), f"{stem}.xlsx": first_article_xlsx(report)}


def _issued(store: Store, report: FirstArticle, files: dict[str, bytes], by: str) -> None:
    """Keep which paper was given out, with the digest of its bytes."""
    pdf = next(content for name, content in files.items() if name.endswith(".pdf"))
    with store.writing(by, "paper given out") as write:
        write.add(
            Paper(
                liner=report.about.liner,
                revision=report.about.revision,
                paper="first-article",
                about=report.serial,
                mark=report.about.mark,
                digest=digest_of(pdf),
            )
        )
