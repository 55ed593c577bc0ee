"""The digest a proof is kept under: everything it was made from, data and program."""

from __future__ import annotations

import hashlib
from functools import lru_cache
from pathlib import Path

ROOM = Path(__file__).resolve().parent
PROGRAM = (
    ("kernels", "*.py"), ("kernels/section", "*.py"), ("kernels/hoop", "*.py"), ("process", "*.py"),
    ("process/hooping", "*.py"), ("tools", "*.py"), ("plan", "*.py"), ("plan/hooping", "*.py"), ("plan/prove", "*.py"),
)  # fmt: skip
"""What a plan and its proof run through; an edit anywhere there asks for a new run."""


@lru_cache(maxsize=1)
def program_digest() -> str:
    """Digest of the source of everything a plan and its proof run through."""
    package, digest = ROOM.parents[1], hashlib.sha256()
    for folder, pattern in PROGRAM:
        for source in sorted((package / folder).glob(pattern)):
            digest.update(source.name.encode())
            digest.update(source.read_bytes())
    return digest.hexdigest()


def proof_key(mark: str) -> str:
    """Twenty hex digits of a ring's mark (drawing and cards) and of the program.

    Examples
    --------
    >>> proof_key("7c1e 90b4") == proof_key("7c1e 90b4"), proof_key("7c1e 90b4") == proof_key("7c1e 90b5")
    (True, False)
    """
    return hashlib.sha256(f"{mark}\n{program_digest()}".encode()).hexdigest()[:20]
