"""Which of several readings a check goes by."""

from app.fitting.working import working_values
from app.plausibility.facts import Facts
from tests.plausibility.case import SQUINT_KNOWN, Case, case, covered, handmade, own_frame

SQUINT = covered(SQUINT_KNOWN)


def facts(given: Case) -> Facts:
    """The facts of a case."""
    return Facts(given.fitting, given.settings, working_values(given.fitting))


def pd(given: Case) -> float | None:
    """The PD that checks go by."""
    value = facts(given).pd
    return None if value is None else value.number


def test_the_pd_is_the_gauges_before_the_rules_before_the_two_eyes() -> None:
    eyes = {"pd_monocular": (31, 32)}
    assert pd(case(pd_distance={"rule": 64, "pupil_gauge": 63.5}, **eyes)) == 63.5
    assert pd(case(pd_distance={"rule": 64}, **eyes)) == 64
    assert pd(case(**eyes)) == 63
    assert pd(case()) is None


def test_in_a_squint_the_rule_is_never_the_pd() -> None:
    assert pd(case(cover=SQUINT, pd_distance={"rule": 67}, pd_monocular=(31.5, 32))) == 63.5
    assert pd(case(cover=SQUINT, pd_distance={"rule": 67})) is None
    assert pd(case(cover=SQUINT, pd_distance={"rule": 67, "pupil_gauge": 63.5})) == 63.5


def test_methods_are_never_averaged_together() -> None:
    assert pd(case(pd_distance={"rule": 66, "pupil_gauge": 63})) == 63


def test_the_length_with_the_hearing_aid_in_is_preferred() -> None:
    both = facts(case(length_to_tangent={"hearing_aid_out": (102, 102), "hearing_aid_in": (106, 105)}))
    assert [value.number for value in both.both("length_to_tangent") or ()] == [106, 105]


def test_in_a_squint_the_covered_single_eye_pd_is_preferred_and_else_comes_last() -> None:
    eyes = {"pd_monocular": {"both_eyes_open": (33, 34), "fellow_eye_covered": (31, 32)}}
    assert [value.number for value in facts(case(cover=SQUINT, **eyes)).both("pd_monocular") or ()] == [
        31,
        32,
    ]
    assert [value.number for value in facts(case(**eyes)).both("pd_monocular") or ()] == [33, 34]


def test_a_crest_height_taken_on_both_sides_counts_as_their_mean() -> None:
    crest = facts(case(crest_height=(5, 6))).mean("crest_height")
    assert crest is not None
    assert crest.number == 5.5


def test_a_frame_to_be_made_goes_by_the_plan_and_a_frame_that_exists_by_the_reading() -> None:
    given = facts(
        case(
            pairs=(handmade(lens_width=48), own_frame(lens_width=50)),
            on_pair_1={"lens_width": 48.5},
            on_pair_2={"lens_width": 50.5},
        )
    )
    widths = [pair.lens_width for pair in given.pairs]
    assert [width.number for width in widths if width is not None] == [48, 50.5]


def test_a_vertex_distance_that_was_measured_goes_before_a_planned_one() -> None:
    given = facts(case(pairs=(own_frame(vertex_mm=12),), on_pair_2={"vertex_distance": 14}))
    vertex = given.pairs[0].vertex
    assert vertex is not None
    assert vertex.number == 14


def test_a_prosthesis_or_one_seeing_eye_is_known() -> None:
    assert facts(case(history={"prosthetic_eye": "L"})).one_eye
    assert not facts(case(history={"prosthetic_eye": "none"})).one_eye
