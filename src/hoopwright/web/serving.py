"""`hoopwright serve`: open the job, and on any interface but loopback ask for a token and speak TLS."""

from __future__ import annotations

import ipaddress
import socket
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import uvicorn

from hoopwright.desk.page.board import board
from hoopwright.desk.page.job import Job, open_job
from hoopwright.errors import InputError
from hoopwright.web.app import create_app
from hoopwright.web.certificate import own_certificate
from hoopwright.web.settings import LOOPBACK, Settings
from hoopwright.web.tokens import make_token

Tell = Callable[[str], None]
PRIVATE = ".serve"
"""Folder of the job that holds certificate, key and the token's digest; only its owner may read it."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """What was asked for on the command line. certificate, key : own ones for TLS, both or neither."""

    folder: Path
    host: str = "127.0.0.1"
    port: int = 8412
    names: tuple[str, ...] = ()
    certificate: Path | None = None
    key: Path | None = None
    new_token: bool = False


@dataclass(frozen=True, slots=True)
class Prepared:
    """Everything to serve with. token : to be shown once, "" where none was made now."""

    job: Job
    settings: Settings
    options: dict[str, Any]
    address: str
    token: str


def is_loopback(host: str) -> bool:
    """Whether only this machine can reach the address.

    Of the whole block 127.0.0.0/8 only the usual addresses are taken as loopback: others are used for machines that
    are to be reached as if from outside.
    """
    return host in LOOPBACK


def prepare(wanted: Wanted) -> Prepared:
    """Open the job and make what serving it needs.

    Raises
    ------
    InputError
        A port or host that cannot be, or only one of certificate and key.
    """
    if not 1 <= wanted.port <= 65535:
        raise InputError("--port", wanted.port, "", "from 1 to 65535", "name a free port")
    if (wanted.certificate is None) != (wanted.key is None):
        raise InputError("--certificate", wanted.certificate, "", "given together with --key", "name both files")
    for path in filter(None, (wanted.certificate, wanted.key)):
        if not path.is_file():
            raise InputError("certificate", str(path), "", "a file in PEM", "check the name")
    job = open_job(wanted.folder)
    outside = not is_loopback(wanted.host)
    secure = outside or wanted.certificate is not None
    token, token_file = _token(job.folder, wanted.new_token) if outside else ("", None)
    names = _names(wanted)
    settings = Settings(job.folder, wanted.host, wanted.port, frozenset(names), token_file, secure)
    options: dict[str, Any] = {}
    if secure:
        pair = (wanted.certificate, wanted.key)
        if pair[0] is None:
            pair = own_certificate(job.folder / PRIVATE, names)
        options = {"ssl_certfile": str(pair[0]), "ssl_keyfile": str(pair[1])}
    shown = f"[{wanted.host}]" if ":" in wanted.host else wanted.host
    return Prepared(job, settings, options, f"{'https' if secure else 'http'}://{shown}:{wanted.port}", token)


def _token(folder: Path, anew: bool) -> tuple[str, Path]:
    path = folder / PRIVATE / "token.json"
    return ("" if path.is_file() and not anew else make_token(path)), path


def _names(wanted: Wanted) -> tuple[str, ...]:
    """Names that stand in the certificate and are taken as Host."""
    names = {*wanted.names, "localhost", "127.0.0.1"}
    try:
        if not ipaddress.ip_address(wanted.host).is_unspecified:
            names.add(wanted.host)
        else:
            names |= _own_addresses()
    except ValueError:
        names.add(wanted.host)
    return tuple(sorted(names))


def _own_addresses() -> set[str]:
    """Name and addresses of this machine, for a server that listens on all of them."""
    name = socket.gethostname()
    try:
        found = {str(row[4][0]) for row in socket.getaddrinfo(name, None)}
    except OSError:
        found = set()
    return {name, *(address for address in found if "%" not in address)}


def serve(wanted: Wanted, tell: Tell) -> None:
    """Serve until stopped by the keyboard."""
    ready = prepare(wanted)
    tell(f"job {ready.job.folder}")
    tell("reckoning the board; the first time on a machine its kernels are compiled, which takes a minute or two")
    board(ready.job)
    for line in _said(ready):
        tell(line)
    uvicorn.run(
        create_app(ready.job, ready.settings),
        host=wanted.host,
        port=wanted.port,
        log_level="warning",
        server_header=False,
        proxy_headers=False,
        ws="none",
        timeout_keep_alive=20,
        limit_concurrency=400,
        h11_max_incomplete_event_size=65536,
        **ready.options,
    )


def _said(ready: Prepared) -> Sequence[str]:
    lines = [f"open {ready.address}"]
    if ready.token:
        lines.append(f"token {ready.token}   (shown this once; only its digest is kept; --new-token makes another)")
    if ready.settings.secure and "certificate.pem" in str(ready.options.get("ssl_certfile", "")):
        lines.append("the certificate is our own: a browser asks once whether to trust it")
    return lines
