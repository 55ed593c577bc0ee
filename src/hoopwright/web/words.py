"""Words on the page: figures with their underline, findings as sentences, numbers that do not break."""

from __future__ import annotations

import re

from markupsafe import Markup, escape

from hoopwright.findings import Figure, Finding
from hoopwright.papers.numbers import NO_BREAK, band_text, figure_text, written
from hoopwright.papers.prose import said

_NUMBER = re.compile(r"(?<![\w#./-])((?:H[A-Z]-)?\d{3}-[0-9A-Z]+(?:-S0?|-R)?|H[A-Z]-\d{3})(?![\w-])")


def whole(text: str) -> Markup:
    """Part, tool and serial numbers kept on one line."""
    return Markup(_NUMBER.sub(r'<span class="nb">\1</span>', str(escape(text))))


_MINUS = re.compile(r"(?<![\w.-])-(?=\d)")


def sentence(text: str, capital: bool = True) -> Markup:
    """A finding's words as a whole sentence; a minus before a number is a minus sign."""
    return whole(_MINUS.sub("\u2212", said(text, capital)))


def value_of(figure: Figure) -> str:
    """A figure's value; mm is the unit of the page and is not repeated."""
    return figure_text(figure, unit=figure.unit not in ("mm", "1", ""))


def why_address(liner: str, revision: str, figure: Figure | str) -> str:
    """Address of a figure's working: its identity."""
    identity = figure if isinstance(figure, str) else figure.identity
    return f"/{liner}@{revision}/why/{identity}"


def band_of(figure: Figure) -> str:
    """The band in words; "" where there is none."""
    return band_text(figure)


def count_of(findings: tuple[Finding, ...], what: str) -> str:
    """How many findings, in letters."""
    words = ("No", "One", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight", "Nine", "Ten", "Eleven", "Twelve")
    n = len(findings)
    count = words[n] if n < len(words) else str(n)
    return f"{count} finding{'' if n == 1 else 's'}{what}" + (", gravest first" if n > 1 else "")


def signed(value: float, digits: int) -> str:
    """A difference, with its sign."""
    return written(value, digits, sign=True)


def joined_unit(value: str, unit: str) -> str:
    """A value and its unit, not to be parted."""
    return f"{value}{NO_BREAK}{unit}" if unit else value
