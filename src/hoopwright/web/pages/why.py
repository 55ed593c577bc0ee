"""The working of a figure: formula, the same with numbers, each input with its own ground and its own address."""

from __future__ import annotations

import re
from dataclasses import dataclass

from markupsafe import Markup, escape

from hoopwright.desk.explain import Explained, number_text
from hoopwright.desk.page.working import working
from hoopwright.findings import Input, Source
from hoopwright.papers.numbers import band_text, figure_text, with_unit
from hoopwright.papers.pictures.basis import BASIS_WORDS
from hoopwright.web.shell import Page, page
from hoopwright.web.state import Shop
from hoopwright.web.words import why_address

_SYMBOL = re.compile(r"^([A-Za-zα-ωΑ-Ω]+)_([A-Za-z0-9]+)$")


@dataclass(frozen=True, slots=True)
class InputRow:
    """One input of the working."""

    symbol: Markup
    name: str
    value: str
    basis: str
    ground: str
    href: str


@dataclass(frozen=True, slots=True)
class WorkingView:
    """The working as a template shows it."""

    identity: str
    name: str
    value: str
    basis: str
    formula: Markup
    with_numbers: Markup
    inputs: tuple[InputRow, ...]
    ground: str
    band: str
    how: str
    inside: str
    note: str


def why_page(
    shop: Shop, identity: str, revision: str, moved: tuple[tuple[str, float], ...] = ()
) -> tuple[Page, WorkingView]:
    """The working of a figure as a page of its own."""
    found = working(shop.job, identity, revision, moved)
    name = shop.job.revision(revision).name
    figure = found.figure
    rings = {ring.id for ring in shop.job.current().liner.rings}
    ring = next((r for r in rings if identity.startswith(r)), "")
    said = f"{figure.name[0].upper()}{figure.name[1:]}: {figure_text(figure)}."
    head = page(shop, "", f"{figure.name}: why?", f"Why is it so? {identity}", said, name, ring)
    return head, view_of(shop, found, name)


def view_of(shop: Shop, found: Explained, revision: str) -> WorkingView:
    """A working arranged."""
    figure = found.figure
    at = (shop.job.current().liner.id, revision)
    band = figure.band
    inside = "" if band is None or band.inside_pct is None else f"{band.inside_pct:.0f} of 100 fall inside the drawing."
    return WorkingView(
        figure.identity,
        figure.name,
        figure_text(figure),
        figure.source.basis,
        _formula(found.formula),
        _formula(found.with_numbers),
        tuple(_input(item, at) for item in found.inputs),
        _ground(figure.source),
        band_text(figure),
        "" if band is None else band.how,
        inside,
        figure.note,
    )


def _ground(source: Source) -> str:
    return f"{BASIS_WORDS[source.basis]}: {source.where}" + (", invented" if source.invented else "")


def _input(item: Input, at: tuple[str, str]) -> InputRow:
    if isinstance(item.value, str):
        value = f"{item.value} {item.unit}".strip()
    else:
        digits = len(number_text(item).replace("\u202f", "").partition(".")[2])
        value = number_text(item) if "e" in number_text(item) else with_unit(item.value, digits, item.unit)
    href = why_address(*at, item.figure) if item.figure else ""
    return InputRow(_token(item.symbol), item.name, value, item.source.basis, _ground(item.source), href)


def _formula(text: str) -> Markup:
    """A formula with its symbols in italics and their feet below the line."""
    return Markup(" ").join(_token(token) for token in text.split(" ")) if text else Markup("")


def _token(token: str) -> Markup:
    foot = _SYMBOL.match(token)
    if foot:
        return Markup(f"<i>{escape(foot.group(1))}</i><sub>{escape(foot.group(2))}</sub>")
    if token.isalpha() and token not in ("ln", "exp", "sin", "cos", "tan", "pi", "sqrt", "min", "max"):
        return Markup(f"<i>{escape(token)}</i>")
    return Markup(str(escape(token.replace("pi", "π") if token == "pi" else token)))
