"""Saying what the records ask for: diagnosis, correction, fits, design change."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from hoopwright.cli import exits
from hoopwright.cli.options import pairs_of
from hoopwright.cli.show import finding_lines, say, say_json
from hoopwright.errors import InputError
from hoopwright.findings import Finding

if TYPE_CHECKING:
    from hoopwright.desk.change import ChangeShown
    from hoopwright.desk.diagnose import Weighing

SHOWN_FIGURES = 8
YES, NO = ("yes", "y", "1", "true"), ("no", "n", "0", "false")


def _code(findings: Iterable[Finding]) -> int:
    return exits.STOPPED if any(f.level == "stop" for f in findings) else exits.DONE


def _keep(address: str | None, about: str, findings: Sequence[Finding], by: str | None) -> None:
    from hoopwright.desk.findings_kept import keep

    keep(address, about, findings, by)


def _findings(findings: Sequence[Finding]) -> None:
    for line in finding_lines(findings):
        say(line)


def correct(
    address: str | None, serial: str, hit: int | None, as_json: bool, keep: bool = False, by: str | None = None
) -> int:
    """The next hit of a ring, or no correction and why; then the next ring."""
    from hoopwright.desk.correct import correct as asked

    found = asked(address, serial, hit)
    if keep:
        _keep(address, serial, found.findings, by)
    if as_json:
        say_json(found)
        return _code(found.findings)
    say(f"{found.serial} ({found.ring}), hit {found.hit}, stop {found.stop_mm:.2f} mm, set {found.segment_set}")
    for s in found.stations:
        off = s.free_mm - s.target_mm
        say(f"  {s.name}: {s.free_mm:.3f} read, {s.expected_mm:.3f} expected, {s.target_mm:.2f} ± {s.tolerance_mm:.2f} "
            f"wanted: {off:+.3f}, {'inside' if s.inside else 'outside'}")  # fmt: skip
    if found.rests_on:
        say(f"  expected from the plan and from: {'; '.join(found.rests_on)}")
    same = found.same_ring
    if same is not None:
        say(
            f"next hit: stop {same.move_mm:+.2f} mm, to {same.stop_mm:.2f}; "
            f"turn the ring {same.index_deg:.2f} deg, mirrored"
        )
        after = ", ".join(f"{name} {value:.3f}" for name, value in same.after)
        say(f"  extra stretch {100 * same.strain_share:.3f} %, lobes {same.lobes_mm:.3f} mm; then {after}")
    ahead = found.next_ring
    if ahead is not None:
        say(
            f"next ring of {ahead.cast}, from {ahead.rings} ring{'s' if ahead.rings != 1 else ''}: "
            f"stop {ahead.stop_mm:.2f} mm"
        )
        for name, mean, low, high, inside in ahead.stations:
            say(f"  {name}: {mean:.3f} ({low:.3f} to {high:.3f} in 9 of 10), inside with {100 * inside:.0f} %")
        for offer in ahead.offers:
            sizes = ", ".join(f"{name} {size:+.3f}" for name, size in offer.sizes if abs(size) > 5e-4) or "leave all"
            say(f"  {' and '.join(offer.actions) or 'nothing'}: {sizes} mm on diameter, {offer.minutes:.0f} min, "
                f"inside with {100 * offer.chance:.0f} %")  # fmt: skip
    _findings(found.findings)
    return _code(found.findings)


def diagnose(
    address: str | None, subject: str, row: int | None, signs: Sequence[str], also: Sequence[str],
    seam_deg: float | None, radius_mm: float | None, as_json: bool, keep: bool = False,
    by: str | None = None,
) -> int:  # fmt: skip
    """Weigh a serial's readings, a row of the catalogue, or find rows by words."""
    if row is not None:
        return _symptom(row, pairs_of(signs, "--sign"), as_json)
    if subject and " " in subject.strip():
        return _symptoms(subject, as_json)
    numbers = {name: _number(name, said) for name, said in pairs_of(also, "--also").items()}
    from hoopwright.desk.diagnose import diagnose_part

    found = diagnose_part(address, subject, numbers, seam_deg, radius_mm)
    if keep:
        _keep(address, subject, found.findings, by)
    if as_json:
        say_json(found)
        return _code(found.findings)
    say(f"{found.serial} ({found.ring})")
    for turn in found.turns:
        say(f"  {turn.reading}: {turn.readings} readings, {turn.held}; minimum zone {turn.minimum_zone_mm:.3f} mm")
        seen = ", ".join(f"{k}: {a:.3f} at {c:.1f} deg" for k, a, c, _ in turn.orders)
        say(f"    orders seen: {seen or 'none'}")
    for name, value in found.seen:
        say(f"  {name} {value:+.3f}")
    if found.diagnosis is not None:
        _ranking(found.diagnosis)
    _findings(found.findings)
    return _code(found.findings)


def _ranking(found: Weighing) -> None:
    for cause in found.ranked[:4]:
        weighed = ", ".join(f"{w.measurement} {w.evidence:+.1f}" for w in cause.weighed)
        say(f"  {cause.word}: {cause.name} {100 * cause.share:.0f} %" + (f" ({weighed})" if weighed else ""))
    if found.note:
        say(f"  {found.note}")
    if found.named:
        say(f"  Do: {found.correction}")
    for name, bits in found.next_measurements[:3]:
        say(f"  next: {name} ({bits:.3f} bit a minute)")


def _number(name: str, said: str) -> float:
    try:
        return float(said.replace(",", "."))
    except ValueError:
        raise InputError(name, said, "", "a number", "write it as a number") from None


def _symptom(row: int, signs: Mapping[str, str], as_json: bool) -> int:
    seen: dict[str, bool] = {}
    for name, said in signs.items():
        if said.lower() not in (*YES, *NO):
            raise InputError(f"--sign {name}", said, "", "yes or no", "say whether the sign is there")
        seen[name] = said.lower() in YES
    from hoopwright.desk.diagnose import diagnose_symptom

    found = diagnose_symptom(row, seen)
    if as_json:
        say_json(found)
        return exits.DONE
    say(f"{found.row.number} {found.row.symptom} ({found.row.operation})")
    for cause in found.ranked:
        say(f"  {cause.word}: {cause.name} {100 * cause.share:.0f} %")
    for one in found.row.causes:
        say(f"  sign of {one.name}: {one.sign}")
    say(f"  what separates them: {found.row.separate}")
    if found.next_sign:
        say(f"  look next: {found.next_sign}")
    if found.correction:
        say(f"  Do: {found.correction}")
    return exits.DONE


def _symptoms(words: str, as_json: bool) -> int:
    from hoopwright.desk.diagnose import symptoms

    rows = symptoms(words)
    if as_json:
        say_json(rows)
        return exits.DONE
    for row in rows[:8]:
        say(f"{row.number:3} {row.symptom} ({row.operation})")
    say("--row NUMBER shows a row" if rows else "no row of the catalogue holds these words")
    return exits.DONE


def fit(address: str | None, serials: Sequence[str], as_json: bool) -> int:
    """Gaps of the laps and the stretches that mend them."""
    from hoopwright.desk.fit import fit as asked

    found = asked(address, tuple(serials))
    fits = found.fits
    if as_json:
        say_json(found)
        return _code(fits.findings)
    for gap in fits.gaps:
        say(f"{gap.joint}: gap {gap.gap_mm:.3f} mm, {gap.word}" + ("" if gap.parts_inside else ", a part is outside"))
    for choice in fits.choices:
        rings = ", ".join(f"{s.ring} {s.change_mm:+.3f} (pin {s.stop_mm:+.2f})" for s in choice.stretches) or "none"
        word = "stretch" if choice.feasible else "best there is, not enough: stretch"
        say(f"{word}: {rings}; smallest margin {round(min((m for _, m in choice.margins), default=0.0), 2) + 0.0:.2f}, "
            f"all inside with {100 * choice.chance_all:.0f} %")  # fmt: skip
    for seam in found.seams:
        word = "clear" if seam.ok else "breaks a rule"
        hole = f"; hole edge {seam.hole_edge_mm:.2f} mm away" if math.isfinite(seam.hole_edge_mm) else ""
        say(f"{seam.ring}: seam {seam.seam_deg:g} deg, {word}{hole}")
    for note in found.notes:
        say(f"note: {note}")
    _findings(fits.findings)
    return _code(fits.findings)


def stock(address: str | None, liners: int, as_json: bool) -> int:
    """Serials from the stock: swapped first, stretched only where that is not enough."""
    from hoopwright.desk.fit import fit_from_stock as asked

    found = asked(address, liners)
    short = any(not stack.choice.feasible for stack in found.stacks)
    if as_json:
        say_json(found)
        return exits.STOPPED if short else exits.DONE
    for stack in found.stacks:
        choice = stack.choice
        held = "" if choice.feasible else ", a limit does not hold"
        say(f"{', '.join(choice.serials)}: smallest margin {round(choice.smallest, 2) + 0.0:.2f}{held}")
        best = stack.fits.choices[0]
        for one in best.stretches:
            say(f"  stretch {one.ring} {one.change_mm:+.3f} (pin {one.stop_mm:+.2f})")
        say(f"  all inside with {100 * best.chance_all:.0f} %")
    for serial, lack in found.left_out:
        say(f"left out: {serial} ({lack} not measured)")
    return exits.STOPPED if short else exits.DONE


def change(address: str | None, file: Path | None, revision: str, taken_by: str | None, why: str, as_json: bool) -> int:
    """The impact list; with a name, the change is taken."""
    from hoopwright.desk.change import change as asked

    if file is None:
        raise InputError("file", "none", "", "a changes file, or --to with a liner file", "name what changes")
    found = asked(address, file, revision, taken_by, why)
    if as_json:
        say_json(found)
    else:
        _impact(found)
    return _code(found.impact.findings)


@dataclass(frozen=True, slots=True)
class RevisionFiles:
    """The new revision; the older one, the changes file with dates and days, the register: None where not given."""

    new: Path
    old: Path | None
    changes: Path | None
    register: Path | None


def revise(
    address: str | None, files: RevisionFiles, revision: str, taken_by: str | None, why: str, as_json: bool
) -> int:
    """Two revisions compared; with a name, the change is taken."""
    from hoopwright.desk.revise import revise as asked
    from hoopwright.papers.numbers import figure_text

    answer = asked(address, files.new, files.old, files.changes, files.register, revision, taken_by, why)
    impact = answer.shown.impact
    if as_json:
        say_json(answer)
        return _code(impact.findings)
    for difference in answer.found.differences:
        say(f"  {difference.sentence}")
    _impact(answer.shown)
    for joint, old, new in answer.found.laps:
        say(f"  lap {joint}: radial gap {old:.3f} to {new:.3f} mm")
    for ring in dict.fromkeys(ring for ring, _, _ in answer.found.figures):
        rows = [(one, two) for name, one, two in answer.found.figures if name == ring]
        say(f"  {ring}: {len(rows)} figures print another value, among them:")
        for one, two in rows[:SHOWN_FIGURES]:
            say(f"    {one.name}: {figure_text(one)} → {figure_text(two)}")
    say(f"  the same in both: {', '.join(answer.found.untouched) or 'no ring'}")
    return _code(impact.findings)


def _impact(found: ChangeShown) -> None:
    """The impact list as lines."""
    impact = found.impact
    say(f"{found.liner} to revision {found.revision} ({found.state}): {found.words}")
    for tool in impact.tools:
        if tool.verdict != "unaffected":
            say(f"  {tool.verdict}: {tool.kind} {tool.tool}. {tool.reason}")
    say(f"  unaffected: {', '.join(t.tool for t in impact.tools if t.verdict == 'unaffected')}")
    for part in impact.parts:
        strain = f" by {100 * part.strain_log:.3f} %" if part.verdict == "re-stretch" else ""
        say(f"  {part.verdict}: {part.serial} {part.zone}{strain}. {part.reason}")
    for control in impact.controls:
        say(f"  {control.part} {control.name}: {control.old_mm:.2f} to {control.new_mm:.2f} mm")
    for joint, old, new in impact.slots:
        say(f"  slot {joint}: {old:.2f} to {new:.2f} mm")
    for thing, feature, _ in impact.papers:
        say(f"  to renew: {thing} {feature}")
    for thing, feature in impact.first_article:
        say(f"  first article, partial: {thing} {feature}")
    for number, plan in enumerate(impact.plans, 1):
        say(f"  plan {number}: {', '.join(plan.order)}; done after {plan.end_days:g} working days")
        for milestone in plan.milestones:
            say(f"    {milestone.date:%Y-%m-%d} {milestone.name}")
    for serial in found.left:
        say(f"  not walked: {serial}, whose number does not begin with its ring's")
    for line in found.done:
        say(f"  done: {line}")
    _findings(impact.findings)
