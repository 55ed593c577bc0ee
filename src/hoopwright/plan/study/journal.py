"""The journal of a study: one line a run, written as it is done, so that a killed study goes on where it stopped."""

from __future__ import annotations

import base64
import json
import os
import zlib
from collections.abc import Iterator
from pathlib import Path
from types import TracebackType
from typing import Any, TextIO

import numpy as np

from hoopwright.errors import InputError
from hoopwright.plan.shapes import Array
from hoopwright.plan.study.forward import Ran

FORMAT = "hoopwright-study-1"


class Journal:
    """Runs of one study on disk, or only in memory where no file is named.

    The first line says what the study is; a file of another study is refused. A line that was cut off by a kill is
    dropped. Every run is on disk before the next is counted.

    Parameters
    ----------
    mark : digest of everything the runs depend on.

    Raises
    ------
    InputError
        A file that is no journal, or one of another study.
    """

    def __init__(self, path: Path | None, mark: str) -> None:
        self.path, self.mark = path, mark
        self.done: dict[int, Ran] = {}
        self._file: TextIO | None = None
        if path is not None:
            self._open(path)

    def __enter__(self) -> Journal:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, value: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def add(self, ran: Ran) -> None:
        """Keep a run."""
        self.done[ran.number] = ran
        if self._file is not None:
            self._file.write(json.dumps(_plain(ran)) + "\n")
            self._file.flush()
            os.fsync(self._file.fileno())

    def close(self) -> None:
        """Let go of the file."""
        if self._file is not None:
            self._file.close()
            self._file = None

    def _open(self, path: Path) -> None:
        kept = b""
        if path.exists():
            kept = self._read(path)
        else:
            path.parent.mkdir(parents=True, exist_ok=True)
        head = (json.dumps({"schema": FORMAT, "study": self.mark}) + "\n").encode()
        if not kept:
            path.write_bytes(head)
        elif kept != path.read_bytes():
            path.write_bytes(kept)
        self._file = path.open("a", encoding="utf-8")

    def _read(self, path: Path) -> bytes:
        """Whole lines of the file; what a kill cut off is left out."""
        content = path.read_bytes()
        if not content:
            return b""
        whole = content[: content.rfind(b"\n") + 1]
        lines = whole.decode("utf-8", "replace").splitlines()
        if not lines or _loaded(lines[0]).get("schema") != FORMAT:
            raise InputError("study journal", path, "", f"a file of format {FORMAT}", "name another folder")
        if _loaded(lines[0]).get("study") != self.mark:
            raise InputError(
                "study journal", path, "", "of this very study", "name another folder, or take the file away"
            )
        for ran in _runs(lines[1:]):
            self.done[ran.number] = ran
        return whole


def _loaded(line: str) -> dict[str, Any]:
    try:
        found = json.loads(line)
    except json.JSONDecodeError:
        return {}
    return found if isinstance(found, dict) else {}


def _runs(lines: list[str]) -> Iterator[Ran]:
    for line in lines:
        row = _loaded(line)
        try:
            yield Ran(
                int(row["run"]),
                {str(k): float(v) for k, v in row["values"].items()},
                _unpacked(row["profile"]),
                str(row["refused"]),
            )
        except (KeyError, ValueError, TypeError, AttributeError, zlib.error):
            continue


def _plain(ran: Ran) -> dict[str, Any]:
    return {
        "run": ran.number,
        "refused": ran.refused,
        "values": ran.values,
        "profile": _packed(ran.profile_mm),
    }


def _packed(row: Array) -> str:
    return base64.b64encode(zlib.compress(np.ascontiguousarray(row, dtype="<f8").tobytes(), 1)).decode()


def _unpacked(text: str) -> Array:
    return np.frombuffer(zlib.decompress(base64.b64decode(text)), dtype="<f8").astype(np.float64)
