"""What a drawing gets wrong is on the plan too: whoever plans without a check must still hear of it."""

from __future__ import annotations

from pathlib import Path

import pytest

from hoopwright.design.demo import demo_text
from hoopwright.design.liner_reading import liner_from_text
from hoopwright.errors import FileFaults
from hoopwright.plan.ring_plan import plan_ring


def test_a_size_in_inches_stops_the_plan() -> None:
    text = demo_text("liner.toml").replace("diameter_mm = 246.8", "diameter_mm = 9.717")
    plan = plan_ring(liner_from_text(text, "inches"), "HD-401")
    found = [finding for finding in plan.findings if finding.topic == "control-size"]
    assert [finding.level for finding in found] == ["stop"]
    assert "9.717 mm" in found[0].sentence and "inches" in found[0].remedy


@pytest.mark.parametrize("name", ["plan.json", "CON", "hot", "com1.x", "end."])
def test_a_ring_named_like_a_file_of_the_plan_is_refused(name: str) -> None:
    with pytest.raises(FileFaults, match="folder of its own"):
        liner_from_text(demo_text("liner.toml").replace("HD-401", name), "named")


def test_names_that_differ_in_capitals_alone_are_refused() -> None:
    with pytest.raises(FileFaults, match="capitals"):
        liner_from_text(demo_text("liner.toml").replace("HD-401", "hd-402"), "named")


def test_the_fault_of_a_card_names_the_card_and_not_the_liner(tmp_path: Path) -> None:
    (tmp_path / "bad.toml").write_text('title = "a"\nx = [\n')
    with pytest.raises(FileFaults) as caught:
        liner_from_text(demo_text("liner.toml"), "liner.toml", tmp_path)
    assert [fault.line for fault in caught.value.faults] == [None]
    assert caught.value.faults[0].key.startswith(str(tmp_path / "bad.toml"))
