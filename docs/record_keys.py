"""The page on the fields of every kind of record, made from the shapes themselves."""

from __future__ import annotations

from hoopwright.desk.record_book import fields_of, kinds, shape_of

HEAD = """# Fields of the records

`hoopwright record KIND NUMBER field=value ...` enters or changes a record; `hoopwright record KIND` shows this list.
Lists are written with semicolons (`778; 779.5`), settings as `name=value; name=value`. This page is made from the
program (`python3 start.py docs`).
"""


def page() -> str:
    """One table for each kind."""
    lines = [HEAD]
    for kind in kinds():
        about = " ".join((shape_of(kind).__doc__ or "").split("\n\n")[0].split())
        lines += [f"## {kind}", "", about, "", "| field | unit | value | must be given |", "|---|---|---|---|"]
        for field in fields_of(kind):
            words = ", ".join(f"`{word}`" for word in field.words if word)
            refers = f"number of a {field.refers.replace('_', ' ')} in the records" if field.refers else ""
            lines.append(
                f"| `{field.name}` | {field.unit} | {words or refers or field.kind} | {'yes' if field.needed else ''} |"
            )
        lines.append("")
    return "\n".join(lines).rstrip() + "\n"
