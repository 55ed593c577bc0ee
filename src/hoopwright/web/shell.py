"""What every page has: map inset, question, answer, stamp, and the line of questions."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from urllib.parse import quote

from markupsafe import Markup

from hoopwright.papers.pictures.inset_map import inset_map
from hoopwright.web.drawing import screen
from hoopwright.web.state import Shop
from hoopwright.web.words import whole


@dataclass(frozen=True, slots=True)
class Ask:
    """One question of the line."""

    words: str
    href: str
    here: bool


@dataclass(frozen=True, slots=True)
class Page:
    """Head of a page. inset : the liner's section as map, None where the map is the page."""

    title: str
    liner: str
    revision: str
    question: Markup
    answer: Markup
    stamp: tuple[str, ...]
    asks: tuple[Ask, ...]
    inset: Markup | None
    pulse: int
    under: str = "annular liner, to scale"
    wide: bool = False


def asks_for(liner: str, revision: str, ring: str, later: str, here: str) -> tuple[Ask, ...]:
    """The ten questions; they keep the part. later : revision to compare with."""
    at = f"/{quote(liner)}@{quote(revision)}"
    part = f"{at}/{quote(ring)}"
    rows = (
        ("board", "Where are we?", at),
        ("drawing", "What is wanted?", part),
        ("made", "How is it made?", f"{part}/made"),
        ("tools", "Which tools?", f"{part}/tools"),
        ("press", "What do I set?", f"{part}/set"),
        ("readings", "What came out?", f"{part}/readings"),
        ("fits", "Does it fit?", f"{at}/fits"),
        ("growth", "How does it grow?", f"{at}/growth"),
        ("change", "What if it changes?", f"/{quote(liner)}/{quote(revision)}..{quote(later)}"),
        ("papers", "What goes out?", f"{part}/papers"),
    )
    return tuple(Ask(words, href, key == here) for key, words, href in rows)


def page(
    shop: Shop,
    here: str,
    title: str,
    question: str,
    answer: str,
    revision: str = "",
    ring: str = "",
    on: tuple[str, ...] = (),
    inset: bool = True,
    wide: bool = False,
    more: tuple[str, ...] = (),
) -> Page:
    """The head of one page.

    Parameters
    ----------
    here : which question this page answers. ring : part that the other questions keep. on : parts drawn thick on
        the map. more : further lines of the stamp.
    """
    found = shop.job.revision(revision)
    liner = found.liner
    part = ring or shop.part_kept(liner)
    stamp = [*(("demonstration, all data invented",) if liner.invented else ()), *more, f"inputs {found.digest[:8]}"]
    return Page(
        title,
        liner.id,
        found.name,
        whole(question),
        whole(answer),
        tuple(stamp),
        asks_for(liner.id, found.name, part, shop.later(found.name), here),
        small_map(shop, found.name, here, on or ((ring,) if ring else ())) if inset else None,
        shop.job.pulse,
        wide=wide,
    )


WHERE: Mapping[str, str] = {
    "drawing": "",
    "made": "/made",
    "tools": "/tools",
    "press": "/set",
    "readings": "/readings",
    "papers": "/papers",
}
"""What follows a part in the address, by question; other questions lead to how the part is made."""


def small_map(shop: Shop, revision: str, here: str, on: tuple[str, ...]) -> Markup:
    """The liner's own section as map; choosing a part keeps the question."""
    liner = shop.job.revision(revision).liner
    tail = WHERE.get(here, "/made")
    links = {ring.id: f"/{liner.id}@{revision}/{ring.id}{tail}" for ring in liner.rings}
    key = ("small map", liner, revision, here, on)
    z0 = min(ring.section.bounds[0] for ring in liner.rings)
    z1 = max(ring.section.bounds[2] for ring in liner.rings)
    scale = 50.0 / max(z1 - z0, 1.0)
    made: Markup = shop.job.remembered(key, lambda: screen(inset_map(liner, on, links), scale, look="map"))
    return made
