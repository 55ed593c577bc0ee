"""Commands on liner files: check, upgrade."""

from __future__ import annotations

from pathlib import Path

from hoopwright.cli import exits
from hoopwright.cli.show import finding_lines, say, say_json
from hoopwright.desk import check as desk_check
from hoopwright.desk import folders
from hoopwright.desk import upgrade as desk_upgrade


def check_file(path: Path, svg: Path | None, shop_folder: Path | None, as_json: bool) -> int:
    """Show a check report; drawings go into `svg` where it is given."""
    if svg is not None:
        folders.checked_target(svg)
    report = desk_check.check(path, shop_folder, svg is not None)
    written = folders.write_whole(svg, report.drawings) if svg is not None and report.drawings else ()
    code = exits.BAD_INPUT if report.faults else exits.DONE if report.sound else exits.STOPPED
    if as_json:
        shown = {"path": report.path, "sound": report.sound, "faults": report.faults, "findings": report.findings}
        say_json({**shown, "parts": report.parts, "drawings": written})
        return code
    for line in report.parts:
        say(line)
    if report.faults:
        say(f"{report.path}: {len(report.faults)} fault{'s' if len(report.faults) != 1 else ''}")
        for fault in report.faults:
            say(f"  {fault}")
    for line in finding_lines(report.findings):
        say(line)
    for drawing in written:
        say(f"drawn: {drawing}")
    if report.sound:
        say(f"{report.path}: no fault, nothing stops a plan")
    return code


def upgrade_file(old: Path, folder: Path, as_json: bool) -> int:
    """Show what was written and assumed."""
    done = desk_upgrade.upgrade(old, folder)
    if as_json:
        say_json(done)
        return exits.DONE
    for path in done.written:
        say(f"written: {path}")
    say("Assumed on the way; check each:" if done.assumed else "Nothing had to be assumed.")
    for line in done.assumed:
        say(f"  {line}")
    return exits.DONE
