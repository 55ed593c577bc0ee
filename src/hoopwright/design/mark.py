"""The mark of an input: a short digest printed on every paper, so that a paper and its data can be matched."""

from __future__ import annotations

import hashlib
import json
from dataclasses import fields, is_dataclass

from hoopwright.design.shapes import Liner, Ring


def input_mark(*inputs: Liner | Ring | str) -> str:
    """Eight hex digits of the content of liners, rings and texts (digests of cards), as "7c1e 90b4".

    Two files with the same values have the same mark, whatever their comments, order of keys or way of writing.

    Examples
    --------
    >>> input_mark("a card's digest")
    '8442 093b'
    """
    text = json.dumps([_plain(item) for item in inputs], sort_keys=True, ensure_ascii=False, allow_nan=False)
    digest = hashlib.sha256(text.encode()).hexdigest()
    return f"{digest[:4]} {digest[4:8]}"


def _plain(value: object) -> object:
    """Plain data of a shape; keys without a value are left out, so that a new optional key changes no mark."""
    if is_dataclass(value) and not isinstance(value, type):
        named = {f.name: _plain(getattr(value, f.name)) for f in fields(value)}
        return {name: item for name, item in named.items() if item not in (None, [], "")}
    if isinstance(value, tuple):
        return [_plain(item) for item in value]
    return value
