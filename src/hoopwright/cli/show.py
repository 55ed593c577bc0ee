"""What the terminal shows: plain sentences, findings with their remedy, figures with band and basis."""

from __future__ import annotations

import dataclasses
import json
import math
import sys
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any, Protocol

from hoopwright.cli import exits
from hoopwright.errors import FileFaults, HoopwrightError, InputError
from hoopwright.findings import Figure, Finding
from hoopwright.papers.numbers import band_text, figure_text, with_unit


class Report(Protocol):
    """What a command that writes papers gets from the desk."""

    @property
    def sentence(self) -> str:
        """The answer in one sentence."""

    @property
    def figures(self) -> Sequence[Figure]:
        """Figures behind it."""

    @property
    def findings(self) -> Sequence[Finding]:
        """What is found, gravest first."""

    @property
    def files(self) -> Sequence[Path]:
        """Files written; empty where no folder was named."""

    @property
    def stops(self) -> int:
        """How many findings say stop."""


def say(text: str = "") -> None:
    """One line on standard output; signs that the terminal cannot write are replaced."""
    encoding = sys.stdout.encoding or "utf-8"
    sys.stdout.write(text.encode(encoding, "replace").decode(encoding) + "\n")


def complain(text: str) -> None:
    """One line on standard error."""
    encoding = sys.stderr.encoding or "utf-8"
    sys.stderr.write(text.encode(encoding, "replace").decode(encoding) + "\n")


def progress(text: str) -> None:
    """One line about work under way, on standard error so that output can be piped."""
    complain(f"  {text}")


def finding_lines(findings: Iterable[Finding]) -> list[str]:
    """Findings, each a sentence, the reason and one remedy."""
    lines: list[str] = []
    for number, finding in enumerate(findings, start=1):
        why = f" {finding.why[0].upper()}{finding.why[1:].rstrip('.')}." if finding.why else ""
        lines.append(f"{number:3} {finding.level}: {finding.sentence}{why}")
        lines.append(f"      Do: {finding.remedy}.")
    return lines


def figure_line(figure: Figure) -> str:
    """A figure on one line: name, value, band, ground, identity."""
    band = band_text(figure)
    shown = figure_text(figure) + (f"  ({band})" if band else "")
    return f"{figure.name}: {shown}  [{figure.source.basis}]  {figure.identity}"


def input_value(value: float | str, unit: str) -> str:
    """The value of an input, with its unit."""
    if isinstance(value, str):
        return f"{value} {unit}".strip()
    digits = max(0, min(5, len(f"{value:.5f}".rstrip("0").partition(".")[2])))
    return with_unit(value, digits, unit)


def plain(thing: Any) -> Any:
    """Dataclasses, tuples and mappings as plain data for JSON; paths and other objects as text."""
    if dataclasses.is_dataclass(thing) and not isinstance(thing, type):
        return {f.name: plain(getattr(thing, f.name)) for f in dataclasses.fields(thing)}
    if isinstance(thing, Mapping):
        return {str(key): plain(value) for key, value in thing.items()}
    if isinstance(thing, (list, tuple)):
        return [plain(item) for item in thing]
    if isinstance(thing, float) and not math.isfinite(thing):
        # JSON has no sign for "as far as you like"
        return None
    return thing if isinstance(thing, (str, int, float, bool)) or thing is None else str(thing)


def say_json(thing: Any) -> None:
    """The thing as JSON on standard output."""
    say(json.dumps(plain(thing), indent=2, ensure_ascii=False, allow_nan=False))


def report_shown(report: Report, as_json: bool, caution: str) -> int:
    """A report as lines or JSON, its files and the caution of its trade; the exit code."""
    code = exits.STOPPED if report.stops else exits.DONE
    if as_json:
        say_json(report)
        return code
    say(report.sentence)
    for figure in report.figures:
        say(figure_line(figure))
    for line in finding_lines(report.findings):
        say(line)
    for path in report.files:
        say(f"written: {path}")
    say(caution)
    return code


def error_as_json(error: HoopwrightError, code: int) -> dict[str, Any]:
    """An error of the one tree as plain data."""
    shown: dict[str, Any] = {"error": type(error).__name__, "exit_code": code, "message": str(error)}
    if isinstance(error, FileFaults):
        shown["path"] = error.path
        shown["faults"] = plain(error.faults)
    elif isinstance(error, InputError):
        shown |= {k: plain(getattr(error, k)) for k in ("field", "value", "unit", "must", "remedy")}
    return shown
