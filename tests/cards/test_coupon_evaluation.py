"""Tensile tests of known metal: every figure comes back; a test that cannot give one is refused and says why."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest
from coupons_made import Made, write

from hoopwright.cards.alloy import alloy
from hoopwright.cards.coupons.draft import draft_card, write_draft
from hoopwright.cards.coupons.evaluate import evaluate
from hoopwright.cards.coupons.ratios import hardening_exponent, r_from_lengths
from hoopwright.cards.coupons.specimen import Specimen
from hoopwright.cards.coupons.text import Titles
from hoopwright.errors import FileFaults, InputError

MADE = Made()
SIZES = {"width_mm": MADE.width, "thickness_mm": MADE.thickness, "gauge_length_mm": MADE.gauge}


def force_file(path: Path, made: Made = MADE, noise_MPa: float = 0.0, seed: int = 1, toe: float = 0.0) -> Path:
    """Force, extension and width as a testing machine writes them."""
    strain, stress, width = made.engineering()
    stress = stress + np.random.default_rng(seed).normal(0.0, noise_MPa, stress.size) if noise_MPa else stress
    force = stress * made.width * made.thickness / 1000.0
    columns = [force, (strain + toe) * made.gauge, width]
    return write(path, "Force [kN],Extension [mm],Width [mm]", columns)


def stress_file(path: Path, stop: int | None = None, start: int = 0) -> Path:
    strain, stress, _ = MADE.engineering()
    return write(path, "Strain [1],Stress [MPa]", [strain[start:stop], stress[start:stop]])


def test_every_figure_comes_back(tmp_path: Path) -> None:
    """Against the closed forms of the law the test was made from; reading steps and the cubic give the tolerances."""
    coupon = evaluate(Specimen(force_file(tmp_path / "a.csv"), **SIZES))
    necks = MADE.n - MADE.e0
    true = MADE.K * MADE.n**MADE.n
    assert coupon.proof_MPa == pytest.approx(MADE.proof, rel=1e-3)
    # The cubic lies over 0.17 of strain, where the force is not quite a cubic: 0.02 MPa.
    assert coupon.tensile_MPa == pytest.approx(true * math.exp(-necks - true / MADE.E), abs=0.05)
    # The force is flat to 1 % over 0.17 of strain at its top: its place is known to a few thousandths at best.
    assert coupon.uniform_eng == pytest.approx(math.expm1(necks), abs=0.005)
    # Engineering strain is not quite linear in stress: 0.2 % at yield.
    assert coupon.slope_GPa == pytest.approx(MADE.E / 1000.0, rel=3e-3)
    assert coupon.r_value == pytest.approx(MADE.r, rel=1e-3)
    # The local slope of Swift is n p / (e0 + p): 0.323 at p = 0.115, 0.339 at 0.18.
    assert coupon.n == pytest.approx(MADE.n * 0.138 / 0.158, abs=0.004)


def test_toe_of_the_grips_is_taken_out(tmp_path: Path) -> None:
    plain = evaluate(Specimen(force_file(tmp_path / "a.csv"), **SIZES))
    toe = evaluate(Specimen(force_file(tmp_path / "b.csv", toe=0.003), **SIZES))
    assert toe.proof_MPa == pytest.approx(plain.proof_MPa, rel=1e-4)
    assert toe.uniform_eng == pytest.approx(plain.uniform_eng, abs=1e-4)


def test_a_soft_machine_is_noticed_and_taken_out(tmp_path: Path) -> None:
    """Crosshead travel: the machine's give is added to the extension; the plastic part must not change."""
    strain, stress, _ = MADE.engineering()
    path = write(tmp_path / "a.csv", "Strain [1],Stress [MPa]", [strain + stress / 30_000.0, stress])
    for modulus, tolerance in ((205.0, 2e-3), (None, 6e-3)):
        coupon = evaluate(Specimen(path, modulus_GPa=modulus))
        assert any("machine or grip" in note for note in coupon.notes)
        assert coupon.proof_MPa == pytest.approx(MADE.proof, rel=1e-3)
        assert coupon.uniform_eng == pytest.approx(math.expm1(MADE.n - MADE.e0), abs=0.005)
        # Without a modulus the elastic stretch is left out of the true stress as well: 0.3 to 0.5 %.
        at = np.interp([0.01, 0.1, 0.3], coupon.plastic_strain, coupon.true_stress_MPa)
        assert at == pytest.approx(MADE.K * (MADE.e0 + np.array([0.01, 0.1, 0.3])) ** MADE.n, rel=tolerance)


def test_too_few_elastic_readings_ask_for_a_modulus(tmp_path: Path) -> None:
    path = stress_file(tmp_path / "a.csv", start=58)
    with pytest.raises(FileFaults, match="record faster at the start, or enter modulus_GPa"):
        evaluate(Specimen(path))
    coupon = evaluate(Specimen(path, modulus_GPa=205.0))
    assert coupon.proof_MPa == pytest.approx(MADE.proof, rel=1e-3)
    assert "elastic slope given, 205 GPa" in coupon.notes


def refusal(tmp_path: Path, header: str, columns: list[np.ndarray], **sizes: float) -> str:
    with pytest.raises(FileFaults) as caught:
        evaluate(Specimen(write(tmp_path / "bad.csv", header, columns), **sizes))
    assert len(caught.value.faults) == 1
    return str(caught.value.faults[0])


def test_exchanged_columns_are_caught(tmp_path: Path) -> None:
    strain, stress, _ = MADE.engineering()
    assert refusal(tmp_path, "Stress [MPa],Strain [1]", [strain, stress]) == (
        "column Stress [MPa] is at most 0.5307 MPa; it must be the large one of the two; they look exchanged. "
        "Do: exchange the two headers"
    )
    area, gauge = MADE.width * MADE.thickness, MADE.gauge
    said = refusal(tmp_path, "Force [N],Extension [mm]", [strain * gauge, stress * area], **SIZES)
    assert said.startswith("column Force [N] is at most") and "they look exchanged" in said
    points = [np.linspace(0.01, 0.3, 20), np.linspace(400.0, 900.0, 20)]
    assert "they look exchanged" in refusal(tmp_path, "True stress [MPa],Plastic strain [1]", points)


def test_wrong_units_are_caught(tmp_path: Path) -> None:
    strain, stress, width = MADE.engineering()
    assert "a largest stress from 20 to 4000 MPa" in refusal(tmp_path, "Stress [GPa],Strain [1]", [stress, strain])
    assert "a largest strain from 0.004 to 3" in refusal(tmp_path, "Stress [MPa],Strain [1]", [stress, 100 * strain])
    assert "a largest stress" in refusal(tmp_path, "Force [kN],Extension [mm]", [stress * 10.0, strain * 50.0], **SIZES)
    assert "0.004 to 3" in refusal(tmp_path, "Stress [MPa],Strain [%]", [stress, strain / 2.0])
    said = refusal(tmp_path, "Stress [MPa],Strain [1],Width [mm]", [stress, strain, 2 * MADE.width - width])
    assert "it must be a contraction" in said
    said = refusal(tmp_path, "Stress [MPa],Strain [1],Width strain [1]", [stress, strain, np.log(MADE.width / width)])
    assert "write a contraction with its minus sign" in said


def test_a_test_that_ends_too_early_is_refused(tmp_path: Path) -> None:
    with pytest.raises(FileFaults, match="still rising at the end; it must be a force that falls again"):
        evaluate(Specimen(stress_file(tmp_path / "a.csv", stop=700)))
    with pytest.raises(FileFaults, match=r"a largest strain from 0\.004|no crossing|still rising"):
        evaluate(Specimen(stress_file(tmp_path / "b.csv", stop=62)))


def test_sizes_are_needed_for_force_and_extension(tmp_path: Path) -> None:
    path = force_file(tmp_path / "a.csv")
    with pytest.raises(InputError, match=r"a.csv: thickness_mm is missing mm; it must be there: the file gives force"):
        evaluate(Specimen(path, width_mm=12.5, gauge_length_mm=50.0))


@pytest.mark.parametrize(
    "sizes", [{"width_mm": 0.0}, {"thickness_mm": math.nan}, {"direction_deg": 30.0}, {"elongation_pct": -1.0}]
)
def test_sizes_that_cannot_be(tmp_path: Path, sizes: dict[str, float]) -> None:
    with pytest.raises(InputError):
        Specimen(tmp_path / "a.csv", **sizes)


def test_r_from_measured_lengths() -> None:
    assert r_from_lengths(50.0, 60.0, 12.5, 12.5 * 1.2**-0.5) == pytest.approx(1.0)
    for bad in ((50.0, 50.0, 12.5, 12.0), (50.0, 60.0, 12.5, 12.6), (50.0, 60.0, 12.5, 10.0), (50.0, 60.0, -1.0, 1.0)):
        with pytest.raises(InputError):
            r_from_lengths(*bad)


def test_n_of_a_power_law_is_its_exponent() -> None:
    p = np.linspace(0.01, 0.3, 200)
    assert hardening_exponent(p, 1000.0 * p**0.25) == pytest.approx(0.25, rel=1e-12)
    assert hardening_exponent(p[:3], p[:3]) is None


# ------------------------------------------------------------------------------------------------- cards


TITLES = Titles("N06002-X0417", "M. D.", based_on="N06002", cast="cast X0417", tested_on="2031-02-03")


@pytest.fixture
def tests(tmp_path: Path) -> list[Specimen]:
    """Three tests along, one at 45 deg, one across, each with 2 MPa of reading noise; the sheet has r 0.9, 0.7, 1.1."""
    made = [(f"along-{i}.csv", 0.0, MADE, i) for i in range(3)]
    made += [("at-45.csv", 45.0, Made(K=1580.0, r=0.7), 8), ("across.csv", 90.0, Made(K=1570.0, r=1.1), 9)]
    return [
        Specimen(force_file(tmp_path / name, metal, 2.0, seed), angle, elongation_pct=46.0, **SIZES)
        for name, angle, metal, seed in made
    ]


def test_a_card_from_five_tests(tmp_path: Path, tests: list[Specimen]) -> None:
    draft = draft_card(tests, TITLES)
    fit = draft.chosen.fit
    assert (fit.law, draft.chosen.exact) == ("swift", False)
    assert fit.rms_MPa == pytest.approx(2.0, rel=0.5)
    for name, truth in (("K_MPa", MADE.K), ("e0_log", MADE.e0), ("n", MADE.n)):
        assert abs(fit.constants[name] - truth) < 4.0 * fit.errors[name]
    shop = tmp_path / "cards"
    write_draft(draft, shop)
    sheet = alloy("N06002-X0417", shop)
    assert sheet.yield_MPa().value == pytest.approx(MADE.proof, rel=0.01)
    assert sheet.yield_MPa().source.basis == "measured"
    assert sheet.card.entry("yield_strength_MPa").u is not None
    assert sheet.density_kg_per_m3().value == 8220.0
    assert [sheet.figure(f"r_value_{angle}").value for angle in (0, 45, 90)] == pytest.approx([0.9, 0.7, 1.1], rel=0.01)
    curve = sheet.flow_curve_first()
    assert curve.rms_MPa == pytest.approx(fit.rms_MPa, rel=1e-4)
    assert curve.curve.stress(0.1) == pytest.approx(MADE.K * (MADE.e0 + 0.1) ** MADE.n, rel=2e-3)
    assert [note.about for note in sheet.card.notes][:5] == [f"tensile test {test.file.name}" for test in tests]


def test_the_draft_does_not_change_from_run_to_run(tests: list[Specimen]) -> None:
    assert draft_card(tests, TITLES).text == draft_card(tests, TITLES).text


def test_a_card_is_not_overwritten_unasked(tmp_path: Path, tests: list[Specimen]) -> None:
    draft = draft_card(tests[:1], TITLES)
    path = write_draft(draft, tmp_path / "cards")
    with pytest.raises(InputError, match="name the card otherwise, or ask to overwrite"):
        write_draft(draft, tmp_path / "cards")
    assert write_draft(draft, tmp_path / "cards", overwrite=True) == path
    assert [p.name for p in (tmp_path / "cards").iterdir()] == ["N06002-X0417.toml"]


def test_one_test_has_no_scatter(tests: list[Specimen]) -> None:
    assert draft_card(tests[:1], TITLES).card.entry("yield_strength_MPa").u is None


def test_a_true_curve_gives_a_card(tmp_path: Path) -> None:
    p = np.linspace(0.0, 0.35, 30)
    path = write(
        tmp_path / "a.csv", "Plastic strain [1];True stress [MPa]", [p, 370 + 1100 * (1 - np.exp(-3.1 * p))], ";", ","
    )
    draft = draft_card([Specimen(path)], Titles("V1", "M. D."))
    assert draft.chosen.fit.law == "voce"
    assert draft.card.figures["tensile_strength_MPa"].source.basis == "derived"
    assert draft.card.figures["yield_strength_MPa"].value == pytest.approx(376.8 * math.exp(-0.002), rel=1e-3)


def test_a_sheet_no_law_fits_gets_the_exact_swift_law(tmp_path: Path) -> None:
    """A long yield plateau: least squares misses the proof stress, the exact law does not, and its misfit is told."""
    p = np.concatenate([np.linspace(0.0, 0.03, 120), np.linspace(0.03, 0.40, 600)[1:]])
    true = np.where(p < 0.03, 300.0 + 100.0 * p, 303.0 + 1500.0 * (p - 0.03) - 1500.0 * (p - 0.03) ** 2)
    elastic = np.linspace(0.0, 300.0, 40)[:-1]
    p, true = np.concatenate([np.zeros(39), p]), np.concatenate([elastic, true])
    strain = np.expm1(p + true / 205_000.0)
    path = write(tmp_path / "a.csv", "Strain [1],Stress [MPa]", [strain, true / (1.0 + strain)])
    draft = draft_card([Specimen(path)], Titles("P1", "M. D."))
    assert draft.chosen.exact
    assert draft.chosen.fit.rms_MPa > 10.0
    assert not any(one.ok for one in draft.tried if not one.exact)
    assert "solved exactly" in draft.card.flows["first"].source.where


def test_no_specimens() -> None:
    with pytest.raises(InputError, match="name the test files"):
        draft_card([], TITLES)


def test_text_with_quotes_and_signs_survives(tmp_path: Path, tests: list[Specimen]) -> None:
    titles = Titles("A", 'M. "D" \\ Ø', title="Blech\tX", cast='say "x"')
    assert draft_card(tests[:1], titles).card.entered_by == 'M. "D" \\ Ø'
