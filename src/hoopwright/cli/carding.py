"""Commands on cards: list, show, make one from tensile tests."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from hoopwright.cli import exits
from hoopwright.cli.show import figure_line, say, say_json
from hoopwright.desk import cards as desk
from hoopwright.errors import InputError


def show_cards(name: str | None, folder: Path | None, as_json: bool) -> int:
    """List all cards, or show one."""
    if name is None:
        listed = desk.cards(folder)
        if as_json:
            say_json(listed)
            return exits.DONE
        for one in listed:
            say(f"{one.kind + '/' + one.id:28} {'shop  ' if one.own else 'built in'}  {one.title}")
        return exits.DONE
    shown = desk.card(name, folder)
    if as_json:
        say_json(shown)
        return exits.DONE
    say(f"{shown.kind}/{shown.id}: {shown.title}")
    for figure in shown.figures:
        say(f"  {figure_line(figure)}")
        say(f"      {figure.source.where}{' (invented)' if figure.source.invented else ''}")
    if shown.tables:
        say("  tables: " + ", ".join(shown.tables))
    for note in shown.notes:
        say(f"  {note}")
    say(f"  file: {shown.path}")
    return exits.DONE


@dataclass(frozen=True, slots=True)
class Test:
    """Tensile tests as named on the command line: files, directions [deg], width, thickness, gauge length [mm]."""

    __test__ = False

    files: tuple[Path, ...]
    directions_deg: tuple[float, ...]
    width_mm: float | None
    thickness_mm: float | None
    gauge_length_mm: float | None


def enter_tests(
    test: Test, card: str, entered_by: str, based_on: str, cast: str, folder: Path, overwrite: bool, as_json: bool
) -> int:
    """Make a card from tests."""
    directions = test.directions_deg or (0.0,) * len(test.files)
    if len(directions) != len(test.files):
        raise InputError(
            "--direction", len(directions), "", f"one for each of the {len(test.files)} files", "repeat it"
        )
    specimens = [
        desk.Specimen(path, direction, test.width_mm, test.thickness_mm, test.gauge_length_mm)
        for path, direction in zip(test.files, directions, strict=True)
    ]
    titles = desk.Titles(card, entered_by, based_on=based_on, cast=cast)
    path, law, rms = desk.card_from_tests(specimens, titles, folder, overwrite)
    if as_json:
        say_json({"card": path, "law": law, "rms_MPa": rms})
        return exits.DONE
    say(f"written: {path}")
    say(f"flow curve: {law}, misfit {rms:.1f} MPa (root mean square)")
    say("A second person checks the card and signs checked_by before it is planned with.")
    return exits.DONE
