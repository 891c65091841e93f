"""A pair that is measured, as part of the generative model: its sizes, and how it sits on this face."""

from app.plausibility.expectation_links import LOWERED_PER_DEGREE_MM, let_back
from app.plausibility.expectation_model import Blueprint
from app.practice.settings import Adjustments
from app.reference import populations as people

MEAN_TOTAL_DECENTRATION_MM = 4.0
"""Lens width and distance between lenses together exceed the PD by this on an ordinary pair: 2 mm each side
inward. Common practice: noted above 3 each side, asked above 5 or below −1."""
DECENTRATION_SD_MM = 1.2
"""Both sides together. Judgement: a pair is chosen to fit the eyes, so that little decentration is left; what one
side has besides comes from unequal single-eye PDs."""
BETWEEN_PER_PD = 0.2
"""Change of the distance between lenses with the PD. Judgement: a wide face gets wider lenses and bridges."""
UNEVEN_LIDS_SD_MM = 0.2
"""Half of right less left segment height. Judgement: ordered equal unless the lids differ; asked above 1.9."""
UNEVEN_PUPILS_SD_MM = 0.4
"""Half of right less left height of the pupils above the lids. Common practice: up to 2 is common."""
LENS_HEIGHT = people.Spread(
    38.0, 3.5, "common practice: usual 28 to 48, and segment heights usually 13 to 22"
)
PUPIL_ABOVE_LID = people.Link(5.0, 1.0, "half of the visible iris less 0 to 1 for the lid; common practice")
SEGMENT_AT_LID = people.Link(
    0.0, 1.0, "segment top at the lower lid; common practice: noted above 2, asked above 4 mm"
)
VERTEX_WITH_LASHES = people.Link(13.0, 0.6, "common practice: 11 to 15, and clear of the lashes")
TANGENT_TO_BEND = people.Link(
    0.0, 1.5, "ISO 8624: 10 mm from front to joint; common practice: noted outside 6 to 13"
)


def put_pair(plan: Blueprint, number: int, adjustments: Adjustments, *, child: bool) -> None:
    """Every dimension read off or with a pair; node names end in `@1` or `@2`. The face must be there already."""
    at = f"@{number}"
    _put_box(plan, at, child=child)
    _put_sides_of_pair(plan, at, adjustments)
    _put_heights(plan, at, adjustments)
    _put_sitting(plan, at)


def _put_box(plan: Blueprint, at: str, *, child: bool) -> None:
    between = people.CHILD["distance_between_lenses"] if child else people.usual(14, 22)
    height = people.CHILD["lens_height"] if child else LENS_HEIGHT
    by_pd = min(BETWEEN_PER_PD * plan.standard_deviation("pd"), 0.8 * between.sd)
    plan.put_from(
        f"distance_between_lenses{at}",
        mean=between.mean,
        sd=(between.sd**2 - by_pd**2) ** 0.5,
        parents={"pd": by_pd / plan.standard_deviation("pd")},
    )
    plan.put_from(
        f"lens_width{at}",
        mean=plan.mean("pd") - between.mean + MEAN_TOTAL_DECENTRATION_MM,
        sd=DECENTRATION_SD_MM,
        parents={"pd": 1.0, f"distance_between_lenses{at}": -1.0},
    )
    plan.put(f"lens_height{at}", mean=height.mean, sd=height.sd)


def _put_sides_of_pair(plan: Blueprint, at: str, adjustments: Adjustments) -> None:
    plan.put(f"lug{at}", sd=TANGENT_TO_BEND.sd)
    plan.put(f"let_back_shared{at}", sd=2.0)  # judgement: sides are bent, joints give
    joint = people.usual(0, 14)
    plan.put(f"joint_height{at}", mean=joint.mean, sd=joint.sd)
    plan.put_sides(f"joint_height{at}", half_difference_sd=0.4)  # judgement
    curve = let_back(grip_mm=adjustments.head_width_grip_mm, lugs_mm=2 * adjustments.lug_allowance_mm)
    for side in ("R", "L"):
        length, line = f"length_to_bend{at}.{side}", f"let_back_line{at}.{side}"
        plan.put_from(
            length,
            mean=plan.mean(f"length_to_tangent.{side}") - adjustments.front_to_joint_mm,
            sd=0.6,  # judgement
            parents={f"length_to_tangent.{side}": 1.0, f"lug{at}": 1.0},
        )
        box = (f"lens_width{at}", f"distance_between_lenses{at}")
        plan.put_curve(line, ("head_width", *box, length), curve)
        plan.put_from(
            f"let_back_angle{at}.{side}",
            mean=plan.mean(line),
            sd=0.5,  # judgement
            parents={line: 1.0, f"let_back_shared{at}": 1.0},
        )


def _put_heights(plan: Blueprint, at: str, adjustments: Adjustments) -> None:
    """Segment top at the lid, pupil above the lid, optical centre below the pupil by the tilt."""
    tilt = people.usual(4, 12)
    plan.put(f"pantoscopic_angle{at}", mean=tilt.mean, sd=tilt.sd)
    plan.put_from(
        f"lid_height{at}",
        mean=plan.mean(f"lens_height{at}") / 2 - adjustments.centre_line_above_lid_mm,
        sd=SEGMENT_AT_LID.sd,
        parents={f"lens_height{at}": 0.5},
    )
    plan.put(f"uneven{at}", sd=UNEVEN_LIDS_SD_MM)
    plan.put(f"uneven_pupils{at}", sd=UNEVEN_PUPILS_SD_MM)
    plan.put(f"pupil_above_lid{at}", mean=PUPIL_ABOVE_LID.offset, sd=PUPIL_ABOVE_LID.sd)
    plan.put(f"centre_choice{at}", sd=0.7)  # judgement
    for side, sign in (("R", 1.0), ("L", -1.0)):
        lid = plan.mean(f"lid_height{at}")
        common = {f"lid_height{at}": 1.0, f"uneven{at}": sign}
        raised = {**common, f"pupil_above_lid{at}": 1.0, f"uneven_pupils{at}": sign}
        lowered = {**raised, f"pantoscopic_angle{at}": -LOWERED_PER_DEGREE_MM, f"centre_choice{at}": 1.0}
        plan.put_from(f"segment_height{at}.{side}", mean=lid, sd=0.1, parents=common)
        plan.put_from(f"fitting_height{at}.{side}", mean=lid + PUPIL_ABOVE_LID.offset, sd=0.1, parents=raised)
        plan.put_from(
            f"centre_height{at}.{side}",
            mean=lid + PUPIL_ABOVE_LID.offset - LOWERED_PER_DEGREE_MM * tilt.mean,
            sd=0.1,
            parents=lowered,
        )


def _put_sitting(plan: Blueprint, at: str) -> None:
    wrap = people.usual(0, 8)
    plan.put(f"face_form_angle{at}", mean=wrap.mean, sd=wrap.sd)
    plan.put_from(
        f"vertex_distance{at}",
        mean=VERTEX_WITH_LASHES.offset,
        sd=VERTEX_WITH_LASHES.sd,
        parents={"lash_projection": 0.6},
    )
    # judgement: it is the same distance, seen through a pair
    plan.put_from(f"pd_worn{at}", mean=plan.mean("pd"), sd=0.1, parents={"pd": 1.0})
    plan.put_from(f"pd_near_worn{at}", mean=plan.mean("pd_near"), sd=0.1, parents={"pd_near": 1.0})
