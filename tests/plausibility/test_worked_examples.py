"""What the checks make of examples that others worked or published."""

from math import atan, hypot, sin

import pytest

from app.plausibility import geometry
from app.plausibility.finding import Severity
from tests.plausibility.case import SQUINT_KNOWN as SQUINT
from tests.plausibility.case import case, covered, eye, handmade, own_frame, prescribed


def test_a_width_at_10_above_that_at_15_is_not_valid() -> None:
    # Source: knowt.com/flashcards/9b6d31fb-1cf0-443b-b937-647e1ccbaab6, “DBR10 must be less than DBR15”; 20 and 18.
    (seen,) = case(bridge_width_10=20, bridge_width_15=18).seen_by("bridge-widths-order")
    assert seen.severity is Severity.STOP


def test_a_temple_width_above_the_head_width_is_not_valid() -> None:
    # Source: the same notes, “temple width must be less than head width”; 152 and 148.
    (seen,) = case(temple_width=152, head_width=148).seen_by("head-temple-width")
    assert seen.severity is Severity.STOP


@pytest.mark.parametrize(
    ("difference", "severity"),
    [
        # A difference of 0.4 counts as unequal: Lam and others 1987; up to 1 mm is seen in healthy people
        # (neuro-ophthalmology.stanford.edu), so 0.3 is silent and 1.1 goes to the practitioner.
        (0.3, None),
        (1.1, Severity.REFER),
    ],
)
def test_unequal_pupils_by_published_criteria(difference: float, severity: Severity | None) -> None:
    seen = case(pupil_horizontal=(4, 4 + difference)).seen_by("pupils-unequal")
    assert [one.severity for one in seen] == ([] if severity is None else [severity])


@pytest.mark.parametrize(
    ("far", "working_cm", "near"),
    [
        # 63 at 40 cm gives 59: R. Martellaro, groups.google.com/g/sci.med.vision/c/gBzB2WcezUw
        (63, 40, 59.0),
        # 67 at 40 cm gives 62.763: PD L / (L + 27), optiboard.com thread 29253
        (67, 40, 62.763),
    ],
)
def test_a_published_near_pd_is_what_is_expected(far: float, working_cm: float, near: float) -> None:
    quiet = case(pd_distance={"pupil_gauge": far}, pd_near=round(near, 1), working_distance=working_cm)
    assert quiet.seen_by("near-pd-expected") == []
    above = case(pd_distance={"pupil_gauge": far}, pd_near=near + 1.03, working_distance=working_cm)
    assert [one.severity for one in above.seen_by("near-pd-expected")] == [Severity.NOTE]


def test_a_published_near_difference_at_40_cm_is_never_questioned() -> None:
    # About 4 mm for PDs of 60 to 68: “Ophthalmic Lenses”, p. 124, online.flipbuilder.com/oqxun/fxeq
    for far in (60, 62, 64, 66, 68):
        given = case(pd_distance={"pupil_gauge": far}, pd_near=far - 4, working_distance=40)
        assert given.seen_by("near-pd-expected") == []


@pytest.mark.parametrize(
    ("width_10", "width_15", "angle", "radius"),
    [
        # tan φ = (DBR15 − DBR10) / 10 and an arc tangent to both flanks: derived, and drawn again by tangents
        (18, 22, 21.801409, 7.385165),
        (16, 19, 16.699244, 6.720153),
        (16.382103, 20.021805, 20, 6.5),
    ],
)
def test_a_bridge_that_is_one_section_is_silent(
    width_10: float, width_15: float, angle: float, radius: float
) -> None:
    whole = case(
        bridge_width_10=width_10,
        bridge_width_15=width_15,
        frontal_angle=(angle, angle),
        apical_radius=radius,
    )
    for check in ("bridge-widths-order", "frontal-angle-widths", "radius-widths"):
        assert whole.seen_by(check) == []


def test_a_diameter_written_for_a_radius_is_seen() -> None:
    # the section of 18 and 22 has a radius of 7.385 (above); small bridges hide a doubled radius in the usual range
    (seen,) = case(bridge_width_10=18, frontal_angle=(21.8, 21.8), apical_radius=15).seen_by("radius-widths")
    assert seen.severity is Severity.ASK
    assert seen.offers[0].words == "A diameter? Radius 7.5 mm"


def test_compensated_powers_are_those_of_the_vertex_formula() -> None:
    # −12.00 from 10 to 14 mm is −12.61: brainscape.com, week 106 spectacle magnification
    given = case(
        prescription=prescribed(eye(-12.0), eye(-12.0), tested_at_mm=10),
        pairs=(own_frame(),),
        on_pair_2={"vertex_distance": 14},
    )
    (seen,) = given.seen_by("vertex-strong-lens")
    assert "R −12.61, L −12.61" in seen.message


@pytest.mark.parametrize(
    ("right", "left", "prism"),
    [
        # P. McCarthy, Back to basics in dispensing 8 (CET), scribd.com/document/296771432
        (eye(2.0, -1.75, 180), eye(2.75, -1.0, 135), "2 prism dioptres"),
        (eye(1.0), eye(3.0), "2 prism dioptres"),
        # −6.00 and −3.50: 2.5 at 10 mm, scribd.com/document/608106791
        (eye(-6.0), eye(-3.5), "2.5 prism dioptres"),
        # −5.00 −0.50 × 180 and −2.75 −0.50 × 180: 2.25, computed (a printed answer of 2.0 is wrong)
        (eye(-5.0, -0.5, 180), eye(-2.75, -0.5, 180), "2.25 prism dioptres"),
    ],
)
def test_published_near_imbalances(right: object, left: object, prism: str) -> None:
    given = case(
        prescription=prescribed(right, left),  # type: ignore[arg-type]
        pairs=(own_frame(lens_form="bifocal"),),
    )
    (seen,) = given.seen_by("reading-level-prism")
    assert prism in seen.message


@pytest.mark.parametrize(
    ("width", "between", "single_eye", "inward"),
    [
        # 54 and 16, PD 62: 4 in; 42 and 14, PD 50: 3 in: harisingh.com practice questions
        (54, 16, 31, 4),
        (42, 14, 25, 3),
        # boxed centres 70, eyes 33 and 31: 2 and 4 in, perret-optic.ch
        (50, 20, 31, 4),
    ],
)
def test_published_decentrations(width: float, between: float, single_eye: float, inward: float) -> None:
    given = case(
        pd_monocular=(single_eye, single_eye),
        pairs=(handmade(lens_width=width, distance_between_lenses=between),),
    )
    seen = given.seen_by("decentration")
    assert [one.severity for one in seen] == ([Severity.NOTE] * 2 if inward > 3 else [])
    assert all(f"{inward} mm in" in one.message for one in seen)


def test_ear_height_and_diagonal_by_plane_geometry() -> None:
    # 1° is about 1.75 mm at 100 mm, and 4 mm about 2.3°: trigonometry, common practice at the chair
    assert geometry.ear_height_difference_mm(length_to_tangent_mm=100, difference_deg=1) == pytest.approx(
        1.75, abs=0.005
    )
    assert geometry.ear_height_difference_mm(length_to_tangent_mm=100, difference_deg=2.3) == pytest.approx(
        4, abs=0.05
    )
    # a trapezium of 120 and 140 with 60 between its sides: its diagonal runs 60 back and 130 across
    assert geometry.diagonal_mm(
        temple_width_mm=120, head_width_mm=140, length_to_tangent_mm=85
    ) == pytest.approx(hypot(130, 60))


def test_the_shift_of_a_squint_is_that_of_a_pupil_turning_about_the_eyes_centre() -> None:
    # 35 prism dioptres are an angle of arctan 0.35; a pupil 10.5 mm before the centre moves 10.5 × its sine, 3.5 mm
    assert geometry.squint_shift_mm(deviation_prism=35) == pytest.approx(10.5 * sin(atan(0.35)), abs=0.25)
    (seen,) = case(cover=covered(SQUINT), pd_distance={"rule": 67}, pd_monocular=(31.5, 32)).seen_by(
        "squint-shift"
    )
    assert "3.5 mm apart" in seen.message
    assert "About 3.5 mm is expected" in seen.message
