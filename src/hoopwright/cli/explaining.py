"""The command that explains a figure."""

from __future__ import annotations

from pathlib import Path

from hoopwright.cli import exits
from hoopwright.cli.show import input_value, say, say_json
from hoopwright.desk.explain import Explained, explain, find
from hoopwright.desk.explain_source import figures_for
from hoopwright.findings import Source
from hoopwright.papers.numbers import band_text, figure_text


def explain_figure(identity: str, of: Path | None, shop_folder: Path | None, as_json: bool) -> int:
    """Show the working of one figure."""
    shown = explain(find(figures_for(identity, of, shop_folder), identity))
    if as_json:
        say_json(shown)
    else:
        for line in lines(shown):
            say(line)
    return exits.DONE


SAME = "the same, to the last digit printed"


def lines(shown: Explained) -> list[str]:
    """The working as lines of text."""
    figure = shown.figure
    found = [f"{figure.identity}", f"{figure.name}: {figure_text(figure)}"]
    if figure.band is not None:
        found.append(f"  in 9 of 10: {band_text(figure) or SAME}  ({figure.band.how})")
        if figure.band.inside_pct is not None:
            found.append(f"  inside the drawing tolerance: {figure.band.inside_pct:.0f} % of rings")
    found.append(f"  ground: {ground(figure.source)}")
    if shown.formula:
        found += [f"  = {shown.formula}", f"  = {shown.with_numbers}"]
    for item in shown.inputs:
        found.append(f"  {item.symbol}: {item.name} = {input_value(item.value, item.unit)}  [{ground(item.source)}]")
        if item.figure:
            found.append(f"      explained by: {item.figure}")
    if figure.note:
        found.append(f"  {figure.note}")
    return found


def ground(source: Source) -> str:
    """Basis and place of a source."""
    return f"{source.basis}: {source.where}" + (", invented" if source.invented else "")
