"""Earlier formats into today's: every number and word again as it was, everything assumed said, every fault named."""

from __future__ import annotations

import datetime
import tomllib
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from random_old_files import old_text, random_old_file

from hoopwright.cards.library import find_card
from hoopwright.cards.limits import HouseLimits
from hoopwright.cards.quantities import quantities
from hoopwright.cards.shop import MACHINE_KINDS, spread
from hoopwright.cards.spread import Spread
from hoopwright.design.changes import read_changes
from hoopwright.design.check import check_file
from hoopwright.design.demo import demo_liner, demo_text
from hoopwright.design.liner_reading import cards_folder, read_liner
from hoopwright.design.readings import read_readings
from hoopwright.design.register import read_register
from hoopwright.design.shapes import Liner
from hoopwright.design.upgrade import UpgradeResult, upgrade_text
from hoopwright.design.wishes import friction_for, limits_for
from hoopwright.errors import FileFaults

SAVED = Path(__file__).parents[1] / "saved"
OLD = (SAVED / "demo-liner-1.toml").read_text(encoding="utf-8")
SEEDS = range(25)


def written(result: UpgradeResult, folder: Path) -> Path:
    """The new files in a folder; the liner file."""
    for name, text in result.files.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(text, encoding="utf-8")
    return folder / "liner.toml"


def leaves(data: Any, skipped: tuple[str, ...] = ()) -> Iterator[Any]:
    """Every number, word, truth value and date of nested data."""
    if isinstance(data, dict):
        for key, item in data.items():
            if key not in skipped:
                yield from leaves(item, skipped)
    elif isinstance(data, list):
        for item in data:
            yield from leaves(item, skipped)
    else:
        yield data


def numbers(data: Any, skipped: tuple[str, ...] = ()) -> Counter[float]:
    """How often each number stands in nested data."""
    return Counter(float(v) for v in leaves(data, skipped) if isinstance(v, (int, float)) and not isinstance(v, bool))


def words(data: Any, skipped: tuple[str, ...] = ()) -> set[str]:
    """Every word of nested data; a date as its text."""
    return {
        v.isoformat() if isinstance(v, datetime.date) else v
        for v in leaves(data, skipped)
        if isinstance(v, (str, datetime.date))
    }


def new_data(result: UpgradeResult) -> dict[str, Any]:
    """All new files as data."""
    return {name: tomllib.loads(text) for name, text in result.files.items()}


class TestDemo:
    """The saved file of the demonstration."""

    def test_it_is_today_s_demonstration(self, tmp_path: Path) -> None:
        """All but what the old format cannot say: cards of its own, wishes in the file, the nominal gap of joints."""
        liner = read_liner(written(upgrade_text(OLD), tmp_path))
        demo = demo_liner()
        assert demo.nozzle is not None and demo.turbine_nozzle is not None
        assert liner.nozzle is not None and liner.turbine_nozzle is not None
        same: Liner = replace(
            liner,
            cards=demo.cards,
            wishes=(),
            nozzle=replace(liner.nozzle, casing_material=demo.nozzle.casing_material),
            turbine_nozzle=replace(liner.turbine_nozzle, material=demo.turbine_nozzle.material),
            joints=tuple(replace(joint, gap_mm=0.05) for joint in liner.joints),
        )
        assert same == demo

    def test_register_readings_and_changes_are_today_s(self) -> None:
        files = upgrade_text(OLD).files
        assert read_register(files["register.toml"]) == read_register(demo_text("register.toml"))
        assert read_readings(files["readings.toml"]) == read_readings(demo_text("readings.toml"))
        assert read_changes(files["changes.toml"]) == read_changes(demo_text("changes.toml"))

    def test_wishes_are_the_limits_of_the_demonstration_s_cards(self, tmp_path: Path) -> None:
        path = written(upgrade_text(OLD), tmp_path)
        liner, own = read_liner(path), cards_folder(path)
        ours, theirs = limits_for(demo_liner()), limits_for(liner, own)
        for name in quantities(HouseLimits):
            assert getattr(theirs, name).value == getattr(ours, name).value, name
        assert friction_for(liner, own).mu_base.value == friction_for(demo_liner()).mu_base.value

    def test_machines_and_spreads_are_the_demonstration_s(self, tmp_path: Path) -> None:
        path = written(upgrade_text(OLD), tmp_path)
        liner, own = read_liner(path), cards_folder(path)
        for kind in MACHINE_KINDS:
            ours, theirs = find_card(kind, f"demo-{kind}"), find_card(kind, getattr(liner.cards, kind), own)
            assert {n: f.value for n, f in theirs.figures.items()} == {n: f.value for n, f in ours.figures.items()}
        for name in quantities(Spread):
            # a third of three is one, whichever way it is written
            value = getattr(spread(liner.cards.spread, own), name).value
            assert value == pytest.approx(getattr(spread("demo-spread"), name).value, rel=1e-12)

    def test_what_is_assumed_is_said(self) -> None:
        result = upgrade_text(OLD)
        said = "\n".join(result.assumed)
        for word in (
            "prior_plastic_strain = 0.05 is not carried over",
            "circumference diameters",
            "restrained",
            "mid-surfaces",
            "finish grinding",
            "second_closing",
            "Swift curve",
            "min_hoop_stretch",
        ):
            assert word in said
        assert all(f"# - {line}" in result.files["liner.toml"] for line in result.assumed)

    def test_prior_strain_is_not_carried_over(self, tmp_path: Path) -> None:
        liner = read_liner(written(upgrade_text(OLD), tmp_path))
        assert [ring.prior_strain_log for ring in liner.rings] == [None] * 7

    def test_upgraded_it_checks_as_the_demonstration_does(self, tmp_path: Path) -> None:
        checked = check_file(written(upgrade_text(OLD), tmp_path))
        assert checked.faults == ()
        assert checked.sound

    def test_same_text_same_files(self) -> None:
        assert upgrade_text(OLD).files == upgrade_text(OLD).files


@pytest.mark.parametrize("seed", SEEDS)
def test_any_file_keeps_every_number_and_word(seed: int, tmp_path: Path) -> None:
    data = random_old_file(seed)
    result = upgrade_text(old_text(data))
    new = new_data(result)
    # the one number that is not carried over, and words that became keys or kinds
    lost = numbers(data, ("prior_plastic_strain",)) - numbers(new)
    assert not lost
    gone = words(data, ("schema",)) - words(new)
    assert gone == set()
    liner = read_liner(written(result, tmp_path))
    assert [ring.id for ring in liner.rings] == [ring["id"] for ring in data["ring"]]
    assert [ring.thickness_mm for ring in liner.rings] == [ring["thickness"] for ring in data["ring"]]
    assert liner.length_mm == data["liner"]["length"]
    assert [hole.z_mm for hole in liner.hole_patterns] == [hole["z"] for hole in data.get("hole_pattern", [])]
    chains = [[element["p1_mm"] for element in ring["section"]["chain"]] for ring in new["liner.toml"]["ring"]]
    assert chains == [[element["p1"] for element in ring["section"]] for ring in data["ring"]]


def test_the_random_files_use_every_table() -> None:
    found: Counter[str] = Counter()
    for seed in SEEDS:
        found.update(list(random_old_file(seed)))
    everything = {
        "materials", "process", "machine", "spread", "end_plate", "joint", "hole_pattern", "nozzle", "thermal",
        "turbine_nozzle", "tool", "measured", "acceptance", "change",
    }  # fmt: skip
    assert everything <= set(found)
    # materials stay where a ring is of an alloy that only the file knows
    assert all(found[name] < len(SEEDS) for name in everything - {"materials"})


def test_a_material_without_a_card_is_said() -> None:
    result = upgrade_text(OLD.replace('material = "R30605"', 'material = "R99999"'))
    assert "material R99999 is nowhere described: enter a card of it before the liner is read" in result.assumed


def test_tables_left_out_are_stood_in_for_and_said() -> None:
    data = tomllib.loads(OLD)
    for name in ("machine", "spread", "measured"):
        del data[name]
    del data["materials"]["casing"]
    result = upgrade_text(old_text(data))
    said = "\n".join(result.assumed)
    assert "demo-press stands in" in said and "demo-spread stands in" in said
    assert "card S32100 stands in" in said and "invented = false" in said
    new = tomllib.loads(result.files["liner.toml"])
    assert (new["cards"]["press"], new["nozzle"]["casing_material"]) == ("demo-press", "S32100")
    assert new["liner"]["invented"] is False
    assert "readings.toml" not in result.files


@pytest.mark.parametrize(
    ("old", "new", "key", "must"),
    [
        ("thickness = 0.8", 'thickness = "0.8"', "ring[1].thickness", "a number"),
        ("order = 1", "order = 1.5", "ring[1].order", "a whole number"),
        ("seam_theta = 20.0", "seam_thta = 20.0", "ring[1].seam_thta", "a key this table knows"),
        ("lip_od_free = 247.48", "lip_od_free = nan", "measured.sizing_402_03.lip_od_free", "a finite number"),
        ("lip_od_free = 247.48", "", "measured.sizing_402_03.control", "there"),
        ("deviation = [0.22, ", "deviation = [", "readings.toml: roundness[1].deviation_mm", "one full turn"),
        ("[measured.port_lips_420_09]", "[measured.lips_420_09]", "measured.lips_420_09", "a key this table knows"),
        ("[73.0, 790.0, ", "[73.0, -790.0, ", "thermal.inner_path[1][2]", "-273.15 or more"),
        ("[73.0, 790.0, ", "[790.0, ", "thermal.inner_path[1]", "a table with keys"),
        ("start_date = \"2031-03-03\"", "start_date = \"2031-02-30\"", "change.B.start_date", "a day of the calendar"),
        ("lip_mid_radius_new = 116.40", "", "change.B.new", "there"),
        ("air_flow_kg_s = 0.80", "", "liner.air_flow_kg_s", "there beside"),
        ("segments = 8", "segments = 2", "process.segments", "3 or more"),
        ("id = \"HT-402-S\"", "id = \"HT-401-S\"", "register.toml: tool[10].id", "a name no other tool has"),
        ("cte_mean_from_26C = [[93, 13.9]", "cte_mean_from_26C = [[993, 13.9]", "mean_expansion", "above the row"),
        ("thickness = 0.8\n", "thickness = 0.8\nliner = 2\n", "ring[1].liner", "a key this table knows"),
    ],
)  # fmt: skip
def test_faults_of_an_old_file(old: str, new: str, key: str, must: str) -> None:
    assert old in OLD
    with pytest.raises(FileFaults) as caught:
        upgrade_text(OLD.replace(old, new, 1), "old.toml")
    found = [fault for fault in caught.value.faults if key in fault.key]
    assert found, str(caught.value)
    assert must in found[0].must and found[0].remedy


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (demo_text("liner.toml"), "of today's format"),
        (demo_text("register.toml"), "of today's format"),
        ('schema = "demo-liner-7"\n', "one of demo-liner-1"),
        ("a = 1\n", "schema is missing"),
        ("", "empty"),
        ("[", "no TOML"),
    ],
)
def test_what_is_no_earlier_format(text: str, said: str) -> None:
    with pytest.raises(FileFaults, match=said):
        upgrade_text(text, "old.toml")


def test_every_schema_has_a_saved_file() -> None:
    """A file of every schema there ever was is kept, so that no later change breaks its reading."""
    schemas = {tomllib.loads(path.read_text(encoding="utf-8"))["schema"] for path in SAVED.glob("*.toml")}
    assert schemas == {"demo-liner-1", "hoopwright-liner-1", "hoopwright-register-1", "hoopwright-readings-1",
                       "hoopwright-changes-1"}  # fmt: skip
    assert read_liner(SAVED / "hoopwright-liner-1.toml").id
    assert read_register(SAVED / "hoopwright-register-1.toml").tools
    assert read_readings(SAVED / "hoopwright-readings-1.toml").sizing
    assert read_changes(SAVED / "hoopwright-changes-1.toml").changes
