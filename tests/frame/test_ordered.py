"""An order follows from the face: facial value, adjustment and ordered value, or the name of what is missing."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.catalogue.measurement import SIDES
from app.fitting.cover_test import CoverFinding, CoverTest
from app.fitting.fitting import Fitting
from app.fitting.pair import Pair
from app.frame.ordered import ordered_dimensions
from app.frame.ordered_dimension import OrderedDimension
from app.practice.settings import Adjustments, PracticeSettings
from tests.frame.worked_set import FACES, Face, both, fitting_of, reading

Lines = dict[tuple[str, str | None], OrderedDimension]
by_name = pytest.mark.parametrize("face", FACES, ids=lambda face: face.name)


def order(fitting: Fitting, number: int, settings: PracticeSettings | None = None) -> Lines:
    pair = fitting.pair(number)
    assert pair is not None
    lines = ordered_dimensions(fitting, pair, settings or PracticeSettings())
    assert len({(line.dimension, line.side) for line in lines}) == len(lines)
    return {(line.dimension, line.side): line for line in lines}


def two(lines: Lines, dimension: str) -> tuple[float | None, float | None]:
    return lines[dimension, "R"].ordered, lines[dimension, "L"].ordered


@by_name
def test_the_handmade_pair_is_ordered_as_in_the_worked_set(face: Face) -> None:
    lines = order(fitting_of(face), 1)

    assert lines["bridge_projection", None].ordered == face.frame_projection
    assert lines["crest_height", None].ordered == face.frame_crest
    assert lines["head_width", None].ordered == face.frame_head
    assert lines["temple_width", None].ordered == face.frame_temples
    assert two(lines, "length_to_bend") == face.to_bend_1
    assert two(lines, "overall_length") == face.overall
    assert two(lines, "decentration_in") == face.decentration_1
    assert lines["vertex_distance", None].ordered == face.vertex
    assert lines["clearance_at_lashes", None].ordered == face.vertex - max(face.lashes)


@by_name
def test_what_the_bench_takes_as_measured_is_ordered_unchanged_right_and_left(face: Face) -> None:
    lines = order(fitting_of(face), 1)

    widths = lines["bridge_width_10", None].ordered, lines["bridge_width_15", None].ordered
    assert widths == face.widths
    assert lines["apical_radius", None].ordered == face.radius
    assert two(lines, "frontal_angle") == face.frontal
    assert two(lines, "splay_angle") == face.splay
    assert two(lines, "side_angle") == face.side_angle
    assert two(lines, "drop_angle") == face.drop
    assert all(lines["frontal_angle", side].adjustment == 0 for side in SIDES)


@by_name
def test_the_own_frame_keeps_its_front_and_sides_and_gets_lenses(face: Face) -> None:
    lines = order(fitting_of(face), 2)

    a, b, between = face.lens_2
    assert lines["lens_width", None].ordered == a
    assert lines["lens_height", None].ordered == b
    assert lines["boxed_centre_distance", None].ordered == a + between
    assert two(lines, "length_to_bend") == face.to_bend_2
    assert two(lines, "decentration_in") == face.decentration_2
    blanks = two(lines, "smallest_blank")
    assert max(blank for blank in blanks if blank is not None) == face.blank_2
    assert ("bridge_projection", None) not in lines
    if face.segment_2:
        assert two(lines, "segment_height") == face.segment_2
        assert lines["segment_top_above_centre_line", "R"].ordered == face.segment_2[0] - b / 2


def test_an_inset_bridge_is_said_in_words() -> None:
    """The child's crest lies 2 behind the lashes; with 1.5 clearance the bridge is ordered inset 3.5."""
    child = order(fitting_of(FACES[4]), 1)["bridge_projection", None]
    adult = order(fitting_of(FACES[0]), 1)["bridge_projection", None]

    assert (child.facial, child.adjustment, child.ordered, child.words) == (-2, -1.5, -3.5, "inset 3.5")
    assert adult.words == "outset 1.5"


def test_let_back_follows_from_head_width_and_front() -> None:
    """The high minus of the worked set: 2 × 43 + 18 + 2 × 8 = 120 between the joints, let back 96.0 degrees."""
    lines = order(fitting_of(FACES[1]), 1)

    assert lines["joint_width", None].ordered == 120
    assert lines["let_back", "R"].ordered == pytest.approx(96.0, abs=0.05)


@pytest.mark.parametrize(
    ("a", "between", "pd", "decentration"),
    [
        # http://www.harisingh.com/newsOpticalPractice.htm, https://askinglot.com/what-is-minimum-blank-size
        (54, 16, 62, 4),
        (42, 14, 50, 3),
        (50, 20, 68, 1),
    ],
)
def test_decentration_agrees_with_published_cases(
    a: float, between: float, pd: float, decentration: float
) -> None:
    pair = Pair(pair=1, kind="handmade", lens_width=a, distance_between_lenses=between)
    fitting = replace(
        fitting_of(FACES[0]), pairs=(pair,), readings=tuple(both("pd_monocular", (pd / 2, pd / 2)))
    )

    assert two(order(fitting, 1), "decentration_in") == (decentration, decentration)


def test_the_smallest_blank_agrees_with_a_published_case() -> None:
    """https://nbeophysiooptics.passetra.com/question/in-the-minimum-blank-size-166835b9103e5a44: 50, 1 -> 54."""
    pair = Pair(pair=1, kind="handmade", lens_width=50, distance_between_lenses=20, longest_diameter_mm=50)
    fitting = replace(fitting_of(FACES[0]), pairs=(pair,), readings=tuple(both("pd_monocular", (34, 34))))

    assert two(order(fitting, 1), "smallest_blank") == (54, 54)


def test_a_planned_segment_top_lies_at_the_lower_lid_and_gives_way_to_what_was_measured() -> None:
    """The first face: 36 / 2 − 2 = 16, planned; measured at the fit-up it counts as measured."""
    fitting = fitting_of(FACES[0])
    fitted_up = replace(fitting, readings=(*fitting.readings, *both("segment_height", (15.5, 16.0), 1)))

    planned = order(fitting, 1)["segment_height", "R"]
    assert planned.ordered == 16
    assert "planned" in planned.basis
    assert two(order(fitted_up, 1), "segment_height") == (15.5, 16.0)


def test_near_centration_is_shared_as_the_single_eye_pds_are() -> None:
    uneven = fitting_of(FACES[6])
    reading_pair = replace(uneven, pairs=(replace(uneven.pairs[0], lens_form="single_vision_near"),))

    right, left = two(order(reading_pair, 1), "near_centration")

    assert right is not None
    assert left is not None
    assert right + left == pytest.approx(58.5)
    assert right / left == pytest.approx(33 / 29.5)


def test_near_centration_without_a_near_pd_follows_from_the_working_distance() -> None:
    """Similar triangles: 63 at 40 cm with 27 mm to the eye's centre is 59.0 (groups.google.com, sci.med.vision)."""
    first = fitting_of(FACES[0])
    without = replace(first, readings=tuple(one for one in first.readings if one.measurement != "pd_near"))

    right, left = two(order(without, 1), "near_centration")

    assert (right or 0) + (left or 0) == pytest.approx(59.0, abs=0.05)


def test_in_a_squint_the_eye_measured_with_the_other_covered_is_ordered() -> None:
    covered = replace(reading("pd_monocular", 29.0, "R"), method="fellow_eye_covered")
    fitting = fitting_of(FACES[7])
    fitting = replace(fitting, readings=(*fitting.readings, covered))
    squint = replace(fitting, cover_test=CoverTest(distance=CoverFinding(finding="manifest")))

    assert order(fitting, 1)["centration", "R"].ordered == 31.5
    assert order(squint, 1)["centration", "R"].ordered == 29.0


def test_a_side_is_made_to_go_with_the_hearing_aid() -> None:
    fitting = fitting_of(FACES[3])
    aid_in = replace(reading("length_to_tangent", 110, "R"), condition="hearing_aid_in")
    aid_out = replace(reading("length_to_tangent", 107, "R"), condition="hearing_aid_out")
    fitting = replace(fitting, readings=(*fitting.readings, aid_out, aid_in))

    assert order(fitting, 1)["length_to_bend", "R"].ordered == 100


def test_lids_at_two_heights_give_a_crest_above_their_mean() -> None:
    fitting = fitting_of(FACES[0])
    rest = tuple(one for one in fitting.readings if one.measurement != "crest_height")
    fitting = replace(fitting, readings=(*rest, *both("crest_height", (5.0, 6.5))))

    line = order(fitting, 1)["crest_height", None]

    assert (line.facial, line.ordered) == (5.75, 3.75)
    assert "mean of right and left lid" in line.basis
    assert line.words == "3.75 above the centre line"


def test_what_is_missing_is_named_and_nothing_is_guessed() -> None:
    empty = replace(fitting_of(FACES[0]), readings=())

    lines = order(empty, 1)

    assert lines["let_back", "R"].missing == ("Head width", "Length to tangent, patient's right")
    assert lines["overall_length", "L"].missing == (
        "Length to tangent, patient's left",
        "Drop length, patient's left",
    )
    assert all((line.ordered is None) == bool(line.missing) for line in lines.values())
    assert lines["lens_width", None].ordered == 48


def test_the_practices_own_adjustments_are_used_and_shown() -> None:
    """One school orders the head width 10 less."""
    settings = PracticeSettings(adjustments=Adjustments(head_width_grip_mm=10))

    line = order(fitting_of(FACES[0]), 1, settings)["head_width", None]

    assert (line.facial, line.adjustment, line.ordered) == (148, -10, 138)
    assert line.basis == "as measured less 10 for grip"


def mirrored(face: Face) -> Face:
    swapped = {
        field: getattr(face, field)[::-1]
        for field in (
            "frontal",
            "splay",
            "lashes",
            "single_eye",
            "side_angle",
            "to_tangent",
            "drop",
            "to_bend_2",
        )
    }
    return replace(face, segment_2=face.segment_2 and face.segment_2[::-1], **swapped)


@by_name
def test_a_mirrored_face_gives_the_mirrored_order_and_nothing_else(face: Face) -> None:
    for number in (1, 2):
        straight = order(fitting_of(face), number)
        mirror = order(fitting_of(mirrored(face)), number)

        other = {"R": "L", "L": "R", None: None}
        assert {key: line.ordered for key, line in straight.items()} == {
            (dimension, other[side]): line.ordered for (dimension, side), line in mirror.items()
        }


@given(st.integers(0, 30), st.integers(1000, 2000))
def test_facial_value_and_adjustment_add_up_to_the_ordered_one(grip: int, width: int) -> None:
    settings = PracticeSettings(adjustments=Adjustments(head_width_grip_mm=grip / 10))
    fitting = replace(fitting_of(FACES[0]), readings=(reading("head_width", width / 10),))

    line = order(fitting, 1, settings)["head_width", None]

    assert line.ordered is not None
    assert round(10 * line.ordered) == width - grip
    assert line.ordered == round(line.ordered, 4)
