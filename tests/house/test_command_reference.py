"""The page on the commands shows every command, argument, option and default, and hides what is hidden."""

from __future__ import annotations

from typing import Annotated

import typer

from docs.command_reference import page

app = typer.Typer(help="Work on hoops.")
below = typer.Typer(help="Look at cards.")
app.add_typer(below, name="cards")


@app.command()
def roll(
    strip: Annotated[str, typer.Argument(help="The strip file.")],
    gap_mm: Annotated[float, typer.Option(help="Roll gap; a|b.")] = 1.5,
) -> None:
    """Roll a strip.

    It comes back round.
    """


@app.command(hidden=True)
def secret() -> None:
    """Not shown."""


@below.command("list")
def list_cards() -> None:
    """List the cards."""


def test_every_command_is_shown() -> None:
    text = page(app, "shop")
    headings = [row for row in text.splitlines() if row.startswith("#")]
    assert headings == ["# Commands", "## `shop`", "### `shop cards`", "#### `shop cards list`", "### `shop roll`"]
    assert "Roll a strip." in text
    assert "It comes back round." in text
    assert "secret" not in text


def test_arguments_options_and_defaults_are_shown() -> None:
    rows = page(app, "shop").splitlines()
    assert any(row.startswith("| `strip") and "The strip file." in row and "required" in row for row in rows)
    assert any(row.startswith("| `--gap-mm") and "a\\|b" in row and "1.5" in row for row in rows)
    assert any(row.startswith("    shop roll [OPTIONS]") for row in rows)


def test_same_program_same_page() -> None:
    assert page(app, "shop") == page(app, "shop")
