"""How kernels are compiled: one decorator, and a cache that notices an edit in any kernel file.

The compiler's own on-disk cache looks only at the file of the function it compiles, so a change in a kernel that
is *called* would go unseen and the old answer would come back. The cache folder is therefore named by a digest
of every kernel source: an edit anywhere gives a fresh folder.
"""

from __future__ import annotations

import hashlib
import os
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar, cast

import numba

F = TypeVar("F", bound=Callable[..., Any])


def _sources_digest() -> str:
    digest = hashlib.sha256()
    for source in sorted(Path(__file__).parent.rglob("*.py")):
        digest.update(source.name.encode())
        digest.update(source.read_bytes())
    return digest.hexdigest()[:12]


def _cache_home() -> Path:
    """Folder for this user's throw-away files, by the custom of the operating system."""
    if sys.platform == "win32":
        return Path(os.environ.get("LOCALAPPDATA", Path.home() / "AppData" / "Local"))
    if sys.platform == "darwin":
        return Path.home() / "Library" / "Caches"
    return Path(os.environ.get("XDG_CACHE_HOME", Path.home() / ".cache"))


if not os.environ.get("NUMBA_CACHE_DIR"):
    numba.config.CACHE_DIR = str(_cache_home() / "hoopwright" / f"kernels-{_sources_digest()}")  # type: ignore[attr-defined]


def compiled(function: F) -> F:
    """Compile a kernel: cached on disk, no interpreter lock, IEEE division.

    Material data goes in as arguments, never as module constants (those are frozen when compiled).
    """
    return cast(F, numba.njit(cache=True, error_model="numpy", nogil=True)(function))
