"""An open job: the folder with liner file, register, readings and changes; every revision of the liner; plans kept.

The folder is the job's own. Revisions that were saved before stand in `revisions/`, one file each, never overwritten.
"""

from __future__ import annotations

import hashlib
import re
import threading
from collections import OrderedDict
from collections.abc import Hashable
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeVar

from hoopwright.design.changes import Changes, read_changes
from hoopwright.design.demo import DEMO_FILES, demo_text
from hoopwright.design.liner_reading import cards_folder, liner_from_text
from hoopwright.design.readings import Readings, read_readings
from hoopwright.design.register import Register, read_register
from hoopwright.design.shapes import Liner
from hoopwright.errors import InputError
from hoopwright.plan.hot.hot_plan import HotPlan, plan_hot
from hoopwright.plan.liner_plan import LinerPlan, plan_liner
from hoopwright.plan.ring_plan import RingPlan, plan_ring
from hoopwright.plan.shelf import Shelf

KEPT = 96
"""Answers kept in memory; a ring's plan takes about 1 MB."""

SHARED = ("ring", "liner plan", "hot", "fits", "lot")
"""Answers that depend on the liner and its cards only."""

NAME = re.compile(r"^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$")
Answer = TypeVar("Answer")


@dataclass(frozen=True, slots=True)
class Revision:
    """One revision of the liner: its text as saved, its digest, and the liner it describes."""

    name: str
    text: str
    digest: str
    liner: Liner


class Job:
    """An open job folder. Reading is lock-free but for the cache; writing takes `writing`."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.writing = threading.RLock()
        self._planning = threading.RLock()
        self._kept: OrderedDict[Hashable, Any] = OrderedDict()
        self._guard = threading.Lock()
        self._shelf = Shelf(self.shop_folder)
        self._pulse = 0
        self._read = ("", "")

    @property
    def shop_folder(self) -> Path | None:
        """The shop's own cards as the liner file names them; None where it names none."""
        return cards_folder(self.folder / "liner.toml")

    @property
    def pulse(self) -> int:
        """Counts what was changed through this job; a page shown under an older pulse is stale."""
        return self._pulse

    def changed(self) -> int:
        """Say that something was written."""
        with self._guard:
            self._pulse += 1
            return self._pulse

    def files_state(self) -> str:
        """Digest of the job's own files: the same state gives the same plans and papers."""
        parts = [self._stat(self.folder / name) for name in DEMO_FILES]
        parts += [self._stat(path) for path in sorted((self.folder / "revisions").glob("*.toml"))]
        return _digest("|".join(parts))

    def state(self) -> str:
        """Digest of files and records: the same state gives the same pages."""
        parts = [self.files_state()]
        parts += [self._stat(self.folder / name) for name in ("records.sqlite", "records.sqlite-wal")]
        return _digest("|".join([*parts, str(self._pulse)]))

    def _stat(self, path: Path) -> str:
        try:
            found = path.stat()
        except OSError:
            return f"{path.name}:none"
        return f"{path.name}:{found.st_mtime_ns}:{found.st_size}"

    def remembered(self, key: Hashable, make: Any) -> Any:
        """The answer kept under a key, made where there is none; made once, whoever asks at the same time."""
        with self._guard:
            if key in self._kept:
                self._kept.move_to_end(key)
                return self._kept[key]
        with self._planning:
            with self._guard:
                if key in self._kept:
                    return self._kept[key]
            answer = make()
        with self._guard:
            self._kept[key] = answer
            while len(self._kept) > KEPT:
                self._kept.popitem(last=False)
        return answer

    def learn_from(self, other: Job) -> None:
        """Take over what another job has reckoned of the same liner; it depends on the liner and its cards only."""
        if self.shop_folder == other.shop_folder:
            with other._guard:
                known = {
                    key: value for key, value in other._kept.items() if isinstance(key, tuple) and key[0] in SHARED
                }
            with self._guard:
                self._kept.update(known)

    def current(self) -> Revision:
        """The revision that the liner file holds now."""
        path = self.folder / "liner.toml"
        # a file is read again only when it was written: every request asks for it several times
        stamp = self._stat(path)
        if stamp != self._read[0]:
            self._read = (stamp, path.read_text(encoding="utf-8"))
        return self._revision(self._read[1], "liner.toml")

    def _revision(self, text: str, name: str) -> Revision:
        digest = _digest(text)

        def read() -> Revision:
            liner = liner_from_text(text, name, None, self.folder)
            return Revision(liner.revision, text, digest, liner)

        found: Revision = self.remembered(("liner", digest), read)
        return found

    def revision(self, name: str) -> Revision:
        """A revision by name: the current one, or one saved before.

        Raises
        ------
        InputError
            No such revision; the message lists them.
        """
        current = self.current()
        if name in ("", current.name):
            return current
        known = self.revisions()
        if name not in known:
            raise InputError("revision", name, "", f"one of {', '.join(known)}", "take one of these")
        path = self.folder / "revisions" / f"{name}.toml"
        return self._revision(path.read_text(encoding="utf-8"), path.name)

    def revisions(self) -> tuple[str, ...]:
        """Names of all revisions, the current one last."""
        files = sorted(
            (self.folder / "revisions").glob("*.toml"), key=lambda path: (path.stat().st_mtime_ns, path.stem)
        )
        saved = [path.stem for path in files if NAME.match(path.stem)]
        now = self.current().name
        return (*[name for name in saved if name != now], now)

    def plan(self, ring: str, revision: str = "", liner: Liner | None = None) -> RingPlan:
        """The plan of a ring; of another liner where one is given (a what-if)."""
        wanted = liner if liner is not None else self.revision(revision).liner
        found: RingPlan = self.remembered(("ring", wanted, ring), lambda: plan_ring(wanted, ring, self._shelf))
        return found

    def plans(self, revision: str = "") -> LinerPlan:
        """The plans of all rings of a revision."""
        liner = self.revision(revision).liner
        found: LinerPlan = self.remembered(("liner plan", liner), lambda: plan_liner(liner, self._shelf))
        return found

    def hot(self, revision: str = "") -> HotPlan:
        """The hot build of a revision."""
        liner = self.revision(revision).liner
        found: HotPlan = self.remembered(("hot", liner), lambda: plan_hot(liner, self.shop_folder))
        return found

    def register(self) -> Register:
        """The tools; none where there is no register file."""
        path = self.folder / "register.toml"
        if not path.is_file():
            return Register(self.current().liner.id, False, ())
        text = path.read_text(encoding="utf-8")
        found: Register = self.remembered(("register", _digest(text)), lambda: read_register(text, path.name))
        return found

    def readings(self) -> Readings:
        """What was measured; nothing where there is no file."""
        path = self.folder / "readings.toml"
        if not path.is_file():
            return Readings(self.current().liner.id, False)
        text = path.read_text(encoding="utf-8")
        found: Readings = self.remembered(("readings", _digest(text)), lambda: read_readings(text, path.name))
        return found

    def changes(self) -> Changes:
        """Changes proposed; none where there is no file."""
        path = self.folder / "changes.toml"
        if not path.is_file():
            return Changes(self.current().liner.id, False, ())
        text = path.read_text(encoding="utf-8")
        found: Changes = self.remembered(("changes", _digest(text)), lambda: read_changes(text, path.name))
        return found


def _digest(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()[:16]


def open_job(folder: Path) -> Job:
    """Open a job folder; a new or empty one is filled with the demonstration (all data invented).

    Raises
    ------
    InputError
        It is a file, or holds other things but no liner file.
    FileFaults
        The liner file is faulty.
    """
    target = folder.absolute()
    if target.is_file():
        raise InputError("job folder", str(folder), "", "a folder", "name the folder in which liner.toml stands")
    if not (target / "liner.toml").is_file():
        if target.is_dir() and any(target.iterdir()):
            must = "new, empty, or one that holds liner.toml"
            raise InputError("job folder", str(folder), "", must, "put the liner file there as liner.toml")
        target.mkdir(parents=True, exist_ok=True)
        for name in DEMO_FILES:
            (target / name).write_text(demo_text(name), encoding="utf-8")
    job = Job(target)
    job.current()
    return job
