"""The door: names, origins, sizes, policy. Nothing outside the package's own files is served."""

from __future__ import annotations

import httpx
import pytest

from hoopwright.web.guard import host_of
from hoopwright.web.settings import MOST_BODY_BYTES
from tests.web.conftest import Served


@pytest.fixture
def client(served: Served):  # type: ignore[no-untyped-def]
    with httpx.Client(base_url=served.address) as opened:
        yield opened


def test_every_answer_has_the_policy(client: httpx.Client) -> None:
    for path in ("/HD-400@A", "/nowhere", "/static/page.css"):
        headers = client.get(path).headers
        assert "default-src 'none'" in headers["content-security-policy"]
        assert "unsafe" not in headers["content-security-policy"]
        assert headers["x-content-type-options"] == "nosniff"


@pytest.mark.parametrize("host", ["elsewhere.example", "127.0.0.1.elsewhere.example", "", "[bad"])
def test_another_name_is_refused(client: httpx.Client, host: str) -> None:
    assert client.get("/HD-400@A", headers={"Host": host}).status_code in (400, 421)


@pytest.mark.parametrize(
    "headers",
    [{"Origin": "http://elsewhere.example"}, {"Origin": "null"}, {"Sec-Fetch-Site": "cross-site"},
     {"Sec-Fetch-Site": "same-site"}],
)  # fmt: skip
def test_a_change_from_another_page_is_refused(client: httpx.Client, headers: dict[str, str]) -> None:
    assert client.post("/api/records", json={}, headers=headers).status_code == 403


def test_too_much_is_refused_with_and_without_a_length(client: httpx.Client) -> None:
    assert client.post("/api/records", content=b"x" * (MOST_BODY_BYTES + 1)).status_code == 413

    def parts():  # type: ignore[no-untyped-def]
        for _ in range(MOST_BODY_BYTES // 100_000 + 2):
            yield b"x" * 100_000

    assert client.post("/api/records", content=parts()).status_code in (413, 404, 405)


@pytest.mark.parametrize(
    "path",
    ["/static/../app.py", "/static/%2e%2e/app.py", "/static//etc/passwd", "/static/..%2fapp.py",
     "/out/HD-402@A/..%2f..%2fliner.toml",
     "/out/HD-402@..%2f..%2fliner/HD-402-walk.pdf", "/HD-400@..%2f..%2fliner", "/static/fonts"],
)  # fmt: skip
def test_no_path_leaves_the_package(client: httpx.Client, path: str) -> None:
    answer = client.get(path)
    assert answer.status_code in (404, 422)
    assert b"schema" not in answer.content


def test_host_of_reads_names() -> None:
    assert host_of("127.0.0.1:8412") == "127.0.0.1"
    assert host_of("[::1]:8412") == "::1"
    assert host_of("a b") != "a"
