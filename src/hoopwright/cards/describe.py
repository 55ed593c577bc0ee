"""Pages made from the program: every key of every kind of card, and the JSON Schema of the card format."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping

from hoopwright.cards.alloy_words import LAW_CONSTANTS
from hoopwright.cards.quantities import Quantity
from hoopwright.cards.schema import SCHEMA, CardShape
from hoopwright.cards.words import WORDS, Words


def keys_page() -> str:
    """docs/card-keys.md: figures and tables by kind of card, with unit, bounds and meaning."""
    lines = [
        "# Keys of cards",
        "",
        "Made from the program. What a card is and how a shop writes its own: [cards.md](cards.md).",
        "A figure stands as `[figure.NAME]`, a table as `[table.NAME]`. A name ends in its unit; `1` is a plain",
        "number, `log` a natural and `eng` an engineering strain, `t` a multiple of the sheet thickness.",
    ]
    for kind, words in WORDS.items():
        lines += [
            "",
            f"## Kind `{kind}`",
            "",
            _needed(words),
            "",
            "| figure | unit | bounds | meaning |",
            "|---|---|---|---|",
        ]
        for name, known in words.figures.items():
            lines.append(f"| `{name}` | {known.unit} | {known.must} | {known.meaning}{_optional(words, known)} |")
        lines += _tables(words.tables)
    lines += ["", "## Flow curves (kind `alloy`)", "", "| law | constants | curve |", "|---|---|---|"]
    for law, formula in _FORMULAS.items():
        constants = ", ".join(f"`{name}`" for name in LAW_CONSTANTS[law]) or "none; `points`"
        lines.append(f"| `{law}` | {constants} | {formula} |")
    return "\n".join(lines) + "\n"


_FORMULAS = {
    "swift": "s = K (e0 + p)^n",
    "voce": "s = s0 + Q (1 - exp(-b p))",
    "ludwik": "s = s0 + K p^n",
    "tabulated": "straight between points of plastic strain [log] and true stress [MPa]",
}


def _needed(words: Words) -> str:
    if words.complete:
        return "A card of this kind carries every figure, or names a card it is based on."
    return "A card of this kind carries the figures it has; what is missing is refused where it is asked for."


def _optional(words: Words, known: Quantity) -> str:
    return "; may be left out" if words.complete and known.optional else ""


def _tables(tables: Mapping[str, Mapping[str, Quantity]]) -> Iterator[str]:
    if not tables:
        return
    yield from ("", "| table | columns, first one always there |", "|---|---|")
    for name, columns in tables.items():
        listed = ", ".join(f"`{column}` ({known.unit})" for column, known in columns.items())
        yield f"| `{name}` | {listed} |"


def json_schema() -> str:
    """docs/schemas/hoopwright-card-1.json: the shape of a card; names and units are checked beside it."""
    schema = CardShape.model_json_schema(by_alias=True)
    head = {"$schema": "https://json-schema.org/draft/2020-12/schema", "$id": SCHEMA, "title": "hoopwright card"}
    return json.dumps({**schema, **head}, indent=2, ensure_ascii=False) + "\n"
