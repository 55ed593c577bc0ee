"""Away from loopback: a token made on first use, kept as a digest; TLS by a certificate of our own; tries bounded."""

from __future__ import annotations

import json
import ssl
from collections.abc import Iterator
from pathlib import Path

import httpx
import pytest
from playwright.sync_api import Browser, expect

from hoopwright.desk.page.press import reads_of
from hoopwright.errors import InputError
from hoopwright.web.certificate import own_certificate
from hoopwright.web.serving import PRIVATE, Prepared, Wanted, prepare
from hoopwright.web.token_door import _local
from hoopwright.web.tokens import TRIES, Sessions, Tries, make_token, token_fits
from tests.web.conftest import Served, free_port, running, watched

HOST = "127.0.0.2"
"""A second loopback address, taken as an interface that others can reach."""


@pytest.fixture(scope="module")
def ready(tmp_path_factory: pytest.TempPathFactory) -> Prepared:
    return prepare(Wanted(tmp_path_factory.mktemp("tls") / "job", HOST, free_port(HOST)))


@pytest.fixture(scope="module")
def outside(ready: Prepared, served: Served) -> Iterator[Served]:
    yield from running(ready.job.folder, ready.settings, like=served.job, **ready.options)


def test_the_press_path_over_tls(browser: Browser, outside: Served, ready: Prepared) -> None:
    context = browser.new_context(
        viewport={"width": 1280, "height": 800}, base_url=outside.address, ignore_https_errors=True
    )
    found = watched(context, outside.address)
    page = found.page
    page.goto("/press/402-06")
    assert page.url.endswith("/enter?next=/press/402-06")
    page.fill("#token", "not the token")
    page.get_by_role("button", name="Enter").click()
    expect(page.locator("[role=alert]")).to_contain_text("not the token")
    page.fill("#token", ready.token)
    page.get_by_role("button", name="Enter").click()
    page.wait_for_url("**/press/402-06")
    cookie = next(c for c in context.cookies() if "session" in c["name"])
    assert cookie["secure"] and cookie["httpOnly"] and cookie["sameSite"] == "Strict"
    assert page.evaluate("isSecureContext")
    page.get_by_role("button", name="Read: go on").click()
    page.get_by_role("button", name="HT-402-S revision A").click()
    page.get_by_role("button", name="Hit made").click()
    for digit in "24740":
        page.locator("#pad").get_by_role("button", name=digit, exact=True).click()
    page.get_by_role("button", name="Enter this reading").click()
    expect(page.locator("#hitwords")).to_contain_text("second hit")
    expect(page.locator("#sync")).to_have_text("stored at the desk", timeout=15_000)
    assert [r.free_mm for r in reads_of(outside.job, "402-06", "lip_od")] == [247.4]
    context.close()


def test_a_program_brings_the_token_in_its_header(outside: Served, ready: Prepared) -> None:
    trust = ssl.create_default_context(cafile=ready.options["ssl_certfile"])
    with httpx.Client(base_url=outside.address, verify=trust) as client:
        assert client.get("/api/liner").status_code == 401
        assert client.get("/HD-400@A").status_code == 303
        assert client.get("/static/page.css").status_code == 200
        answer = client.get("/api/liner", headers={"Authorization": f"Bearer {ready.token}"})
        assert answer.json()["id"] == "HD-400"
        assert "max-age" in answer.headers["strict-transport-security"]


def test_the_token_is_kept_as_a_digest_only(ready: Prepared) -> None:
    path = ready.job.folder / PRIVATE / "token.json"
    assert ready.token not in path.read_text(encoding="utf-8")
    assert set(json.loads(path.read_text(encoding="utf-8"))) == {"salt", "digest", "scrypt"}
    for private in (path, ready.job.folder / PRIVATE / "key.pem"):
        assert private.stat().st_mode & 0o077 == 0
    again = prepare(Wanted(ready.job.folder, HOST, ready.settings.port))
    assert again.token == ""
    assert token_fits(path, ready.token)


def test_tries_are_bounded(tmp_path: Path) -> None:
    now = [0.0]
    tries = Tries(lambda: now[0])
    assert [tries.allowed("a") for _ in range(TRIES + 2)] == [True] * TRIES + [False] * 2
    assert tries.allowed("b")
    now[0] = 61.0
    assert tries.allowed("a")
    assert sum(tries.allowed(f"many {k}") for k in range(200)) < 45


def test_a_session_ends(tmp_path: Path) -> None:
    now = [0.0]
    sessions = Sessions(lambda: now[0])
    name = sessions.begin()
    assert sessions.known(name) and not sessions.known("")
    now[0] = 13 * 3600.0
    assert not sessions.known(name)


def test_a_new_token_voids_the_old_one(tmp_path: Path) -> None:
    path = tmp_path / "token.json"
    old = make_token(path)
    new = make_token(path)
    assert token_fits(path, new) and not token_fits(path, old)


@pytest.mark.parametrize(
    "address", ["//elsewhere.example", "https://elsewhere.example", "/\\elsewhere", "x", "/a\r\nb"]
)
def test_entering_leads_nowhere_else(address: str) -> None:
    assert _local(address) == "/"


def test_a_certificate_is_made_anew_for_other_names(tmp_path: Path) -> None:
    first = own_certificate(tmp_path, ("127.0.0.2", "press"))[0].read_bytes()
    assert own_certificate(tmp_path, ("press", "127.0.0.2"))[0].read_bytes() == first
    assert own_certificate(tmp_path, ("127.0.0.2", "desk"))[0].read_bytes() != first


@pytest.mark.parametrize("changes", [{"port": 0}, {"port": 70_000}, {"certificate": Path("x.pem")}])
def test_what_cannot_be_served_is_refused(tmp_path: Path, changes: dict[str, object]) -> None:
    with pytest.raises(InputError):
        prepare(Wanted(tmp_path / "job", **changes))  # type: ignore[arg-type]


def test_on_loopback_no_token_is_asked_for(tmp_path: Path) -> None:
    found = prepare(Wanted(tmp_path / "job"))
    assert (found.token, found.settings.token_file, found.settings.secure) == ("", None, False)
    assert found.address == "http://127.0.0.1:8412"
