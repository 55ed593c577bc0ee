"""The failure catalogue: symptoms, causes with their signs, separating measurement, correction; ranked by what was
seen."""

from __future__ import annotations

import math
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files

from hoopwright.errors import InputError

NOTHING_WRONG, NOT_LISTED = "nothing wrong", "not listed"

SIGN_GIVEN_CAUSE, SIGN_GIVEN_OTHER, SIGN_GIVEN_NOTHING, SIGN_GIVEN_UNLISTED = 0.85, 0.15, 0.05, 0.30
"""How often a sign is seen with its cause, with another cause of the row, with nothing wrong, with a cause not listed.
First estimates, no source; a shop's own counts replace them."""


@dataclass(frozen=True, slots=True)
class Cause:
    """A cause, and the sign that speaks for it."""

    name: str
    sign: str


@dataclass(frozen=True, slots=True)
class FailureRow:
    """One row of the catalogue."""

    number: int
    operation: str
    symptom: str
    causes: tuple[Cause, ...]
    separate: str
    correct: str


@dataclass(frozen=True, slots=True)
class RankedCause:
    """cause with its share after what was seen; weighed : each sign asked about, yes or no, log10 of its ratio."""

    name: str
    share: float
    word: str
    weighed: tuple[tuple[str, bool, float], ...]


@dataclass(frozen=True, slots=True)
class RowDiagnosis:
    """Causes ranked, the sign worth looking at next ("" when none is left), the correction only of a named cause."""

    row: FailureRow
    ranked: tuple[RankedCause, ...]
    next_sign: str
    correction: str


@lru_cache(maxsize=1)
def catalogue() -> tuple[FailureRow, ...]:
    """All rows, as shipped."""
    data = tomllib.loads(files("hoopwright.correct").joinpath("data/failures.toml").read_text(encoding="utf-8"))
    return tuple(
        FailureRow(
            int(r["number"]), r["operation"], r["symptom"],
            tuple(Cause(c["name"], c["sign"]) for c in r["causes"]), r["separate"], r["correct"],
        )
        for r in data["row"]
    )  # fmt: skip


def failure_row(number: int) -> FailureRow:
    """A row by number."""
    for row in catalogue():
        if row.number == number:
            return row
    raise InputError("row", number, "", f"from 1 to {len(catalogue())}", "look the symptom up")


def rows_like(words: str) -> tuple[FailureRow, ...]:
    """Rows whose symptom, operation or causes hold most of these words, best first; none where no word is found."""
    wanted = [w.lower() for w in words.split() if len(w) > 2]
    if not wanted:
        raise InputError("words", words, "", "one word of three letters or more", "describe what is seen")

    def score(row: FailureRow) -> float:
        symptom = row.symptom.lower()
        rest = " ".join([row.operation, *(c.name for c in row.causes), *(c.sign for c in row.causes)]).lower()
        return sum(2.0 * (w in symptom) + 0.5 * (w in rest) for w in wanted)

    found = [(score(row), -row.number, row) for row in catalogue()]
    return tuple(row for points, _, row in sorted(found, key=lambda f: f[:2], reverse=True) if points >= 1.0)


def diagnose_row(number: int, seen: Mapping[str, bool]) -> RowDiagnosis:
    """Rank the causes of a row by the signs that were looked at: cause name to whether its sign was there.

    Raises
    ------
    InputError
        A cause that the row does not have.
    """
    row = failure_row(number)
    names = [c.name for c in row.causes]
    for name in seen:
        if name not in names:
            raise InputError("cause", name, "", ", ".join(names), "name a cause of this row")
    logs = {name: _log(row, name, seen) for name in (*names, NOTHING_WRONG, NOT_LISTED)}
    top = max(logs.values())
    weights = {name: math.exp(v - top) for name, v in logs.items()}
    total = sum(weights.values())
    ranked = []
    for name, weight in weights.items():
        share = weight / total
        weighed = tuple(
            (c.sign, seen[c.name], _ratio(c.name, name, seen[c.name])) for c in row.causes if c.name in seen
        )
        ranked.append(RankedCause(name, share, word(share, name in names and bool(seen.get(name))), weighed))
    ranked.sort(key=lambda r: -r.share)
    unseen = [c for c in row.causes if c.name not in seen]
    shares = {r.name: r.share for r in ranked}
    # one sign of a likely cause tells most; once a cause is named, no more is asked
    best = max(unseen, key=lambda c: shares[c.name] * (1.0 - shares[c.name]), default=None)
    named = ranked[0].word == "likely"
    return RowDiagnosis(row, tuple(ranked), "" if named or best is None else best.sign, row.correct if named else "")


def word(share: float, rule_met: bool) -> str:
    """likely (above 0.9 and the naming rule met), suspected (from 0.5), else open."""
    if share > 0.9 and rule_met:
        return "likely"
    return "suspected" if share >= 0.5 else "open"


def _chance(sign_of: str, cause: str) -> float:
    if cause == sign_of:
        return SIGN_GIVEN_CAUSE
    return {NOTHING_WRONG: SIGN_GIVEN_NOTHING, NOT_LISTED: SIGN_GIVEN_UNLISTED}.get(cause, SIGN_GIVEN_OTHER)


def _log(row: FailureRow, cause: str, seen: Mapping[str, bool]) -> float:
    prior = {NOTHING_WRONG: 0.3, NOT_LISTED: 0.3}.get(cause, 1.0)
    chances = [_chance(name, cause) if yes else 1.0 - _chance(name, cause) for name, yes in seen.items()]
    return math.log(prior) + sum(math.log(c) for c in chances)


def _ratio(sign_of: str, cause: str, yes: bool) -> float:
    one, none = _chance(sign_of, cause), SIGN_GIVEN_NOTHING
    return math.log10(one / none) if yes else math.log10((1.0 - one) / (1.0 - none))
