"""What do I set? One job, three numbers, big targets; and the list of rings to set for."""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass
from typing import Any

from markupsafe import Markup

from hoopwright.desk.page.press import PressCard, press_card
from hoopwright.desk.page.serials import SerialShown, serials
from hoopwright.papers.pictures.press_view import press_view
from hoopwright.web.drawing import screen
from hoopwright.web.shell import Page, page
from hoopwright.web.state import Shop


@dataclass(frozen=True, slots=True)
class PressView:
    """The card as a page: what a tablet keeps stands in `card` as JSON."""

    card: PressCard
    data: Markup
    pictures: tuple[Markup, ...]
    title: str


@dataclass(frozen=True, slots=True)
class SetView:
    """Serials of a ring."""

    ring: str
    serials: tuple[SerialShown, ...]
    next_serial: str


def card_data(card: PressCard) -> dict[str, Any]:
    """The card as plain data."""
    return asdict(card)


def press_view_of(shop: Shop, serial: str) -> PressView:
    """The card of one ring."""
    card = press_card(shop.job, serial)
    quarter = card.index_deg
    text = json.dumps(card_data(card), ensure_ascii=True).replace("<", "\\u003c")
    pictures = tuple(
        screen(press_view(card.segments, old, new), look=look)
        for old, new, look in (
            (None, quarter, "first"), (quarter, -quarter, "odd"), (-quarter, quarter, "even"),
        )
    )  # fmt: skip
    return PressView(card, Markup(text), pictures, f"{serial} at the press")


def set_page(shop: Shop, ring: str, revision: str) -> tuple[Page, SetView]:
    """Rings of one number, to choose one for the press."""
    rows, following = serials(shop.job, ring)
    name = shop.job.revision(revision).name
    open_ = sum(not row.finished for row in rows)
    said = (
        f"{len(rows)} rings of {ring} are in the records, {open_} of them still to be set for."
        if rows
        else f"No ring of {ring} is in the records yet. Take the first one: {following}."
    )
    head = page(shop, "press", f"{ring}: what do I set?", f"What do I set for {ring}?", said, name, ring, wide=True)
    return head, SetView(ring, rows, following)
