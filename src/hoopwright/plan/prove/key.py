"""The digest a proof is kept under: everything it was made from, data and program."""

from __future__ import annotations

import hashlib
from functools import lru_cache
from pathlib import Path

from hoopwright.plan.ring_plan import RingPlan

ROOM = Path(__file__).resolve().parent
PROGRAM = (
    ("kernels", "*.py"), ("kernels/section", "*.py"), ("kernels/hoop", "*.py"), ("process", "proof_*.py"),
    ("process/hooping", "*.py"), ("tools", "segment_contour.py"), ("plan/prove", "*.py"),
)  # fmt: skip
"""What a proof runs through; an edit anywhere there asks for a new run."""


@lru_cache(maxsize=1)
def program_digest() -> str:
    """Digest of the source of everything a proof runs through."""
    package, digest = ROOM.parents[1], hashlib.sha256()
    for folder, pattern in PROGRAM:
        for source in sorted((package / folder).glob(pattern)):
            digest.update(source.name.encode())
            digest.update(source.read_bytes())
    return digest.hexdigest()


def proof_key(plan: RingPlan) -> str:
    """Twenty hex digits: drawing and cards (the plan's mark), settings, profile of the segments, program."""
    settings = plan.settings
    parts = (
        plan.mark,
        repr(plan.job.metal),
        repr((settings.cut_length_mm, settings.shrinkage_mm, settings.curl_radius_mm, settings.plain_curl_radius_mm)),
        repr([(stop.stop_mm, stop.standing_mm) for stop in settings.stops]),
        repr([one.share for one in settings.passes]),
        plan.sizing.surface.points_mm.tobytes().hex(),
        program_digest(),
    )
    digest = hashlib.sha256("\n".join(parts).encode())
    return digest.hexdigest()[:20]
