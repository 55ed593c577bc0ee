"""Commands of the tool room: tools, paper."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

from hoopwright.cli import exits
from hoopwright.cli.show import finding_lines, say, say_json
from hoopwright.desk.one_tool import make_paper, make_tool
from hoopwright.desk.paper_names import PAPER_NAMES
from hoopwright.errors import InputError


def tool_command(
    tool: str, of: Path | None, out: Path | None, date: str | None, cards: Path | None, as_json: bool
) -> int:
    """Build, check and write one tool."""
    report = make_tool(tool, of, out, _day(date), cards, both_cores=True)
    code = exits.DONE if report.passed and not any(f.level == "stop" for f in report.findings) else exits.STOPPED
    if as_json:
        say_json(report)
        return code
    good = sum(check.ok for check in report.checks)
    say(f"{report.tool}, inputs {report.mark}: {good} of {len(report.checks)} standing checks hold")
    for check in report.checks:
        say(
            f"  {'holds' if check.ok else 'FAILS'}  {check.name}: {check.value:.6g} {check.sense} "
            f"{check.limit:.6g} {check.unit}".rstrip()
        )
    for line in finding_lines(report.findings):
        say(line)
    _files(report.files)
    return code


def paper_command(
    name: str, ring: str, of: Path | None, out: Path | None, date: str | None, cards: Path | None, as_json: bool,
    records: str | None = None,
) -> int:  # fmt: skip
    """Write one paper, or name them all."""
    if name == "list":
        if as_json:
            say_json(list(PAPER_NAMES))
        else:
            for one in PAPER_NAMES:
                say(one)
        return exits.DONE
    if not ring:
        raise InputError("--ring", "not given", "", "a ring of the liner", "name the ring, such as --ring HD-402")
    report = make_paper(name, ring, of, out or Path(f"{ring}-papers"), _day(date), cards, records)
    code = exits.STOPPED if report.held else exits.DONE
    if as_json:
        say_json(report)
        return code
    say(f"{report.ring}, {report.paper}, inputs {report.mark}" + (f": held back. {report.held}" if report.held else ""))
    _files(report.files)
    return code


def _day(text: str | None) -> dt.date | None:
    if text is None:
        return None
    from hoopwright.desk.planning import paper_date

    return paper_date(text)


def _files(paths: tuple[Path, ...]) -> None:
    for path in paths:
        say(f"  {path}")
