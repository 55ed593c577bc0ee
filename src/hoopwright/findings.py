"""What the program says: `Figure` (a number a person acts on), `Check` (a claim against a limit), `Finding`.

All are frozen and plain: the same object stands on screen, on paper and in JSON. Only `errors` lies below.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Literal

Basis = Literal["measured", "read", "given", "derived", "practice", "memory"]
"""Ground a figure stands on, firmest first."""

BASES: tuple[Basis, ...] = ("measured", "read", "given", "derived", "practice", "memory")

RANKS: dict[str, int] = {basis: rank for rank, basis in enumerate(BASES)}

Level = Literal["note", "caution", "stop"]
LEVELS: tuple[Level, ...] = ("note", "caution", "stop")


@dataclass(frozen=True, slots=True)
class Source:
    """Where a figure comes from: basis, place in words (title, year, table, page), and whether it is invented."""

    basis: Basis
    where: str
    invented: bool = False


def weakest(sources: Iterable[Source]) -> Source:
    """Ground of a figure worked out from others: derived, unless an input stands on something weaker.

    >>> weakest([Source("read", "table 1"), Source("practice", "house rule")]).basis
    'practice'
    >>> weakest([Source("measured", "tape")]).basis
    'derived'
    """
    worst, rank, invented = Source("derived", "worked out here"), -1, False
    for source in sources:
        invented = invented or source.invented
        if RANKS[source.basis] > rank:
            worst, rank = source, RANKS[source.basis]
    if rank <= RANKS["derived"]:
        return Source("derived", "worked out here", invented)
    return Source(worst.basis, f"worked out here; rests on: {worst.where}", invented)


@dataclass(frozen=True, slots=True)
class Band:
    """Where a figure falls in 9 of 10 runs (5 to 95 %).

    how : how it was obtained ("linearised over spread card invented-shop", "500 forward runs, seed 7").
    inside_pct : share of the runs inside the drawing tolerance; None where no tolerance stands on this figure.
    """

    low: float
    high: float
    how: str
    inside_pct: float | None = None


@dataclass(frozen=True, slots=True)
class Input:
    """One input of a figure's working. `figure` is the identity when the input is itself a `Figure`."""

    symbol: str
    name: str
    value: float | str
    unit: str
    source: Source
    figure: str = ""


@dataclass(frozen=True, slots=True)
class Figure:
    """A number a person acts on, with everything needed to explain it.

    identity : "HD-402/size/hit-1/free-lip-dia"; the same in `explain`, JSON, page address and paper.
    name : the shop's words for it. digits : decimals to print. unit : spelt as in names ("mm", "kN", "pct").
    formula : the equation in symbols, each symbol of which is in `inputs` (" " between tokens, so that a
        symbol can be replaced by its number).
    """

    identity: str
    name: str
    value: float
    unit: str
    source: Source
    digits: int = 3
    band: Band | None = None
    formula: str = ""
    inputs: tuple[Input, ...] = ()
    note: str = ""

    def __str__(self) -> str:
        return f"{self.value:.{self.digits}f} {self.unit}".strip()

    def as_input(self, symbol: str) -> Input:
        """This figure as an input of another one's working."""
        return Input(symbol, self.name, self.value, self.unit, self.source, self.identity)


@dataclass(frozen=True, slots=True)
class Check:
    """A claim in the shop's words, against a limit.

    sense : "<=" (value must not pass the limit) or ">=" (value must reach it). level : how grave a failure is.
    remedy : what to do, the reversible thing first. about : identity of part or figure it speaks of.
    """

    name: str
    value: float
    limit: float
    sense: Literal["<=", ">="]
    unit: str
    source: Source
    level: Level
    remedy: str
    about: str = ""
    notes: tuple[str, ...] = ()

    @property
    def ok(self) -> bool:
        """Whether the claim holds."""
        return self.value <= self.limit if self.sense == "<=" else self.value >= self.limit

    @property
    def share(self) -> float:
        """Share of the limit used: above 1 the claim fails (for "<="; for ">=" it is limit over value)."""
        if self.sense == "<=":
            return self.value / self.limit if self.limit else float("inf") if self.value > 0 else 0.0
        return self.limit / self.value if self.value else float("inf")


@dataclass(frozen=True, slots=True)
class Finding:
    """What is so, by how much against which limit; and the remedy ("Do: ..."), the reversible thing first.

    The first sentence is `sentence` (printed bold), the reason goes to `why`. `topic` is a short stable key
    ("roll-slip") for filtering and tests. Findings are sorted gravest first by `gravest_first`.
    """

    level: Level
    sentence: str
    remedy: str
    about: str
    topic: str
    why: str = ""
    check: Check | None = None
    source: Source = field(default_factory=lambda: Source("derived", "worked out here"))


def gravest_first(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Findings in the order stop, caution, note; otherwise as given."""
    return tuple(sorted(findings, key=lambda f: -LEVELS.index(f.level)))


def judged(check: Check, sentence: str, topic: str, why: str = "") -> Finding | None:
    """The finding of a failed check; None where it holds on firm ground.

    A check that passes on figures from memory alone stands as a caution until a firmer figure is entered.
    """
    if not check.ok:
        return Finding(check.level, sentence, check.remedy, check.about, topic, why, check, check.source)
    if check.source.basis == "memory":
        return Finding(
            "caution",
            f"{check.name}: holds, but on a figure from memory only.",
            "enter a measured or published figure on the card",
            check.about,
            topic + "-from-memory",
            why,
            check,
            check.source,
        )
    return None
