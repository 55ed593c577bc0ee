"""Opening a file of ours: everything that can be wrong before a single value is looked at."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from hoopwright.cards.reading import toml_data
from hoopwright.errors import Fault, FileFaults

SIZE_LIMIT_MB = 4


@dataclass(frozen=True, slots=True)
class Opened:
    """A TOML file as data and text, and the schema it says it has ("" where it says none)."""

    name: str
    data: Mapping[str, Any]
    text: str
    schema: str


def open_file(path: Path) -> Opened:
    """Data and text of a TOML file.

    Raises
    ------
    FileFaults
        The file is not there, no file, too large, empty, no UTF-8 or no TOML.
    """
    return open_bytes(read_bytes(path), str(path))


def read_bytes(path: Path) -> bytes:
    """Content of a file. Raises FileFaults when it is not there, no file, not readable or larger than 4 MB."""
    try:
        if path.is_dir():
            raise _refused(path, "a folder", "a file", "name a file in it")
        size = path.stat().st_size
        if size > SIZE_LIMIT_MB * 1_000_000:
            shown = f"{size / 1e6:.1f} MB"
            raise _refused(path, shown, f"at most {SIZE_LIMIT_MB} MB", "split it, or check that it is the right file")
        return path.read_bytes()
    except FileFaults:
        raise
    except FileNotFoundError:
        raise _refused(path, "missing", "there", "check the name and the folder") from None
    except (OSError, ValueError) as problem:
        reason = problem.strerror if isinstance(problem, OSError) and problem.strerror else str(problem)
        raise _refused(path, f"not readable ({reason.lower()})", "readable", "check name and permissions") from None


def open_bytes(content: bytes, name: str) -> Opened:
    """Data and text of TOML in memory; `name` stands in its faults. Raises FileFaults as `open_file`."""
    if not content.strip(b"\xef\xbb\xbf \t\r\n"):
        raise FileFaults(name, [Fault("file", "empty", "", "filled in", "start from a copy of the demo's file")])
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise FileFaults(name, [Fault("text", "UTF-16", "", "UTF-8", "save the file as UTF-8", 1)])
    try:
        data, text = toml_data(content, name)
    except RecursionError:
        fault = Fault(
            "text", "nested too deeply", "", "TOML as a person writes it", "close brackets that are left open"
        )
        raise FileFaults(name, [fault]) from None
    except ValueError as problem:
        if isinstance(problem, FileFaults):
            raise
        fault = Fault("text", "a number too long to read", "", "TOML", "check numbers with very many digits")
        raise FileFaults(name, [fault]) from None
    schema = data.get("schema", "")
    return Opened(name, data, text, schema if isinstance(schema, str) else "")


def wrong_schema(opened: Opened, wanted: str, page: str, earlier: tuple[str, ...] = ()) -> Fault | None:
    """The fault of a file of another kind or version; None where it is the wanted one."""
    if opened.schema == wanted:
        return None
    if "schema" not in opened.data:
        return Fault("schema", "missing", "", f'"{wanted}"', f'write schema = "{wanted}" and the keys of {page}')
    shown = str(opened.data["schema"])
    if opened.schema in earlier:
        remedy = "run `hoopwright upgrade OLD --out NEW`, then read the new file"
    else:
        remedy = f"give a file of schema {wanted} ({page}), or correct the word"
    return Fault("schema", f'"{shown}"', "", f'"{wanted}"', remedy)


def _refused(path: Path, value: str, must: str, remedy: str) -> FileFaults:
    return FileFaults(str(path), [Fault("file", value, "", must, remedy)])
