"""The JSON API against its own OpenAPI description, with sound and unsound input: never a fault of the server."""

from __future__ import annotations

import contextlib
import random
from collections.abc import Iterator

import httpx
import pytest
import schemathesis
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis.errors import Unsatisfiable
from schemathesis import GenerationMode
from schemathesis.checks import not_a_server_error

from hoopwright.desk.page.job import open_job
from hoopwright.web.app import create_app
from hoopwright.web.settings import Settings
from tests.web.conftest import Served


@pytest.fixture(scope="module")
def schema(served: Served, tmp_path_factory: pytest.TempPathFactory) -> schemathesis.BaseSchema:
    """The description as the application gives it."""
    folder = tmp_path_factory.mktemp("api") / "demo"
    job = open_job(folder)
    job.learn_from(served.job)
    app = create_app(job, Settings(folder, hosts=frozenset({"testserver", "127.0.0.1"})))
    return schemathesis.openapi.from_asgi("/api/openapi.json", app)


def test_no_input_makes_a_fault_of_the_server(schema: schemathesis.BaseSchema) -> None:
    """Every operation with input drawn from the description, sound and unsound."""
    operations = [found.ok() for found in schema.get_all_operations()]
    assert len(operations) >= 7
    asked: list[int] = []
    for operation in operations:
        for mode in (GenerationMode.POSITIVE, GenerationMode.NEGATIVE):
            drawn(operation, mode, asked)
    assert len(asked) > 60
    assert {200, 422} <= set(asked)


def drawn(operation: schemathesis.APIOperation, mode: GenerationMode, asked: list[int]) -> None:
    """Ask one operation with drawn input; the status of every answer goes to `asked`."""
    try:
        strategy = operation.as_strategy(generation_mode=mode)
    except Unsatisfiable:
        # an operation without input has none that is unsound
        return

    @given(case=strategy)
    @settings(
        max_examples=15, deadline=None, derandomize=True, phases=[Phase.generate],
        suppress_health_check=list(HealthCheck), database=None,
    )  # fmt: skip
    def ask(case: schemathesis.Case) -> None:
        answer = case.call(headers={"Host": "127.0.0.1"})
        asked.append(answer.status_code)
        case.validate_response(answer, checks=[not_a_server_error])
        if answer.status_code >= 400:
            assert answer.json()["faults"][0]["what"]

    with contextlib.suppress(Unsatisfiable):
        ask()


def test_the_description_names_every_answer(served: Served) -> None:
    found = httpx.get(served.address + "/api/openapi.json").json()
    assert {"/api/liner", "/api/board", "/api/rings/{ring}", "/api/figures/{identity}", "/api/press/{serial}",
            "/api/records/hits", "/api/records/{identity}/undo"} <= set(found["paths"])  # fmt: skip
    for path, methods in found["paths"].items():
        for method, said in methods.items():
            assert said["summary"], (path, method)
            assert {"200", "422"} <= set(said["responses"])


def test_a_figure_is_the_same_in_the_api_and_on_the_page(served: Served) -> None:
    identity = "HD-402/size/hit-2/free-lip-dia"
    said = httpx.get(f"{served.address}/api/figures/{identity}", timeout=30.0).json()
    assert said["figure"]["identity"] == identity
    assert f"{said['figure']['value']:.2f}" == "247.60"
    ring = httpx.get(f"{served.address}/api/rings/HD-402?if=stretch:1.3", timeout=30.0).json()
    moved = {f["identity"]: f["value"] for f in ring["figures"]}
    assert moved["HD-402/close/cut-length"] != pytest.approx(766.12, abs=0.05)


@pytest.fixture(scope="module")
def door(served: Served) -> Iterator[httpx.Client]:
    """A caller of the reading server."""
    with httpx.Client(base_url=served.address, timeout=60.0) as client:
        yield client


def broken(seed: int) -> tuple[str, bytes]:
    """A file that no gauge wrote."""
    rng = random.Random(seed)
    kinds = (
        ("a.csv", bytes(rng.randrange(256) for _ in range(rng.randrange(2000)))),
        ("a.xlsx", b"PK\x03\x04" + bytes(rng.randrange(256) for _ in range(600))),
        ("../../etc/passwd", b"angle_deg,deviation_mm\n0,0.1\n"),
        ("a.csv", b"angle_deg,deviation_mm\n" + b"0," * 100_000),
        ("a.tsv", "angle_deg\tdeviation_mm\n".encode("utf-16")),
        ("a.csv", b"=cmd|' /C calc'!A0,deviation_mm\n1,2\n"),
        ("a.csv", b"\x00" * 5000),
        ("a.csv", b"angle_deg,deviation_mm\n" + b"\n".join(b"%d,1e999" % k for k in range(40))),
    )
    return kinds[seed % len(kinds)]


def test_fuzzed_uploads_are_refused_and_leave_nothing(door: httpx.Client, served: Served) -> None:
    before = {p: p.stat().st_size for p in served.job.folder.rglob("*") if p.is_file() and "records" not in p.name}
    above = set(served.job.folder.parent.iterdir())
    form = {"serial": "402-20", "z_mm": "66", "face": "outside", "segment_set": "HT-402-S", "held": "free", "by": "QE"}
    for seed in range(40):
        name, content = broken(seed)
        answer = door.post("/HD-400@A/HD-402/readings", data=form, files={"file": (name, content)})
        assert answer.status_code in (400, 413, 422), (seed, name)
    after = {p: p.stat().st_size for p in served.job.folder.rglob("*") if p.is_file() and "records" not in p.name}
    assert after == before
    assert set(served.job.folder.parent.iterdir()) == above
