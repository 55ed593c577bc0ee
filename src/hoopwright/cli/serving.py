"""The command that opens the page."""

from __future__ import annotations

from pathlib import Path

from hoopwright.cli import exits
from hoopwright.cli.show import say


def serve_job(
    folder: Path, host: str, port: int, names: tuple[str, ...], certificate: Path | None, key: Path | None, anew: bool
) -> int:
    """Serve a job folder until stopped."""
    # the web libraries are heavy: only this command needs them
    from hoopwright.web.serving import Wanted, serve

    serve(Wanted(folder, host, port, names, certificate, key, anew), say)
    return exits.DONE
