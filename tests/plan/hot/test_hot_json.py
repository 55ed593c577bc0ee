"""growth.json and seal.json hold their published schemas."""

import json
import sys
from dataclasses import replace
from pathlib import Path

import pytest

import hoopwright.plan
from hoopwright.design.demo import demo_liner
from hoopwright.plan.hot.as_json import data_text, grow_data, seal_data
from hoopwright.plan.hot.hot_plan import HotPlan, plan_hot
from hoopwright.plan.hot.json_schema import growth_schema, seal_schema
from hoopwright.plan.hot.json_shapes import KEYS

sys.path.insert(0, str(Path(__file__).parent.parent))

from test_plan_json import faults

DATA = Path(hoopwright.plan.__file__).parent / "data"


@pytest.fixture(scope="module")
def demo() -> HotPlan:
    return plan_hot(demo_liner())


@pytest.fixture(scope="module")
def bare() -> HotPlan:
    """A liner without seals, without operating point: nothing through time."""
    liner = demo_liner()
    return plan_hot(replace(liner, washer=None, spring_plate=None, operating=None, nozzle=None, turbine_nozzle=None))


def test_published_schemas_are_fresh_and_say_what_every_key_means() -> None:
    for name, text in (("growth", growth_schema()), ("seal", seal_schema())):
        assert (DATA / f"{name}.schema.json").read_text(encoding="utf-8") == text
        schema = json.loads(text)
        for shape in (schema, *schema["$defs"].values()):
            assert shape["additionalProperties"] is False
            assert all(value["description"] for value in shape["properties"].values())
    assert all(KEYS.values())


@pytest.mark.parametrize("which", ["demo", "bare"])
def test_files_hold_their_schemas(which: str, request: pytest.FixtureRequest) -> None:
    plan: HotPlan = request.getfixturevalue(which)
    for made, text in ((grow_data(plan), growth_schema()), (seal_data(plan), seal_schema())):
        schema, data = json.loads(text), json.loads(data_text(made))
        assert data["schema"] == schema["title"]
        assert faults(data, schema, schema) == []


def test_every_figure_and_finding_is_in_one_of_the_two(demo: HotPlan) -> None:
    grow, seal = grow_data(demo), seal_data(demo)
    assert [f["identity"] for f in (*grow["figures"], *seal["figures"])] == [f.identity for f in demo.figures]
    assert len(grow["findings"]) + len(seal["findings"]) == len(demo.findings)
    known = {f["identity"] for f in grow["figures"]}
    assert len(known) == len(grow["figures"])


def test_a_wrong_key_is_seen(demo: HotPlan) -> None:
    schema, data = json.loads(seal_schema()), json.loads(data_text(seal_data(demo)))
    data["stacks"][0]["worst_mm"] = "0.1"
    del data["alternatives"][0]["changes"]
    assert len(faults(data, schema, schema)) == 2
