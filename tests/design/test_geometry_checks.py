"""Geometric findings: the demonstration's figures, every check on the safe and on the wrong side of its limit.

`mutations.finding_mutations` breaks a file for every topic; here stand the figures, and shapes made in code.
"""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from mutations import TEXT, Mutation, finding_mutations, in_block, outcome, value

from hoopwright.cards.shop import house_limits
from hoopwright.design.chain_checks import chain_troubles
from hoopwright.design.check import check_file, check_text
from hoopwright.design.checks.holes import hole_angles, outside_radius_at
from hoopwright.design.checks.laps import lap_of
from hoopwright.design.checks.magnitude import looks_like
from hoopwright.design.checks.neighbours import clearances, distance_within
from hoopwright.design.checks.seals import flat_of, last_outer_ring, pad_of
from hoopwright.design.checks.sheets import radius_span, turn_apart_deg
from hoopwright.design.demo import demo_liner
from hoopwright.design.geometry_checks import geometry_findings, radius_range_log, ring_findings
from hoopwright.design.liner_reading import liner_from_text
from hoopwright.findings import Finding
from hoopwright.kernels.profile import Profile, arc, line
from hoopwright.kernels.profile_build import from_corners
from hoopwright.kernels.profile_crossing import clearance

DEMO = demo_liner()


def of_topic(findings: tuple[Finding, ...], topic: str) -> list[Finding]:
    """Findings of one topic."""
    return [finding for finding in findings if finding.topic == topic]


class TestDemo:
    """The demonstration, against the figures printed with its first description."""

    def test_nothing_stops_it(self) -> None:
        findings = geometry_findings(DEMO)
        assert [f.sentence for f in findings if f.level == "stop"] == []
        assert [(f.level, f.topic, f.about) for f in findings] == [
            ("caution", "bend-radius", "HD-420/port"),
            ("caution", "washer-overlap", "HD-430/overlap-outer"),
            ("note", "slip-joint-transient", "HD-404/slip-joint"),
        ]

    def test_clearances(self) -> None:
        """Every pair of sheets that meets does so with 0.050."""
        found = {(one.id, two.id): round(room, 3) for one, two, room in clearances(DEMO)}
        assert found == {
            ("HD-401", "HD-402"): 0.050,
            ("HD-401", "HD-420"): 0.050,
            ("HD-402", "HD-403"): 0.050,
            ("HD-403", "HD-404"): 0.050,
            ("HD-411", "HD-412"): 0.050,
            ("HD-411", "HD-420"): 0.050,
            ("HD-412", "HD-413"): 0.050,
        }

    def test_lap_gaps(self) -> None:
        gaps = [lap.gap for joint in DEMO.joints if (lap := lap_of(DEMO, joint)) is not None]
        assert gaps == pytest.approx([0.05] * 7, abs=1e-9)

    def test_pad_flat_and_port_pitch(self) -> None:
        plate = DEMO.end_plate
        assert plate is not None and plate.port is not None
        assert pad_of(plate.port) == pytest.approx((13.0, 18.592), abs=5e-4)
        assert flat_of(plate) == pytest.approx((67.0, 115.0), abs=1e-9)
        chord = 2.0 * DEMO.port_pitch_radius_mm * math.sin(math.pi / DEMO.ports)
        assert chord == pytest.approx(62.248, abs=5e-4)

    def test_washer_overlap(self) -> None:
        """2.700 and 0.292 are printed; the inner one is above the house limit and says nothing."""
        found = of_topic(geometry_findings(DEMO), "washer-overlap")
        assert [finding.check.value for finding in found if finding.check] == pytest.approx([0.292], abs=5e-4)
        tight = replace(house_limits(), washer_overlap_min_mm=replace(house_limits().washer_overlap_min_mm, value=3.0))
        both = of_topic(geometry_findings(DEMO, tight), "washer-overlap")
        assert [finding.check.value for finding in both if finding.check] == pytest.approx([2.700, 0.292], abs=5e-4)

    def test_hot_gap_of_the_slip_joint(self) -> None:
        """0.1076 is printed, with the mean expansion taken from 20 degC; the card's is from 26 degC.

        Carried to 20 degC the ring grows by six kelvin less at about 13.5e-6 /K on 95.4 mm: 0.0015 mm more gap (the
        quotient of the two lengths and the card's interpolation make up the last 0.0002).
        """
        found = of_topic(geometry_findings(DEMO), "slip-joint-transient")[0]
        printed = float(found.sentence.split("slip joint is ")[1].split(" mm")[0])
        assert printed == pytest.approx(0.1076 + 0.0015, abs=5e-4)
        assert last_outer_ring(DEMO) is DEMO.rings[3]

    @pytest.mark.parametrize(
        ("ring", "share"), [("HD-401", 2.51), ("HD-404", 22.19), ("HD-412", 3.99), ("HD-413", 18.49)]
    )
    def test_radius_range(self, ring: str, share: float) -> None:
        assert 100.0 * radius_range_log(DEMO.ring(ring)) == pytest.approx(share, abs=5e-3)

    def test_film_holes_are_clear_of_the_seam(self) -> None:
        """HD-402: nearest hole edge to the seam 4.70 mm on the outside face, at 126.15."""
        ring, film = DEMO.ring("HD-402"), DEMO.holes_of("HD-402")[0]
        radius = outside_radius_at(ring, film.z_mm)
        assert radius == pytest.approx(126.15, abs=1e-9)
        apart = min(turn_apart_deg(angle, ring.seam_theta_deg) for angle in hole_angles(film))
        assert math.radians(apart) * 126.15 - 0.8 == pytest.approx(4.70, abs=5e-3)


class TestMutated:
    """Findings of broken files carry what a person needs."""

    @pytest.mark.parametrize("mutation", [m for m in finding_mutations() if m.topic], ids=lambda m: m.name)
    def test_sentence_limit_and_remedy(self, mutation: Mutation) -> None:
        checked = outcome(mutation)
        for finding in checked.findings:
            assert finding.sentence[-1] == "." and "!" not in finding.sentence and "please" not in finding.sentence
            assert finding.remedy and not finding.remedy.startswith("Do")
            assert finding.source.basis
            if finding.check is not None and finding.topic != "from-memory":
                assert not finding.check.ok

    def test_levels(self) -> None:
        near = check_text(in_block("[[ring]]", 2, lambda p: p.replace("= 247.6,", "= 247.65,")), "x")
        far = check_text(in_block("[[ring]]", 2, lambda p: p.replace("= 247.6,", "= 247.9,")), "x")
        assert [f.level for f in near.findings if f.topic == "control-size"] == ["caution"]
        assert [f.level for f in far.findings if f.topic == "control-size"] == ["stop"]
        assert near.sound and not far.sound

    def test_the_other_face_is_recognised(self) -> None:
        text = in_block(
            "[[ring]]", 2, lambda p: p.replace('"outside", diameter_mm = 247.6', '"inside", diameter_mm = 247.6')
        )
        found = of_topic(check_text(text, "x").findings, "control-size")[0]
        assert found.remedy == "correct the face of the size: it fits the other face exactly"

    def test_a_size_in_inches_is_recognised(self) -> None:
        text = in_block("[[ring]]", 2, lambda p: p.replace("= 247.6,", "= 9.748,"))
        assert "looks like inches" in of_topic(check_text(text, "x").findings, "control-size")[0].remedy

    def test_a_whole_liner_in_inches(self) -> None:
        ring = DEMO.rings[0]
        small = from_corners([(0.2, 4.7), (0.5, 4.7), (0.8, 4.8), (1.7, 4.8)], [0.15, 0.15])
        liner = replace(DEMO, rings=(replace(ring, section=small, thickness_mm=0.0315, controls=()),), joints=(),
                        hole_patterns=(), end_plate=None, spring_plate=None, washer=None)  # fmt: skip
        assert [f.about for f in geometry_findings(liner) if f.topic == "looks-like-inches"] == ["HD-400"]


class TestChains:
    """Sections made in code get the same checks as those of a file."""

    def test_kink(self) -> None:
        troubles = chain_troubles([line((0.0, 50.0), (10.0, 50.0)), line((10.0, 50.0), (20.0, 51.0))])
        assert [t.topic for t in troubles] == ["kink"]
        assert "5.71 deg" in troubles[0].value
        assert chain_troubles([line((0.0, 50.0), (10.0, 50.0)), line((10.0, 50.0), (20.0, 50.03))]) == []

    def test_gap_and_turned_element(self) -> None:
        first = line((0.0, 50.0), (10.0, 50.0))
        assert chain_troubles([first, line((10.0005, 50.0), (20.0, 50.0))]) == []
        assert [t.topic for t in chain_troubles([first, line((10.01, 50.0), (20.0, 50.0))])] == ["gap"]
        turned = chain_troubles([first, line((20.0, 50.0), (10.0, 50.0))])
        assert "exchange p0_mm and p1_mm" in turned[0].remedy

    def test_arc_sense(self) -> None:
        right = [line((0.0, 50.0), (10.0, 50.0)), arc((10.0, 50.0), (15.0, 55.0), (10.0, 55.0), True)]
        assert chain_troubles(right) == []
        wrong = [right[0], replace(right[1], ccw=False)]
        assert [(t.topic, t.element) for t in chain_troubles(wrong)] == [("arc-sense", 1)]

    def test_arc_radii(self) -> None:
        bow = arc((10.0, 50.0), (15.0, 55.0), (10.0, 55.2), True)
        assert [t.topic for t in chain_troubles([bow])] == ["arc-radius"]
        good = arc((10.0, 50.0), (15.0, 55.0), (10.0, 55.0), True)
        assert chain_troubles([good], [5.0]) == []
        assert [t.key for t in chain_troubles([good], [5.1])] == ["rad_mm"]

    def test_no_length(self) -> None:
        assert [t.topic for t in chain_troubles([line((1.0, 2.0), (1.0, 2.0))])] == ["no-length"]

    def test_self_crossing(self) -> None:
        loop = from_corners([(0, 50), (40, 50), (40, 80), (20, 80), (20, 20)], [3.0, 3.0, 3.0])
        assert [t.topic for t in chain_troubles(loop.segments)] == ["self-crossing"]

    def test_a_kinked_ring_made_in_code(self) -> None:
        section = Profile((line((0.0, 50.0), (10.0, 50.0)), line((10.0, 50.0), (20.0, 51.0))))
        ring = replace(DEMO.rings[0], section=section, controls=())
        found = ring_findings(DEMO, ring, house_limits())
        assert [f.topic for f in found if f.level == "stop"] == ["kink"]

    def test_faces_that_meet_are_found(self) -> None:
        """A fold 0.6 apart is no crossing of the mid-surface, but the faces of 0.8 sheet run into each other."""
        fold = from_corners([(0, 50), (20, 50), (20, 51.3), (4, 51.3), (4, 50.6), (10, 50.6)], [0.6, 0.6, 0.3, 0.3])
        ring = replace(DEMO.rings[0], section=fold, controls=())
        topics = {f.topic for f in ring_findings(DEMO, ring, house_limits())}
        assert "face-radius" in topics
        wide = from_corners([(0, 50), (20, 50), (20, 55), (4, 55), (4, 50.6), (10, 50.6)], [1.0, 1.0, 1.0, 1.0])
        topics = {f.topic for f in ring_findings(DEMO, replace(ring, section=wide), house_limits())}
        assert "self-crossing" in topics


class TestTools:
    """The small parts the checks are made of."""

    def test_radius_span(self) -> None:
        section = DEMO.rings[1].section
        assert radius_span(section, 31.0, 33.0, 123.85, 5.0) == pytest.approx((123.85, 123.85), abs=1e-9)
        assert radius_span(section, 34.0, 36.0, 123.85, 5.0) == pytest.approx((123.85, 124.393), abs=1e-3)
        assert radius_span(section, 28.5, 30.5, 123.85, 5.0) is None
        bow = Profile((arc((0.0, 0.0), (10.0, 0.0), (5.0, 0.0), False),))
        assert radius_span(bow, 4.0, 6.0, 5.0, 5.0) == pytest.approx((math.sqrt(24.0), 5.0), abs=1e-9)

    def test_distance_is_that_of_the_kernel(self) -> None:
        sections = [ring.section for ring in DEMO.rings[:4]]
        for one in sections:
            for two in sections:
                if one is not two:
                    plain = clearance(one, two)
                    found = distance_within(one, two, 30.0)
                    assert (found is None) == (plain >= 30.0)
                    assert found is None or found == pytest.approx(plain, abs=1e-3)

    def test_looks_like(self) -> None:
        assert looks_like(1.0, 25.4) == "inches"
        assert looks_like(1.0, 1000.0) == "metres"
        assert looks_like(1.0, 10.0) == looks_like(1.0, 100.0) == looks_like(0.0, 1.0) == ""

    def test_turn_apart(self) -> None:
        assert turn_apart_deg(350.0, 10.0) == 20.0
        assert turn_apart_deg(0.0, 180.0) == 180.0


class TestChecked:
    """`check_file` never raises for what stands in a file."""

    def test_missing(self, tmp_path: object) -> None:
        checked = check_file(tmp_path / "none.toml")  # type: ignore[operator]
        assert checked.liner is None and not checked.sound

    def test_partial_liner_is_still_drawn(self) -> None:
        checked = check_text(in_block("[[ring]]", 2, value("thickness_mm", '"0.8"')), "x")
        assert checked.liner is not None
        assert [ring.id for ring in checked.liner.rings] == ["HD-401", "HD-403", "HD-404", "HD-411", "HD-412", "HD-413"]
        assert not checked.sound

    def test_no_end_plate_no_seals(self) -> None:
        liner = replace(DEMO, end_plate=None, washer=None, spring_plate=None, nozzle=None, turbine_nozzle=None,
                        thermal=None, ports=0, joints=DEMO.joints[1:4], operating=None)  # fmt: skip
        assert [f for f in geometry_findings(liner) if f.level == "stop"] == []

    def test_a_card_that_lacks_a_figure(self, tmp_path: object) -> None:
        own = tmp_path / "own"  # type: ignore[operator]
        own.mkdir()
        (own / "x.toml").write_text('schema = "hoopwright-card-1"\nkind = "alloy"\nid = "N06002"\nentered_by = "me"\n'
                                    'checked_by = ""\n', encoding="utf-8")  # fmt: skip
        text = TEXT.replace("[cards]\n", '[cards]\nfolder = "own"\n')
        checked = check_text(text, "x", None, tmp_path)  # type: ignore[arg-type]
        assert [f.level for f in checked.findings if f.topic == "slip-joint-unknown"] == ["caution"]
        assert liner_from_text(text, "x", folder=tmp_path).cards.folder == "own"  # type: ignore[arg-type]
