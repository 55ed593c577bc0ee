"""The liner file read: the demonstration's values, round trips, sections in every way they can be written."""

from __future__ import annotations

import json
import math
import tomllib
from dataclasses import replace
from pathlib import Path

import jsonschema
import pytest
from mutations import TEXT, in_block, swap, value
from random_rings import random_liner

from hoopwright.cards.alloy import alloy
from hoopwright.design.chain_checks import chain_troubles
from hoopwright.design.changes import ChangesFile, read_changes, write_changes
from hoopwright.design.demo import DEMO_FILES, demo_liner, demo_text
from hoopwright.design.faces import face_line, mid_radius_at, mid_radius_range, outline, plate_face_line
from hoopwright.design.json_schema import FILES, schema_data
from hoopwright.design.liner_reading import cards_folder, liner_from_text, look_at, read_liner
from hoopwright.design.liner_writing import write_liner
from hoopwright.design.mark import input_mark
from hoopwright.design.opening import SIZE_LIMIT_MB
from hoopwright.design.readings import read_readings, write_readings
from hoopwright.design.register import read_register, write_register
from hoopwright.design.toml_text import toml_text
from hoopwright.design.wishes import friction_for, limits_for, wish_quantities
from hoopwright.errors import FileFaults, InputError
from hoopwright.kernels.profile import Profile
from hoopwright.kernels.profile_integrals import line_moments
from hoopwright.kernels.profile_offset import offset

EXAMPLES = Path(__file__).parents[2] / "examples" / "demo"


def profiles_match(one: Profile, two: Profile, slack: float) -> bool:
    """Whether two sections are the same line, element by element."""
    if len(one) != len(two):
        return False
    pairs = [(a.start, b.start) for a, b in zip(one, two, strict=True)] + [(one.end, two.end)]
    radii = [abs(a.radius - b.radius) for a, b in zip(one, two, strict=True) if a.is_arc and b.is_arc]
    return max(math.dist(a, b) for a, b in pairs) <= slack and max(radii, default=0.0) <= slack


def with_section(lines: str, ring: int = 1) -> str:
    """The demo with the section of one ring written otherwise."""
    return in_block("[ring.section]", ring, lambda part: f"[ring.section]\n{lines}\n\n")


def section_of(text: str, ring: int = 1, folder: Path | None = None) -> Profile:
    """The mid-surface that a text gives a ring."""
    return liner_from_text(text, "test", folder=folder).rings[ring - 1].section


class TestDemo:
    """The demonstration as read."""

    def test_packaged_files_are_the_examples(self) -> None:
        assert {name: demo_text(name) for name in DEMO_FILES} == {
            name: (EXAMPLES / name).read_text(encoding="utf-8") for name in DEMO_FILES
        }

    def test_every_file_says_that_it_is_invented(self) -> None:
        for name in DEMO_FILES:
            assert "EVERYTHING IN THIS FILE IS INVENTED" in demo_text(name)
        assert demo_liner().invented
        assert demo_liner().source("HD-402, thickness_mm").invented
        assert demo_liner().source("HD-402, thickness_mm").basis == "given"

    def test_values(self) -> None:
        liner = read_liner(EXAMPLES / "liner.toml")
        ring = liner.ring("HD-402")
        assert [r.id for r in liner.rings] == ["HD-401", "HD-402", "HD-403", "HD-404", "HD-411", "HD-412", "HD-413"]
        assert (ring.side, ring.order, ring.material, ring.thickness_mm) == ("outer", 2, "N06002", 0.8)
        assert (ring.metal_degC, ring.seam_theta_deg, ring.release_direction) == (760.0, 100.0, "forward")
        assert ring.controls[1].diameter_mm == 247.6
        assert (ring.controls[1].state, ring.controls[1].measured_as) == ("restrained", "circumference")
        assert liner.end_plate is not None and liner.end_plate.port is not None
        assert liner.end_plate.port.lip_bore_mm == 21.0
        assert liner.spring_plate is not None and liner.spring_plate.legs_theta_local_deg == (45.0, 135.0, 225.0, 315.0)
        assert liner.thermal is not None and liner.thermal.outer_path[0].part == "HD-404"
        assert [joint.id for joint in liner.joints_of("HD-402")] == ["J2", "J3"]
        assert [holes.kind for holes in liner.holes_of("HD-402")] == ["film", "dilution", "igniter"]

    def test_an_unknown_ring_is_refused(self) -> None:
        with pytest.raises(InputError, match="HD-401, HD-402"):
            demo_liner().ring("HD-499")

    @pytest.mark.parametrize(
        ("ring", "developed", "least", "greatest", "mean"),
        # printed with the demonstration's first description: developed length, radii of the mid-surface
        [
            ("HD-401", 38.529, 119.95, 123.00, 121.950),
            ("HD-402", 47.832, 123.40, 125.75, 124.196),
            ("HD-403", 53.072, 116.00, 126.15, 121.130),
            ("HD-404", 59.217, 95.00, 118.60, 107.222),
            ("HD-411", 42.163, 60.50, 62.05, 60.963),
            ("HD-412", 55.832, 57.75, 60.10, 59.418),
            ("HD-413", 78.435, 57.35, 69.00, 63.928),
        ],
    )
    def test_sections(self, ring: str, developed: float, least: float, greatest: float, mean: float) -> None:
        section = demo_liner().ring(ring).section
        moments = line_moments(section)
        assert section.length == pytest.approx(developed, abs=5e-4)
        # arcs closed up to the printed points reach past a level line by nanometres
        assert mid_radius_range(demo_liner().ring(ring)) == pytest.approx((least, greatest), abs=1e-6)
        assert moments.y / moments.length == pytest.approx(mean, abs=5e-4)

    def test_sections_are_joined_exactly(self) -> None:
        for ring in demo_liner().rings:
            assert chain_troubles(ring.section.segments) == []
            for one, two in zip(ring.section.segments, ring.section.segments[1:], strict=False):
                assert one.end == two.start
            for segment in ring.section:
                if segment.centre is not None:
                    assert math.dist(segment.end, segment.centre) == pytest.approx(segment.radius, abs=1e-9)

    def test_limits_and_friction_come_from_the_cards(self) -> None:
        limits, friction = limits_for(demo_liner()), friction_for(demo_liner())
        assert limits.segments.value == 8.0
        assert friction.mu_base.value == 0.12
        assert limits.segments.source.invented

    def test_a_wish_rules_over_its_card(self) -> None:
        liner = liner_from_text(TEXT + "\n[process]\nsegments = 10\nmu_pin = 0.08\n", "wish")
        assert limits_for(liner).segments.value == 10.0
        assert limits_for(liner).segments.source.basis == "given"
        assert limits_for(liner).segments.identity == "HD-400/wish/segments"
        assert friction_for(liner).mu_pin.value == 0.08
        assert limits_for(liner).weld_shrink_mm == limits_for(demo_liner()).weld_shrink_mm


class TestRoundTrip:
    """Written and read back."""

    def test_demo(self) -> None:
        text = write_liner(demo_liner())
        again = liner_from_text(text, "again")
        assert again == demo_liner()
        assert write_liner(again) == text

    def test_wishes_and_given_strain(self) -> None:
        liner = liner_from_text(
            in_block("[[ring]]", 2, swap('route = "straight"', "prior_strain_log = 0.05"), TEXT)
            + "\n[process]\nsegments = 10.0\n",
            "wish",
        )
        assert liner.rings[1].prior_strain_log == 0.05
        assert liner.rings[1].route is None
        assert liner_from_text(write_liner(liner), "again") == liner

    def test_words_with_quotes_and_other_alphabets(self) -> None:
        liner = replace(demo_liner(), title='a "liner" \\ with µ, 環 and a tab\t and \x7f', notes=())
        assert liner_from_text(write_liner(liner), "again") == liner

    def test_register_readings_and_changes(self) -> None:
        register = read_register(EXAMPLES / "register.toml")
        readings = read_readings(EXAMPLES / "readings.toml")
        changes = read_changes(EXAMPLES / "changes.toml")
        assert read_register(write_register(register)) == register
        assert read_readings(write_readings(readings)) == readings
        assert read_changes(write_changes(changes)) == changes

    def test_only_finite_numbers_are_written(self) -> None:
        with pytest.raises(ValueError, match="finite"):
            toml_text({"a": math.nan})
        with pytest.raises(ValueError, match="no word"):
            toml_text({"a": object()})

    def test_toml_of_every_kind_of_value(self) -> None:
        data = {
            "text": 'a "b" \\ \n c', "yes": True, "whole": 3, "small": 1e-7, "large": 1e300, "empty": [],
            "odd key": 1, "many": [float(k) for k in range(60)], "words": ["x" * 60, "y" * 60],
            "tables": [{"a": 1.0, "b": [1.0, 2.0]}], "below": {"c": {"d": 1}},
        }  # fmt: skip
        assert tomllib.loads(toml_text(data, ["head"])) == data


class TestMark:
    """The mark of an input."""

    def test_form(self) -> None:
        mark = input_mark(demo_liner())
        assert len(mark) == 9 and mark[4] == " "
        int(mark.replace(" ", ""), 16)

    def test_comments_and_order_change_nothing(self) -> None:
        assert input_mark(liner_from_text(write_liner(demo_liner()), "x")) == input_mark(demo_liner())

    def test_values_and_cards_change_it(self) -> None:
        thicker = liner_from_text(in_block("[[ring]]", 2, value("thickness_mm", "0.81")), "x")
        marks = {input_mark(demo_liner()), input_mark(thicker), input_mark(demo_liner(), "card"), input_mark("card")}
        assert len(marks) == 4
        assert input_mark(thicker.rings[0]) == input_mark(demo_liner().rings[0])


class TestSections:
    """Ways to write a section."""

    CORNERS = (
        "corners = [{at_mm = [4.0, 119.95]}, {at_mm = [13.0, 119.95], fillet_mm = 4.0}, "
        "{at_mm = [21.0, 123.0], fillet_mm = 4.0}, {at_mm = [42.0, 123.0]}]"
    )

    def test_corners_are_the_chain(self) -> None:
        """The demo's printed chain is these corners, rounded to 0.0001 mm."""
        section = section_of(with_section(f'face = "mid"\nstate = "cold"\n{self.CORNERS}'))
        # an arc's radius follows from two points rounded by 0.00005 mm each, over a turn of 0.36 rad
        assert profiles_match(section, demo_liner().rings[0].section, 4e-4)

    @pytest.mark.parametrize(("face", "side"), [("outside", 1.0), ("inside", -1.0)])
    def test_a_face_is_brought_to_the_mid_surface(self, face: str, side: float) -> None:
        mid = demo_liner().rings[0].section
        line = offset(mid, side * 0.4)
        rows = []
        for s in line:
            ends = f"p0_mm = {list(s.start)}, p1_mm = {list(s.end)}"
            if s.centre is None:
                rows.append(f'{{type = "line", {ends}}}')
            else:
                spoke = f"c_mm = {list(s.centre)}, rad_mm = {s.radius}, ccw = {str(s.ccw).lower()}"
                rows.append(f'{{type = "arc", {ends}, {spoke}}}')
        text = with_section(f'face = "{face}"\nstate = "cold"\nchain = [{", ".join(rows)}]')
        assert profiles_match(section_of(text), mid, 1e-9)

    def test_a_section_from_aft_forward_is_turned(self) -> None:
        backward = "corners = [{at_mm = [42.0, 123.0]}, {at_mm = [21.0, 123.0], fillet_mm = 4.0}, "
        backward += "{at_mm = [13.0, 119.95], fillet_mm = 4.0}, {at_mm = [4.0, 119.95]}]"
        outside = section_of(with_section(f'face = "outside"\nstate = "cold"\n{backward}'))
        forward = section_of(with_section(f'face = "outside"\nstate = "cold"\n{self.CORNERS}'))
        assert profiles_match(outside, forward, 1e-9)
        assert outside.start[1] == pytest.approx(119.95 - 0.4, abs=1e-9)

    def test_hot_sizes_are_brought_to_20_degC(self) -> None:
        hot = f'face = "mid"\nstate = "hot"\nhot_degC = 710.0\nhot_fixed_z_mm = 4.0\n{self.CORNERS}'
        cold = section_of(with_section(f'face = "mid"\nstate = "cold"\n{self.CORNERS}'))
        section = section_of(with_section(hot))
        growth = alloy("N06002").thermal_growth_eng(710.0).value
        # mean 15.7e-6 over 690 K on the card: about 1.3 mm on the radius of 120
        assert 119.95 * growth == pytest.approx(1.30, abs=0.02)
        assert section.start == pytest.approx((4.0, 119.95 / (1.0 + growth)), abs=1e-9)
        assert section.length * (1.0 + growth) == pytest.approx(cold.length, abs=1e-9)
        assert [s.radius * (1.0 + growth) for s in section if s.is_arc] == pytest.approx([4.0, 4.0], abs=1e-9)

    def test_faces_and_outline(self) -> None:
        ring = demo_liner().rings[1]
        assert face_line(ring, "outside").start[1] == pytest.approx(124.25, abs=1e-9)
        assert face_line(ring, "inside").start[1] == pytest.approx(123.45, abs=1e-9)
        closed = outline(ring.section, ring.thickness_mm)
        assert math.dist(closed.start, closed.end) < 1e-9
        assert mid_radius_at(ring, 66.0) == pytest.approx(123.4, abs=1e-9)
        assert mid_radius_at(ring, 0.0) is None
        plate = demo_liner().end_plate
        assert plate is not None
        assert plate_face_line(plate, "forward").bounds[0] == pytest.approx(-0.5, abs=1e-9)
        assert plate_face_line(plate, "aft").end[1] == pytest.approx(118.5, abs=1e-9)

    def test_random_sections_read_back_bit_by_bit(self) -> None:
        for seed in range(200, 215):
            liner = random_liner(seed)
            assert liner_from_text(write_liner(liner), "x").rings[0].section == liner.rings[0].section


class TestFiles:
    """Files on disk."""

    def test_missing_folder_and_too_large(self, tmp_path: Path) -> None:
        large = tmp_path / "large.toml"
        large.write_bytes(b"#" * (SIZE_LIMIT_MB * 1_000_000 + 1))
        for path, said in ((tmp_path / "none.toml", "missing"), (tmp_path, "folder"), (large, "4.0 MB")):
            with pytest.raises(FileFaults, match=said) as caught:
                read_liner(path)
            assert caught.value.faults[0].remedy
        assert look_at(tmp_path / "nul\0.toml").faults[0].key == "file"

    def test_byte_order_mark_and_windows_line_ends(self, tmp_path: Path) -> None:
        path = tmp_path / "windows.toml"
        path.write_bytes(b"\xef\xbb\xbf" + TEXT.replace("\n", "\r\n").encode())
        assert read_liner(path) == demo_liner()

    def test_own_cards(self, tmp_path: Path) -> None:
        card = """schema = "hoopwright-card-1"\nkind = "limits"\nid = "ours"\nbased_on = "house"\nentered_by = "me"
checked_by = ""\n[figure.segments]\nvalue = 12.0\nunit = "1"\nbasis = "practice"\nwhere = "shop rule"\n"""
        (tmp_path / "own").mkdir()
        (tmp_path / "own" / "ours.toml").write_text(card, encoding="utf-8")
        path = tmp_path / "liner.toml"
        path.write_text(TEXT.replace('limits = "demo-house"', 'folder = "own"\nlimits = "ours"'), encoding="utf-8")
        liner = read_liner(path)
        assert cards_folder(path) == tmp_path / "own"
        assert limits_for(liner, cards_folder(path)).segments.value == 12.0
        (tmp_path / "own" / "ours.toml").write_text(card.replace("12.0", "nan"), encoding="utf-8")
        assert look_at(path).liner is not None
        (tmp_path / "own" / "ours.toml").write_text("[", encoding="utf-8")
        assert any("TOML" in str(fault) for fault in look_at(path).faults)

    def test_faults_name_the_file_and_count(self) -> None:
        with pytest.raises(FileFaults, match=r"broken.toml: 1 fault\n") as caught:
            liner_from_text(in_block("[[ring]]", 2, value("order", "0")), "broken.toml")
        assert str(caught.value.faults[0]) == (
            "line 100: ring[2].order is 0; it must be 1 or more. Do: check the number, its sign and its unit"
        )


class TestSchema:
    """The published JSON Schemas."""

    @pytest.mark.parametrize("kind", sorted(FILES))
    def test_the_demo_is_valid_and_a_broken_one_is_not(self, kind: str) -> None:
        schema = schema_data(kind)
        jsonschema.Draft202012Validator.check_schema(schema)
        data = json.loads(json.dumps(tomllib.loads(demo_text(f"{kind}.toml")), default=str))
        validator = jsonschema.Draft202012Validator(schema)
        assert list(validator.iter_errors(data)) == []
        assert list(validator.iter_errors(data | {"colour": 1}))
        assert list(validator.iter_errors(data | {"schema": "other-1"}))

    def test_every_key_is_documented(self) -> None:
        page = Path(__file__).parents[2] / "docs" / "files"
        for kind, model in FILES.items():
            text = (page / f"{kind}.md").read_text(encoding="utf-8")
            for name, description in keys_of(model):
                assert description, f"{kind}: {name} has no meaning"
                assert f"| `{name}` |" in text, f"{kind}: {name} is not documented"

    def test_wishes_are_the_figures_of_the_cards(self) -> None:
        properties = schema_data("liner")["$defs"]["ProcessTable"]["properties"]
        assert list(properties) == list(wish_quantities())
        assert ChangesFile.model_fields["change"].is_required()


def keys_of(model: object) -> list[tuple[str, str]]:
    """Every key of a model and of the tables below it, with its meaning."""
    from docs.file_keys import models_of

    found = []
    for name, field in model.model_fields.items():  # type: ignore[attr-defined]
        found.append((field.alias or name, field.description or ""))
        for below in models_of(field.annotation):
            found += keys_of(below)
    return found
