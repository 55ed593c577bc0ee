"""The CAD library itself (OCP, the bindings of Open CASCADE): brought in on first use, refused in words, and `Body`."""

from __future__ import annotations

import importlib
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from functools import lru_cache
from types import ModuleType
from typing import Any

import numpy as np
from numpy.typing import NDArray

from hoopwright.errors import GeometryError, HoopwrightError, InputError

Colour = tuple[float, float, float]

EXTRA = "cad"


@dataclass(frozen=True, slots=True, eq=False)
class Body:
    """A solid with its name and colour (red, green, blue, each 0 to 1). `shape` belongs to the CAD library.

    root, place : of a body that is another one moved, that other and where it was moved to, shape (3, 4), so that its
    triangles need be made once. meshes : triangles already made of `shape` itself, by their fineness.
    """

    name: str
    shape: Any
    colour: Colour = (0.6, 0.6, 0.6)
    root: Body | None = None
    place: NDArray[np.float64] | None = None
    meshes: dict[tuple[float, float], Any] = field(default_factory=dict)

    def named(self, name: str, colour: Colour | None = None) -> Body:
        """The same solid under another name."""
        return replace(self, name=name, colour=colour or self.colour)


@lru_cache(maxsize=64)
def kernel(module: str) -> ModuleType:
    """A module of the CAD library.

    Raises
    ------
    InputError
        The library is not installed; the message names the extra.
    """
    try:
        return importlib.import_module(f"OCP.{module}")
    except ImportError:
        raise InputError(
            "CAD library (OCP)",
            "not installed",
            "",
            "installed to build solids",
            f'install the extra: pip install "hoopwright[{EXTRA}]" (in a checkout `python3 start.py test` brings it)',
        ) from None


def require_library() -> None:
    """Refuse where solids cannot be built. Raises InputError with the name of the extra."""
    kernel("gp")


def available() -> bool:
    """Whether solids can be built here."""
    try:
        require_library()
    except InputError:
        return False
    return True


def attempt(part: str, operation: str, work: Callable[[], Any], remedy: str) -> Any:
    """Do a piece of work; what the CAD library cannot build is refused by part, operation and remedy.

    Raises
    ------
    GeometryError
        The library gave up.
    """
    try:
        return work()
    except HoopwrightError:
        raise
    except Exception as problem:
        kind = type(problem).__name__
        raise GeometryError(
            f"{part}: {operation}", f"not built by the CAD library ({kind})", "", "buildable", remedy
        ) from None


def quiet() -> None:
    """The writers' chatter is kept off standard output."""
    messenger = kernel("Message").Message.DefaultMessenger_s()
    for printer in list(messenger.Printers()):
        messenger.RemovePrinter(printer)


def parts(shape: Any, kind: str) -> list[Any]:
    """Sub-shapes of a kind ("EDGE", "SOLID"), each once, in the library's own order."""
    top, cast = kernel("TopAbs"), kernel("TopoDS").TopoDS
    walk = kernel("TopExp").TopExp_Explorer(shape, getattr(top, f"TopAbs_{kind}"))
    into = getattr(cast, f"{kind.capitalize()}_s", None) or getattr(cast, kind.capitalize())
    found: list[Any] = []
    while walk.More():
        one = into(walk.Current())
        if not any(one.IsSame(other) for other in found):
            found.append(one)
        walk.Next()
    return found
