"""What the server holds while it runs: the open job, and answers that were drawn already."""

from __future__ import annotations

import hashlib
import threading
from collections import OrderedDict

from hoopwright.desk.page.job import Job
from hoopwright.web.settings import Settings

KEPT_PAGES = 400


class Shop:
    """The open job and its drawn pages. A page is kept as long as nothing of the job changes."""

    def __init__(self, job: Job, settings: Settings) -> None:
        self.job, self.settings = job, settings
        self._pages: OrderedDict[tuple[str, str], bytes] = OrderedDict()
        self._guard = threading.Lock()

    def part_kept(self, liner: object) -> str:
        """The ring that a page without one leads to: the first."""
        rings = getattr(liner, "rings", ())
        return rings[0].id if rings else "-"

    def later(self, revision: str) -> str:
        """The revision to compare with: the one proposed, else the one saved after, else the one before."""
        for change in self.job.changes().changes:
            if change.revision != revision:
                return change.revision
        others = [name for name in self.job.revisions() if name != revision]
        return others[-1] if others else revision

    def kept_page(self, address: str, state: str) -> bytes | None:
        """The page as drawn before under the same state of the job."""
        with self._guard:
            return self._pages.get((address, state))

    def keep_page(self, address: str, state: str, body: bytes) -> None:
        """Keep a page drawn under a state of the job."""
        with self._guard:
            self._pages[address, state] = body
            while len(self._pages) > KEPT_PAGES:
                self._pages.popitem(last=False)


def tag_of(body: bytes) -> str:
    """Entity tag of a page."""
    return f'"{hashlib.sha256(body).hexdigest()[:20]}"'
