"""What the server is started with, and the limits it keeps."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

LOOPBACK = frozenset({"127.0.0.1", "::1", "localhost"})
MOST_BODY_BYTES = 6_000_000
"""Largest request taken: a file of readings of 4 MB and its form."""


@dataclass(frozen=True, slots=True)
class Settings:
    """folder : of the job. host, port : where it listens. hosts : further names by which it may be asked for.

    token_file : where the digest of the token stands; None on loopback, where no token is asked for. secure : whether
    it is served over TLS.
    """

    folder: Path
    host: str = "127.0.0.1"
    port: int = 8412
    hosts: frozenset[str] = frozenset()
    token_file: Path | None = None
    secure: bool = False

    @property
    def known_hosts(self) -> frozenset[str]:
        """Names under which a request is taken: own address, given names, loopback."""
        return LOOPBACK | self.hosts | {self.host, f"[{self.host}]", "[::1]"}
