"""The whole tool package of the job's liner, with progress."""

from __future__ import annotations

from collections.abc import Callable

from hoopwright.desk.package import package_files
from hoopwright.desk.page.job import Job
from hoopwright.desk.page.papers import paper_date


def package(job: Job, tell: Callable[[str], None]) -> dict[str, bytes]:
    """Solids, sheets, DXF and tables of every ring; what cannot be built is named in REFUSED.txt.

    Raises
    ------
    InputError
        The extra `cad` is not installed.
    """
    tell("plans of all rings")
    made = package_files(job.plans(), job.shop_folder, paper_date(job), tell)
    files = dict(made.files)
    if made.refused:
        files["REFUSED.txt"] = "".join(f"{name}: {reason}\n" for name, reason in made.refused).encode()
    return files
