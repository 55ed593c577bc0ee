"""Where each key of a TOML text stands: `locate(text)["ring[2].section[1].p0"]` is its line.

The TOML reader of the standard library keeps no positions, and a person who must mend a file needs them. Keys are
written as a person counts: the first ring is `ring[1]`. The text is taken to be sound TOML (read it first); on a
broken text the places found are only a help, never an error.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

_BARE = re.compile(r"[A-Za-z0-9_-]+")
_SPACE = re.compile(r"[ \t]*")
_BLANK = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")
_STRINGS = (
    re.compile(r'"""(?:\\.|[^\\])*?"{3,5}', re.DOTALL),
    re.compile(r"'''.*?'{3,5}", re.DOTALL),
    re.compile(r'"(?:\\.|[^"\\\n])*"'),
    re.compile(r"'[^'\n]*'"),
)
_PLAIN = re.compile(r"[^,\]}\r\n#]+")


def key_path(parts: Iterable[str | int]) -> str:
    """Path of a key as a person writes it, from names and places counted from 0.

    Examples
    --------
    >>> key_path(["ring", 0, "control", 1, "dia_mm"])
    'ring[1].control[2].dia_mm'
    """
    path = ""
    for part in parts:
        if isinstance(part, int):
            path += f"[{part + 1}]"
        else:
            path += f".{part}" if path else part
    return path


def locate(text: str) -> dict[str, int]:
    """Line, counted from 1, of every key and every list element of a TOML text.

    Examples
    --------
    >>> locate('[roll]\\nload_kN = 60\\n[[ring]]\\nid = "a"\\n[[ring]]\\nid = "b"')["ring[2].id"]
    6
    """
    return _Scanner(text).run()


def line_of(lines: dict[str, int], path: str) -> int | None:
    """Line of a key, or of the nearest thing around it that stands in the text (a missing key has no line)."""
    while path:
        if path in lines:
            return lines[path]
        cut = max(path.rfind("."), path.rfind("["))
        path = path[:cut] if cut > 0 else ""
    return None


class _Scanner:
    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.found: dict[str, int] = {}
        self.counts: dict[str, int] = {}
        self.starts = [0] + [m.end() for m in re.finditer("\n", text)]

    def run(self) -> dict[str, int]:
        table = ""
        while True:
            self._skip(_BLANK)
            if self.at >= len(self.text):
                return self.found
            before = self.at
            if self.text.startswith("[", self.at):
                table = self._header()
            else:
                self._pair(table)
            if self.at == before:
                self._to_line_end()

    def _header(self) -> str:
        place = self.at
        many = self.text.startswith("[[", self.at)
        self.at += 2 if many else 1
        names = self._key()
        path = ""
        for index, name in enumerate(names):
            path = f"{path}.{name}" if path else name
            last = index == len(names) - 1
            if last and many:
                self._note(path, place)
                self.counts[path] = self.counts.get(path, 0) + 1
            if path in self.counts and (many or not last):
                path = f"{path}[{self.counts[path]}]"
            self._note(path, place)
        self._to_line_end()
        return path

    def _pair(self, table: str) -> None:
        place = self.at
        path = table
        for name in self._key():
            path = f"{path}.{name}" if path else name
            self._note(path, place)
        self._skip(_SPACE)
        if self.text.startswith("=", self.at):
            self.at += 1
            self._skip(_SPACE)
            self._value(path)

    def _key(self) -> list[str]:
        names: list[str] = []
        while True:
            self._skip(_SPACE)
            match = _BARE.match(self.text, self.at) or self._string()
            if match is None:
                return names
            self.at = match.end()
            name = match.group()
            names.append(name if name[0] not in "\"'" else name[1:-1])
            self._skip(_SPACE)
            if not self.text.startswith(".", self.at):
                return names
            self.at += 1

    def _value(self, path: str) -> None:
        if self.text.startswith("[", self.at):
            self._list(path)
        elif self.text.startswith("{", self.at):
            self._inline(path)
        else:
            match = self._string() or _PLAIN.match(self.text, self.at)
            if match is not None:
                self.at = match.end()

    def _list(self, path: str) -> None:
        self.at += 1
        count = 0
        while True:
            self._skip(_BLANK)
            if self.at >= len(self.text):
                return
            if self.text[self.at] == "]":
                self.at += 1
                return
            if self.text[self.at] == ",":
                self.at += 1
                continue
            before = self.at
            count += 1
            element = f"{path}[{count}]"
            self._note(element, self.at)
            self._value(element)
            if self.at == before:
                self.at += 1

    def _inline(self, path: str) -> None:
        self.at += 1
        while True:
            self._skip(_BLANK)
            if self.at >= len(self.text):
                return
            if self.text[self.at] == "}":
                self.at += 1
                return
            before = self.at
            if self.text[self.at] == ",":
                self.at += 1
            else:
                self._pair(path)
            if self.at == before:
                self.at += 1

    def _string(self) -> re.Match[str] | None:
        for pattern in _STRINGS:
            match = pattern.match(self.text, self.at)
            if match is not None:
                return match
        return None

    def _note(self, path: str, place: int) -> None:
        self.found.setdefault(path, self._line(place))

    def _line(self, place: int) -> int:
        low, high = 0, len(self.starts)
        while high - low > 1:
            middle = (low + high) // 2
            if self.starts[middle] <= place:
                low = middle
            else:
                high = middle
        return low + 1

    def _skip(self, pattern: re.Pattern[str]) -> None:
        match = pattern.match(self.text, self.at)
        if match is not None:
            self.at = match.end()

    def _to_line_end(self) -> None:
        end = self.text.find("\n", self.at)
        self.at = len(self.text) if end < 0 else end + 1
