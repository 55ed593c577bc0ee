"""The page on plan.json, made from its shapes."""

from __future__ import annotations

from hoopwright.plan.json_shapes import KEYS, SCHEMA

HEAD = f"""# plan.json

`hoopwright plan` writes every figure and every finding of a plan as JSON, schema `{SCHEMA}`
([JSON Schema](schemas/hoopwright-plan-1.json)). Numbers have nine significant digits; same input, same bytes.
A figure's `identity` is the one on paper and in `hoopwright explain`. This page is made from the program
(`python3 start.py docs`).
"""


def page(keys: dict[str, str] | None = None) -> str:
    """One table for each shape of the file."""
    return shape_tables(HEAD, KEYS if keys is None else keys)


def shape_tables(head: str, known: dict[str, str]) -> str:
    """A page: head, then one table for each shape of "Shape.key" to meaning."""
    shapes: dict[str, list[tuple[str, str]]] = {}
    for name, meaning in known.items():
        shape, _, key = name.partition(".")
        shapes.setdefault(shape, []).append((key, meaning))
    lines = [head]
    for shape, rows in shapes.items():
        lines += [f"## {shape}", "", "| key | meaning |", "|---|---|"]
        lines += [f"| `{key}` | {meaning} |" for key, meaning in rows]
        lines.append("")
    return "\n".join(lines).rstrip() + "\n"
