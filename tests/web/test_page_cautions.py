"""Pages about work that can hurt someone carry the cautions of that work, with their numbers and the rule."""

from __future__ import annotations

import httpx
import pytest

from hoopwright.papers.cautions import RULE, belonging
from tests.web.conftest import Served

PAGES = (
    ("/lot/W07", ["weld"]),
    ("/HD-400@A/HD-402/made", ["cut", "roll", "curl", "close", "weld", "size", "trim", "drill"]),
    ("/HD-400@A/HD-402/tools", ["roll", "size", "cut", "anneal", "grind"]),
    ("/HD-400@A/fits", ["size"]),
    ("/HD-400/A..B", ["size", "grind"]),
)


@pytest.mark.parametrize(("path", "kinds"), PAGES)
def test_cautions_stand_on_the_page(served: Served, path: str, kinds: list[str]) -> None:
    text = httpx.get(served.address + path, timeout=30.0).text.replace("&#39;", "'")
    wanted = belonging(kinds)
    for caution in wanted:
        assert f'<li value="{caution.number}"><b>{caution.head}</b>' in text
    assert text.count('<li value="') == len(wanted)
    assert RULE in text


def test_laser_and_fume_stand_on_the_weld_lot(served: Served) -> None:
    text = httpx.get(served.address + "/lot/W07", timeout=30.0).text
    assert "class 4" in text and "poisonous" in text and "ISO 11553" in text
