"""Write the requirement files anew from pyproject.toml: exact versions with hashes, for every system, no address."""

from __future__ import annotations

from house import setup
from house.say import Missing, doing

OPTIONS = ("--universal", "--generate-hashes", "--no-emit-index-url", "--no-header", "--no-annotate")

FILES: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("requirements.txt", ("pyproject.toml",)),
    (
        "requirements-dev.txt",
        (
            "pyproject.toml",
            "--extra",
            "cad",
            "--extra",
            "cluster",
            "--group",
            "dev",
            "--constraints",
            "requirements.txt",
        ),
    ),
    ("requirements-build.txt", ("--group", "build", "--constraints", "requirements-dev.txt")),
    ("requirements-uv.txt", ("--group", "uv")),
)


def write(upgrade: bool) -> None:
    """Resolve each file in turn; later files keep to the versions of the earlier ones."""
    uv = setup.get_uv()
    if uv is None:
        raise Missing("the pins are written by uv, which could not be had.", "check the network and run again")
    for name, source in FILES:
        with doing(f"resolving {name}"):
            newest = ["--upgrade"] if upgrade else []
            fixed = ["--python-version", "3.11", "--quiet", "--output-file", name, *newest]
            if setup.run([uv, "pip", "compile", *source, *OPTIONS, *fixed]):
                raise Missing(f"{name} could not be resolved; uv's own words stand above.", "mend pyproject.toml")
