"""The token that opens the page from another machine: made on first use, kept as a digest, tried slowly."""

from __future__ import annotations

import base64
import hashlib
import hmac
import json
import os
import secrets
import threading
import time
from collections import deque
from collections.abc import Callable
from pathlib import Path

COST, BLOCK, LANES = 2**14, 8, 1
"""scrypt: about 50 ms and 16 MB a try."""

SESSION_S = 12 * 3600.0
TRIES, TRIES_S = 6, 60.0
ALL_TRIES = 40
"""Tries a minute, of one address and of all together."""


def private_write(path: Path, content: bytes) -> None:
    """Write a file that only its owner can read, whole or not at all."""
    path.parent.mkdir(parents=True, exist_ok=True)
    beside = path.with_name(f".{path.name}.{secrets.token_hex(4)}")
    handle = os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
        os.replace(beside, path)
    except BaseException:
        beside.unlink(missing_ok=True)
        raise


def make_token(path: Path) -> str:
    """A new token; only its salted digest is written."""
    token = secrets.token_urlsafe(18)
    salt = secrets.token_bytes(16)
    row = {"salt": _text(salt), "digest": _text(_digest(token, salt)), "scrypt": [COST, BLOCK, LANES]}
    private_write(path, (json.dumps(row) + "\n").encode())
    return token


def _digest(token: str, salt: bytes) -> bytes:
    return hashlib.scrypt(token.encode(), salt=salt, n=COST, r=BLOCK, p=LANES, maxmem=64 * 2**20)


def _text(raw: bytes) -> str:
    return base64.b64encode(raw).decode()


def token_fits(path: Path, token: str) -> bool:
    """Whether this is the token; compared in constant time."""
    row = json.loads(path.read_text(encoding="utf-8"))
    salt, wanted = (base64.b64decode(row[key]) for key in ("salt", "digest"))
    return hmac.compare_digest(_digest(token[:200], salt), wanted)


class Tries:
    """How often a token was tried of late: of one address, and of all."""

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        self._clock = clock
        self._of: dict[str, deque[float]] = {}
        self._guard = threading.Lock()

    def allowed(self, who: str) -> bool:
        """Whether one more try may be made now; counts it where it may."""
        now = self._clock()
        with self._guard:
            for name in list(self._of):
                times = self._of[name]
                while times and times[0] < now - TRIES_S:
                    times.popleft()
                if not times:
                    del self._of[name]
            if sum(len(times) for times in self._of.values()) >= ALL_TRIES:
                return False
            own = self._of.setdefault(who, deque())
            if len(own) >= TRIES:
                return False
            own.append(now)
            return True


class Sessions:
    """Who has shown the token: kept as digests, in memory, for twelve hours."""

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        self._clock = clock
        self._until: dict[str, float] = {}
        self._guard = threading.Lock()

    def begin(self) -> str:
        """A new session; its name goes into a cookie."""
        name = secrets.token_urlsafe(32)
        with self._guard:
            now = self._clock()
            self._until = {key: until for key, until in self._until.items() if until > now}
            self._until[_key(name)] = now + SESSION_S
        return name

    def known(self, name: str) -> bool:
        """Whether a session is one of ours and still good."""
        with self._guard:
            return self._until.get(_key(name), 0.0) > self._clock()


def _key(name: str) -> str:
    return hashlib.sha256(name.encode()).hexdigest()
