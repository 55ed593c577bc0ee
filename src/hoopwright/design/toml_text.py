"""Plain data as TOML text, always the same for the same data: what every file of ours is written with.

Values come first, then tables and lists of tables; a list of small tables stands one table a line.
"""

from __future__ import annotations

import datetime
import json
import math
import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

_BARE = re.compile(r"^[A-Za-z0-9_-]+$")
_LINE = 110


def toml_text(data: Mapping[str, Any], head: Sequence[str] = (), section_tables: Sequence[str] = ()) -> str:
    """TOML of nested tables, lists, texts, numbers, truth values and dates.

    Parameters
    ----------
    head : comment lines above everything.
    section_tables : names of lists of tables that are written as `[[name]]`; every other list of tables is written
        inline, one table a line.

    Raises
    ------
    ValueError
        A number is not finite, or a value is of a kind that TOML has no word for.

    Examples
    --------
    >>> print(toml_text({"ring": [{"id": "a", "d_mm": 2.0}]}, ["One ring."], ["ring"]), end="")
    # One ring.
    <BLANKLINE>
    [[ring]]
    id = "a"
    d_mm = 2.0
    """
    lines = [f"# {line}".rstrip() for line in head]
    lines += _table("", data, frozenset(section_tables), bool(head))
    return "\n".join(lines) + "\n"


def _table(path: str, table: Mapping[str, Any], sections: frozenset[str], gap: bool) -> Iterator[str]:
    below = {k: v for k, v in table.items() if isinstance(v, Mapping) or (k in sections and _is_tables(v))}
    here = {k: v for k, v in table.items() if k not in below}
    if gap and here and not path:
        yield ""
    for name, value in here.items():
        yield from _pair(name, value)
    for name, value in below.items():
        place = f"{path}.{_key(name)}" if path else _key(name)
        for one in [value] if isinstance(value, Mapping) else value:
            yield ""
            yield f"[{place}]" if isinstance(value, Mapping) else f"[[{place}]]"
            yield from _table(place, one, sections, False)


def _is_tables(value: Any) -> bool:
    return isinstance(value, list) and bool(value) and all(isinstance(item, Mapping) for item in value)


def _pair(name: str, value: Any) -> Iterator[str]:
    text = f"{_key(name)} = {_value(value)}"
    if isinstance(value, list) and value and (_is_tables(value) or len(text) > _LINE):
        yield f"{_key(name)} = ["
        yield from _filled(value)
        yield "]"
    else:
        yield text


def _filled(values: list[Any]) -> Iterator[str]:
    """Items of a long list: numbers as many as a line holds, everything else one a line."""
    line = " "
    for text, value in ((f" {_value(value)},", value) for value in values):
        alone = not isinstance(value, (int, float))
        if line.strip() and (alone or len(line) + len(text) > _LINE):
            yield line
            line = " "
        line += text
    yield line


def _key(name: str) -> str:
    return name if _BARE.match(name) else _string(name)


def _value(value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int):
        return str(value)
    if isinstance(value, float):
        if not math.isfinite(value):
            raise ValueError(f"{value} is not finite; a file of ours holds finite numbers only")
        return repr(value)
    if isinstance(value, str):
        return _string(value)
    if isinstance(value, datetime.date):
        return value.isoformat()
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{_key(name)} = {_value(item)}" for name, item in value.items()) + "}"
    if isinstance(value, (list, tuple)):
        return "[" + ", ".join(_value(item) for item in value) + "]"
    raise ValueError(f"{type(value).__name__} has no word in TOML")


def _string(text: str) -> str:
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")
