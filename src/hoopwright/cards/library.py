"""Finding cards: ours, and the shop's own in its folder, which rule."""

from __future__ import annotations

import hashlib
import tomllib
from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path
from types import MappingProxyType

from hoopwright.cards.card import Card
from hoopwright.cards.reading import read_card
from hoopwright.cards.schema import SCHEMA
from hoopwright.cards.words import KINDS, WORDS
from hoopwright.errors import CardError, Fault, FileFaults

LIBRARY = Path(__file__).parent / "data"

COLD_STRENGTH = ("yield_strength_MPa", "tensile_strength_MPa", "uniform_elongation_pct", "elongation_pct")


@dataclass(frozen=True, slots=True)
class Listed:
    """A card that can be found: its kind, name, file, and whether it is the shop's own."""

    kind: str
    id: str
    title: str
    path: Path
    own: bool


def list_cards(shop_folder: Path | None = None) -> tuple[Listed, ...]:
    """Every card that can be found, the shop's own in place of ours of the same kind and name.

    Raises
    ------
    FileFaults
        A file of the shop's folder is no TOML, or two files of it carry the same card.
    CardError
        There is no such folder.
    """
    found = _ours() | (_by_name(shop_folder, own=True) if shop_folder is not None else {})
    return tuple(found[key] for key in sorted(found, key=lambda key: (KINDS.index(key[0]), key[1])))


def find_card(kind: str, card_id: str, shop_folder: Path | None = None) -> Card:
    """The card of a kind and name, completed by the card it is based on.

    Parameters
    ----------
    kind : str
        One of `words.KINDS`.
    card_id : str
        Name of the card ("N06002").
    shop_folder : Path, optional
        Folder with the shop's own cards (any TOML files below it); a card there rules over ours.

    Raises
    ------
    CardError
        No such card; the message lists what there is.
    FileFaults
        The card, or one it is based on, is faulty.
    """
    if kind not in KINDS:
        raise CardError(f"There is no kind of card called {kind}; there is: {', '.join(KINDS)}.")
    return _completed(kind, card_id, shop_folder, ())


def _completed(kind: str, card_id: str, shop_folder: Path | None, below: tuple[Path, ...]) -> Card:
    path = _path(kind, card_id, shop_folder, below)
    card = read_card(path)
    if card.based_on:
        card = _merged(_completed(kind, card.based_on, shop_folder, (*below, path)), card)
    _check_curves(card)
    return card


def _path(kind: str, card_id: str, shop_folder: Path | None, below: tuple[Path, ...]) -> Path:
    """File of a card; a card based on its own name means the one that it hides."""
    theirs = _by_name(shop_folder, own=True) if shop_folder is not None else {}
    for cards in (theirs, _ours()):
        listed = cards.get((kind, card_id))
        if listed is not None and listed.path not in below:
            return listed.path
    known = ", ".join(sorted({listed.id for listed in list_cards(shop_folder) if listed.kind == kind})) or "none"
    where = f" (asked for by {below[-1]})" if below else ""
    raise CardError(
        f"There is no {kind} card called {card_id}{where}; there is: {known}. "
        f"Do: take one of these, or enter a card of your own in the shop's card folder."
    )


def _merged(base: Card, card: Card) -> Card:
    """The card with everything it does not say itself taken from the card it is based on."""
    flows = dict(base.flows)
    if any(name in card.figures for name in COLD_STRENGTH) or "tensile_sheet" in card.tables:
        flows.pop("first", None)
    return replace(
        card,
        title=card.title or base.title,
        family=card.family or base.family,
        condition=card.condition or base.condition,
        range_of_use=card.range_of_use or base.range_of_use,
        digest=hashlib.sha256(f"{base.digest}{card.digest}".encode()).hexdigest(),
        figures=MappingProxyType({**base.figures, **card.figures}),
        tables=MappingProxyType({**base.tables, **card.tables}),
        flows=MappingProxyType({**flows, **card.flows}),
        notes=(*card.notes, *base.notes),
        vocabulary=WORDS[card.kind].figures,
    )


def _check_curves(card: Card) -> None:
    if "first" in card.flows:
        from hoopwright.cards.curves import first_curve_faults

        faults = first_curve_faults(card)
        if faults:
            raise FileFaults(card.path, faults)


@lru_cache(maxsize=1)
def _ours() -> dict[tuple[str, str], Listed]:
    """The shipped cards; they do not change while the program runs."""
    return _by_name(LIBRARY, own=False)


def _by_name(folder: Path, own: bool) -> dict[tuple[str, str], Listed]:
    """The cards below a folder by kind and name. Raises FileFaults where two files carry the same card."""
    if not folder.is_dir():
        raise CardError(f"There is no card folder {folder}. Do: make it, or name another.")
    found: dict[tuple[str, str], Listed] = {}
    for path in sorted(folder.rglob("*.toml")):
        stat = path.stat()
        head = _head(path, stat.st_mtime_ns, stat.st_size)
        if head is None:
            continue
        listed = Listed(*head, path, own)
        if (listed.kind, listed.id) in found:
            must = f"in one file only; it is in {found[listed.kind, listed.id].path} too"
            raise FileFaults(str(path), [Fault("id", listed.id, "", must, "remove or rename one of the two")])
        found[listed.kind, listed.id] = listed
    return found


@lru_cache(maxsize=1024)
def _head(path: Path, _changed_ns: int, _size: int) -> tuple[str, str, str] | None:
    """Kind, name and title of a card file; None for a TOML file of another format."""
    try:
        data = tomllib.loads(path.read_text(encoding="utf-8-sig"))
    except (UnicodeDecodeError, tomllib.TOMLDecodeError):
        read_card(path)
        raise
    if not str(data.get("schema", "")).startswith(SCHEMA.rpartition("-")[0]):
        return None
    kind, card_id = data.get("kind"), data.get("id")
    if kind not in KINDS or not isinstance(card_id, str):
        read_card(path)
        return None
    return kind, card_id, str(data.get("title", ""))
