"""Reading the files that stand beside the liner file: opened, of the right schema, well shaped, names used once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import TypeVar

from pydantic import BaseModel, ValidationError

from hoopwright.cards.reading import with_lines
from hoopwright.design.opening import Opened, open_bytes, open_file, wrong_schema
from hoopwright.design.shape_faults import shape_faults
from hoopwright.errors import Fault, FileFaults

Model = TypeVar("Model", bound=BaseModel)


def opened_from(source: Path | str, name: str = "") -> Opened:
    """A file by its path, or a text. Raises FileFaults."""
    return open_file(source) if isinstance(source, Path) else open_bytes(source.encode(), name or "text")


def validated(opened: Opened, schema: str, model: type[Model], page: str) -> Model:
    """The data of a file as its model.

    Raises
    ------
    FileFaults
        Another schema, or every fault of shape, each with its line.
    """
    other = wrong_schema(opened, schema, page, ("demo-liner-1",))
    if other is not None:
        raise FileFaults(opened.name, with_lines([other], opened.text))
    try:
        return model.model_validate(opened.data)
    except ValidationError as problem:
        faults = shape_faults(problem, model, page)
    raise FileFaults(opened.name, with_lines(faults, opened.text))


def refuse(opened: Opened, faults: Iterable[Fault]) -> None:
    """Raise FileFaults where there is a fault."""
    found = with_lines(faults, opened.text)
    if found:
        raise FileFaults(opened.name, found)


def repeated(named: Iterable[tuple[str, str]], what: str) -> Iterator[Fault]:
    """Faults of names that come more than once, from pairs of key and name."""
    seen: set[str] = set()
    for key, name in named:
        if name in seen:
            yield Fault(key, f'"{name}"', "", f"a name no other {what} has", "give each its own name")
        seen.add(name)
