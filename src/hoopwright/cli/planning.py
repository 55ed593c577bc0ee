"""Commands that plan: plan, demo."""

from __future__ import annotations

from pathlib import Path

from hoopwright.cli import exits
from hoopwright.cli.show import progress, say, say_json
from hoopwright.desk import planning as desk


def plan_file(
    liner: Path,
    folder: Path,
    rings: tuple[str, ...],
    date: str | None,
    shop_folder: Path | None,
    as_json: bool,
    full: bool = False,
    prove: bool = False,
) -> int:
    """Plan a liner file."""
    tell = None if as_json else progress
    day = desk.paper_date(date)
    return _shown(desk.plan_to_folder(liner, folder, rings, day, shop_folder, tell, full, prove, True), as_json)


def plan_demo(folder: Path, as_json: bool, full: bool = False, prove: bool = False) -> int:
    """Plan the demonstration liner. Its stops are part of the demonstration, so they do not fail the command."""
    written = desk.plan_demo(folder, None if as_json else progress, full, prove, True)
    _shown(written, as_json)
    if not as_json:
        say("Everything about this liner is invented. Plan your own: hoopwright plan LINER.toml --out FOLDER")
    return exits.DONE


def _shown(written: desk.Written, as_json: bool) -> int:
    code = exits.STOPPED if written.stops or written.refused else exits.DONE
    if as_json:
        say_json(written)
        return code
    for line in written.summary:
        say(line)
    for ring, reason in written.refused:
        say(f"{ring}: not planned. {reason}")
    say()
    say(f"Written to {written.folder}, inputs {written.mark}:")
    for path in written.files:
        say(f"  {path.relative_to(written.folder)}")
    if written.look_first:
        say()
        say("Look first at:")
    for number, first in enumerate(written.look_first, start=1):
        say(f"{number:3} {first.finding.level}: {first.finding.sentence}")
        say(f"      Do: {first.finding.remedy}.")
        also = f"; so also {', '.join(first.also)}" if first.also else ""
        say(f"      see {first.paper.relative_to(written.folder)}{also}")
    say()
    proven = "proven where it says so" if written.proven else "not yet proven by a proof run"
    say(f"These are calculations, {proven}, and no release. The cautions are on the papers.")
    return code
