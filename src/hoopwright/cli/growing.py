"""Commands of the hot build: grow, seal."""

from __future__ import annotations

from pathlib import Path

from hoopwright.cli import exits
from hoopwright.cli.show import figure_line, finding_lines, say
from hoopwright.desk import grow as desk_grow
from hoopwright.desk import seal as desk_seal
from hoopwright.desk.hot_build import HotReport
from hoopwright.desk.planning import paper_date


def grow_file(
    liner: Path,
    folder: Path | None,
    history: Path | None,
    drawn_hot: bool,
    date: str | None,
    shop: Path | None,
    as_json: bool,
) -> int:
    """Show growth and joints; with `drawn_hot` the cold sizes of a file whose sizes are hot."""
    if drawn_hot:
        for line in desk_grow.cold_lines(liner, shop):
            say(line)
        return exits.DONE
    return _shown(desk_grow.grow(liner, folder, history, paper_date(date), shop), as_json)


def seal_file(
    liner: Path, folder: Path | None, history: Path | None, date: str | None, shop: Path | None, as_json: bool
) -> int:
    """Show float, leak and springs."""
    return _shown(desk_seal.seal(liner, folder, history, paper_date(date), shop), as_json)


def _shown(report: HotReport, as_json: bool) -> int:
    code = exits.STOPPED if report.stops else exits.DONE
    if as_json:
        say(report.text.rstrip("\n"))
        return code
    for figure in report.headline:
        say(figure_line(figure))
    for line in finding_lines(report.findings):
        say(line)
    for path in report.files:
        say(f"written: {path}")
    return code
