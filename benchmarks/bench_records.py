"""The records with 100,000 readings: what each page asks of the store takes under 100 ms, on a file and on a server."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from hoopwright.records import Store, open_store
from hoopwright.records.judging import KeptFinding
from hoopwright.records.making import Operation, Part, Reading, Tool

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "records"))
from pg_server import running_server

READINGS, SERIALS = 100_000, 2_000
RINGS = ("HD-401", "HD-402", "HD-403", "HD-404", "HD-411", "HD-412", "HD-413")
LIMIT_S = 0.100


def filled(store: Store) -> Store:
    """2,000 serials of seven rings, 50 readings each, two hits each, and their findings."""
    serials = [(RINGS[n % len(RINGS)], f"s-{n:05}") for n in range(SERIALS)]
    with store.writing("bench") as write:
        for ring in RINGS:
            write.add(Tool(id=f"{ring}-S", liner="HD-400", what="segment set", serves=ring, revision="A",
                           state="proven"))  # fmt: skip
        write.add_all([Part(id=s, liner="HD-400", part=ring, revision="A") for ring, s in serials])
        write.add_all([
            Operation(id=f"{s}.hit-{h}", serial=s, step=f"sizing hit {h}", tool=f"{ring}-S", done_by="b")
            for ring, s in serials for h in (1, 2)
        ])  # fmt: skip
        write.add_all([
            KeptFinding(liner="HD-400", level="caution", sentence="x", remedy="y", about=s, topic="t")
            for _, s in serials[::10]
        ])  # fmt: skip
    each = READINGS // SERIALS
    for begin in range(0, SERIALS, 200):
        with store.writing("bench") as write:
            write.add_all([
                Reading(id=f"{s}.{k}", liner="HD-400", part=ring, what="girth" if k % 5 else "thickness",
                        characteristic="lip_od" if k % 2 else "land_id", unit="mm", value=247.0 + 0.001 * k, serial=s,
                        operation=f"{s}.hit-{1 + k % 2}", taken_by="b", gauge="tape 4")
                for ring, s in serials[begin : begin + 200] for k in range(each)
            ])  # fmt: skip
    return store


@pytest.fixture(scope="module", params=["file", "server"])
def store(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    """A filled store."""
    if request.param == "file":
        one = filled(open_store(tmp_path_factory.mktemp("bench")))
        yield one
        one.close()
        return
    with running_server() as server:
        one = filled(open_store(server.new_database()))
        yield one
        one.close()


QUESTIONS: dict[str, Callable[[Store], int]] = {
    "newest readings": lambda s: len(s.list(Reading, 100, newest_first=True)),
    "readings of a serial": lambda s: len(s.list(Reading, 100, newest_first=True, serial="s-01000")),
    "readings of a ring": lambda s: len(s.list(Reading, 100, newest_first=True, part="HD-402")),
    "girths of a size": lambda s: len(
        s.list(Reading, 100, newest_first=True, part="HD-402", what="girth", characteristic="lip_od", standing="stands")
    ),
    "a page further back": lambda s: len(s.list(Reading, 100, before=50_000)),
    "kind of reading": lambda s: len(s.list(Reading, 100, newest_first=True, what="thickness")),
    "readings after a hit": lambda s: len(s.list(Reading, operation="s-01000.hit-2")),
    "how many of a serial": lambda s: s.count(Reading, serial="s-01000"),
    "how many in all": lambda s: s.count(Reading),
    "one reading": lambda s: s.get(Reading, "s-01000.7").version,
    "its history": lambda s: len(s.history(Reading, "s-01000.7")),
    "audit trail": lambda s: len(s.journal(100)),
    "newest serials of a ring": lambda s: len(s.list(Part, 100, newest_first=True, part="HD-402")),
    "operations of a serial": lambda s: len(s.list(Operation, serial="s-01000")),
    "hits on a set": lambda s: len(s.list(Operation, 100, newest_first=True, tool="HD-402-S")),
    "open findings of a serial": lambda s: len(s.list(KeptFinding, about="s-01000", state="open")),
    "register": lambda s: len(s.list(Tool)),
}


@pytest.mark.parametrize("question", QUESTIONS)
def test_what_a_page_asks(benchmark: BenchmarkFixture, store: Store, question: str) -> None:
    found = benchmark.pedantic(QUESTIONS[question], args=(store,), rounds=15, warmup_rounds=2)
    assert found >= 1
    assert benchmark.stats.stats.median < LIMIT_S
