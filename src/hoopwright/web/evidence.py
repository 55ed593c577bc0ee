"""A page made of drawings, tables and figures in sections: what most questions need under their answer."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from markupsafe import Markup, escape

from hoopwright.papers.cautions import RULE, Caution
from hoopwright.web.shown import FigureShown, FindingShown, Key
from hoopwright.web.words import whole


@dataclass(frozen=True, slots=True)
class Table:
    """A table. right : columns of numbers. on : row to be picked out."""

    caption: str
    heads: tuple[str, ...]
    rows: tuple[tuple[Markup, ...], ...]
    right: frozenset[int] = frozenset()
    on: int | None = None


@dataclass(frozen=True, slots=True)
class Section:
    """One piece of evidence under its heading; `anchor` is its place in the page's address."""

    heading: str = ""
    drawings: tuple[Markup, ...] = ()
    tables: tuple[Table, ...] = ()
    figures: tuple[FigureShown, ...] = ()
    text: Markup = field(default_factory=Markup)
    anchor: str = ""
    solid: str = ""


@dataclass(frozen=True, slots=True)
class Evidence:
    """What stands under the answer."""

    sections: tuple[Section, ...]
    findings: tuple[FindingShown, ...]
    heading: str
    keys: tuple[Key, ...] = ()
    foot: str = ""
    three: bool = False
    cautions: tuple[Caution, ...] = ()
    rule: str = RULE


def table(
    caption: str,
    heads: Sequence[str],
    rows: Sequence[Sequence[object]],
    right: Sequence[int] = (),
    on: int | None = None,
) -> Table:
    """A table of words and links; what is no markup is escaped."""
    made = tuple(tuple(c if isinstance(c, Markup) else whole(str(c)) for c in row) for row in rows)
    return Table(caption, tuple(heads), made, frozenset(right), on)


def link(href: str, words: str) -> Markup:
    """A link."""
    return Markup(f'<a href="{escape(href)}">{escape(words)}</a>')
