"""Faults of shape, as the validation library reports them, in the words of a person's file."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from pydantic import ValidationError

from hoopwright.cards.toml_lines import key_path
from hoopwright.errors import Fault

_MUST = {
    "float_type": ("a number", "write the number without quotes"),
    "int_type": ("a whole number", "write a whole number without quotes"),
    "string_type": ("text", "put it in quotes"),
    "bool_type": ("true or false", "write true or false without quotes"),
    "list_type": ("a list", "put it in square brackets"),
    "dict_type": ("a table", "write it as a table with keys"),
    "model_type": ("a table with keys", "write it as a table with keys"),
    "finite_number": ("a finite number", "enter a number that is neither nan nor inf"),
    "missing": ("there", "enter it; docs/cards.md says what it means"),
    "extra_forbidden": ("a key this format knows", "correct its spelling or remove it; docs/cards.md lists the keys"),
}


def shape_faults(problem: ValidationError) -> Iterator[Fault]:
    """Every fault of shape with key, value and remedy; lines are added by the reader."""
    for error in problem.errors(include_url=False):
        location: list[str | int] = [part for part in error["loc"] if part != "[key]"]
        kind = error["type"]
        must, remedy = _MUST.get(kind) or _from_context(kind, error.get("ctx", {}))
        value = "missing" if kind == "missing" else _shown(error["input"])
        yield Fault(key_path(location), value, "", must, remedy)


def _from_context(kind: str, context: dict[str, Any]) -> tuple[str, str]:
    if kind == "literal_error":
        expected = str(context.get("expected", "")).replace("'", "")
        return f"one of {expected}", "take one of these"
    if kind == "greater_than_equal":
        return f"{context['ge']:g} or more", "check the number and its sign"
    if kind == "greater_than":
        return f"above {context['gt']:g}", "check the number and its sign"
    if kind in ("too_short", "string_too_short"):
        return f"{context['min_length']} or more long", "fill it in"
    if kind == "too_long":
        return f"at most {context['max_length']} long", "remove what is too much"
    if kind == "string_pattern_mismatch":
        return "letters, digits, . _ - only, no space", "write a plain name"
    return kind.replace("_", " "), "write it as docs/cards.md shows"


def _shown(value: Any) -> str:
    text = f'"{value}"' if isinstance(value, str) else str(value)
    return text if len(text) <= 60 else text[:57] + "..."
