"""Where the checks of single readings, slips, cover test, what was said, and the record speak, and where not."""

from dataclasses import replace
from typing import Any

from app.fitting.cover_test import CoverFinding
from app.fitting.fitting import Taken
from app.fitting.fitting_file import read_fitting_text
from app.fitting.reading import NotTaken
from app.plausibility.finding import Severity
from tests.plausibility.case import (
    LATENT_OUT,
    NO_MOVEMENT,
    SQUINT_KNOWN,
    Case,
    case,
    covered,
    eye,
    handmade,
    own_frame,
    prescribed,
    readings_of,
)
from tests.plausibility.demo_files import demo_text

ASK, NOTE, STOP, REFER = Severity.ASK, Severity.NOTE, Severity.STOP, Severity.REFER
NOBODY = Taken(on="2026-10-02")
ASSISTANT = Taken(on="2026-10-02", by="T. Marsh", role="assistant")
UNDER_SUPERVISION = replace(ASSISTANT, supervisor="I. Farrow")
NEW_SQUINT = replace(SQUINT_KNOWN, known="no")
WHOLE = Case(fitting=read_fitting_text(demo_text("patient_1")))
SAME = {"frontal_angle": (24, 24), "splay_angle": (28, 28), "side_angle": (10, 10), "lash_projection": (9, 9)}
EIGHT: dict[str, Any] = {
    **SAME,
    "head_width": 148,
    "temple_width": 137,
    "crest_height": 6,
    "apical_radius": 8,
}
ADULT_SIZES = {"pd_distance": 64, "head_width": 155, "temple_width": 141, "length_to_tangent": (104, 104)}
CHILD_SIZES = {"pd_distance": 50, "pd_monocular": (24, 24), "length_to_tangent": (78, 78)}


def without(whole: Case, measurement: str) -> Case:
    """A whole record with one measurement left out."""
    kept = tuple(one for one in whole.fitting.readings if one.measurement != measurement)
    return Case(fitting=replace(whole.fitting, readings=kept))


def proposed(accepted_by: str | None = None) -> Case:
    """One reading of an assistant's."""
    (reading,) = readings_of({"head_width": 148})
    return case(readings=(replace(reading, proposed=True, accepted_by=accepted_by),))


WHOLE_FRAME = handmade(
    use="general",
    route="fit_up",
    bridge_style="regular",
    material="acetate",
    sheet_mm=6,
    lens_form="bifocal",
    index=1.5,
    choices={"colour_front": "tortoise 204"},
)

FIRES = {
    # PD beyond 45 to 80 is not believed: Dodgson 2004, Proc. SPIE 5291.
    "usual-range": (
        (NOTE, case(pd_distance={"rule": 70.5})),
        (ASK, case(pd_distance={"rule": 75.5})),
        (STOP, case(pd_distance={"rule": 80.5})),
        (STOP, case(pd_distance={"rule": [63, 63.5, 635]})),
        (ASK, case(pairs=(handmade(lens_width=63),))),
        (STOP, case(age=3, pd_distance={"rule": 34.5})),
    ),
    "no-usual-range": ((NOTE, case(age=3)),),
    "off-scale-step": (
        (NOTE, case(pd_distance={"rule": 63.2})),
        (NOTE, case(drop_angle=(42, 45))),
    ),
    "single-eye-in-pd-box": (
        (ASK, case(pd_distance={"rule": 36})),
        (ASK, case(pd_near=31.5)),
        (ASK, case(pairs=(own_frame(),), on_pair_2={"pd_worn": 25})),
    ),
    "both-sides-equal": ((NOTE, case(**SAME)),),
    "cover-test-manifest": (
        (REFER, case(cover=covered(NEW_SQUINT))),
        (REFER, case(cover=covered(NO_MOVEMENT, replace(SQUINT_KNOWN, known="not_known")))),
        (ASK, case(cover=covered(replace(SQUINT_KNOWN, known=None)))),
    ),
    "cover-test-contradiction": (
        (ASK, case(cover=covered(CoverFinding(finding="none", size=4)))),
        (ASK, case(cover=covered(CoverFinding(finding="latent")))),
        (ASK, case(cover=covered(replace(SQUINT_KNOWN, eye=None)))),
        (ASK, case(cover=covered(replace(SQUINT_KNOWN, recovery="quick")))),
    ),
    # Expected: 1 ± 2 out at distance, 3 ± 3 out at near (Morgan, in Scheiman and Wick); 2.5 standard deviations.
    "cover-test-latent": (
        (NOTE, case(cover=covered(replace(LATENT_OUT, size=7)))),
        (NOTE, case(cover=covered(NO_MOVEMENT, replace(LATENT_OUT, size=11)))),
        (NOTE, case(cover=covered(CoverFinding(finding="latent", direction="in", size=5)))),
        (NOTE, case(cover=covered(CoverFinding(finding="latent", direction="up", eye="R", size=3)))),
        (NOTE, case(cover=covered(replace(LATENT_OUT, recovery="slow", with_spectacles=True)))),
    ),
    "objects-to-cover": ((REFER, case(age=5, history={"objects_to_cover": "L"})),),
    # What is new, one-sided or painful goes to the practitioner: College of Optometrists C205, annex 4.
    "recent-injury": (
        (REFER, case(history={"recent_injury": "within_6_weeks"})),
        (REFER, case(history={"recent_injury": "within_6_weeks"}, bridge_width_10=18)),
    ),
    "temple-tender": ((REFER, case(history={"temple_tender": "yes"})),),
    "recent-changes": ((REFER, case(history={"recent_changes": "seeing_two,headache"})),),
    "posture-new": ((REFER, case(history={"posture": "tilted_left", "posture_since": "new"})),),
    "skin-sore": ((REFER, case(history={"skin": "thin,sore_or_healing"})),),
    "eyes-not-steady": ((ASK, case(history={"eyes_steady": "swinging"}, pd_monocular=([31, 31.5], None))),),
    "allergy-material": (
        (ASK, case(history={"allergy": "acetate"}, pairs=(handmade(material="acetate"),))),
        (ASK, case(history={"allergy": "rubber,nickel"}, pairs=(handmade(material="metal"),))),
    ),
    "only-eye": ((NOTE, case(history={"prosthetic_eye": "R"}, pairs=(handmade(),))),),
    "rims-touch": (
        (NOTE, case(history={"smile": "touch"})),
        (NOTE, case(history={"brow_clearance": "touch"})),
    ),
    "missing-without-reason": (
        (STOP, case()),
        (STOP, without(WHOLE, "head_height")),
        (STOP, without(WHOLE, "length_to_bend")),
        (STOP, Case(fitting=replace(WHOLE.fitting, prescription=None))),
    ),
    "not-accepted": ((STOP, proposed()),),
    # Under 16 or registered sight impaired: Opticians Act 1989, section 27.
    "registrant-named": (
        (STOP, case(age=15, taken=NOBODY)),
        (STOP, case(age=15, taken=ASSISTANT)),
        (STOP, case(age=70, sight_impaired=True, taken=NOBODY)),
    ),
    "birth-date": (
        (STOP, case(age=None)),
        (STOP, case(born="2026-10-03")),
        (STOP, case(age=116)),
    ),
    "birth-date-size": (
        (STOP, case(age=8, **ADULT_SIZES | {"length_to_tangent": (104, 104), "head_width": 155})),
        (STOP, case(age=40, **CHILD_SIZES)),
    ),
    "measured-long-ago": (
        (ASK, case(today="2026-11-02")),
        (ASK, case(age=8, today="2026-10-17")),
    ),
    "prescription-newer": ((ASK, case(prescription=prescribed(eye(0.0), eye(0.0), written="2026-10-03"))),),
    "pd-previous-visit": (
        (NOTE, case(pd_distance={"rule": 63}, previous=case(pd_distance={"rule": 61.5}))),
        (ASK, case(pd_distance={"rule": 63}, previous=case(pd_distance={"rule": 60.5}))),
        (ASK, case(age=9, pd_distance={"rule": 52}, previous=case(age=8, pd_distance={"rule": 53.5}))),
    ),
    # Three tolerances of repeats: 6 mm of the head width, 9° of the frontal angle, 3 mm of the projection.
    "reading-previous-visit": (
        (ASK, case(head_width=148, previous=case(head_width=141.5))),
        (ASK, case(head_width=141.5, previous=case(head_width=148))),
        (ASK, case(frontal_angle=(24, 24), previous=case(frontal_angle=(24, 34)))),
        (ASK, case(bridge_projection=-2, previous=case(bridge_projection=2))),
        (ASK, case(age=9, head_width=138, previous=case(age=8, head_width=141))),
    ),
    "order-incomplete": (
        (ASK, case(pairs=(handmade(),))),
        (ASK, case(pairs=(replace(WHOLE_FRAME, sheet_mm=None),))),
        (ASK, case(pairs=(replace(WHOLE_FRAME, choices={}),))),
        (ASK, case(pairs=(own_frame(lens_form="bifocal"),))),
    ),
    "same-as-previous-visit": ((NOTE, case(**EIGHT, previous=case(**EIGHT))),),
}

QUIET = {
    "usual-range": (
        case(pd_distance={"rule": 56, "pupil_gauge": 70}),
        case(age=6, pd_distance={"rule": 51}),
        case(age=3, pd_distance={"rule": 39}),
        case(pairs=(handmade(lens_width=58),)),
    ),
    "no-usual-range": (case(age=4), case(age=None)),
    "off-scale-step": (case(pd_distance={"rule": 63.5}, drop_angle=(45, 45)),),
    "single-eye-in-pd-box": (
        case(pd_distance={"rule": 40.5}),
        case(age=2, pd_near=39),
        case(pd_distance={"rule": 24.5}),
    ),
    "both-sides-equal": (
        case(**SAME | {"side_angle": (10, 11)}),
        case(frontal_angle=(24, 24), splay_angle=(28, 28), side_angle=(10, 10)),
    ),
    "cover-test-manifest": (case(cover=covered(SQUINT_KNOWN)), case(cover=covered(LATENT_OUT)), case()),
    "cover-test-contradiction": (
        case(cover=covered(NO_MOVEMENT, SQUINT_KNOWN)),
        case(cover=covered(CoverFinding(finding="not_applicable"), LATENT_OUT)),
    ),
    "cover-test-latent": (
        case(cover=covered(replace(LATENT_OUT, size=6), replace(LATENT_OUT, size=10))),
        case(cover=covered(CoverFinding(finding="latent", direction="up", eye="R", size=2))),
        case(cover=covered(replace(LATENT_OUT, recovery="slow", with_spectacles=False))),
    ),
    "objects-to-cover": (case(history={"objects_to_cover": "none"}),),
    "recent-injury": (case(history={"recent_injury": "older"}),),
    "temple-tender": (case(history={"temple_tender": "no"}),),
    "recent-changes": (case(history={"recent_changes": "none"}), case()),
    "posture-new": (
        case(history={"posture": "straight", "posture_since": "new"}),
        case(history={"posture": "tilted_left", "posture_since": "long"}),
    ),
    "skin-sore": (case(history={"skin": "thin,tender"}),),
    "eyes-not-steady": (
        case(history={"eyes_steady": "swinging"}, pd_monocular=([31, 31.5, 31], None)),
        case(history={"eyes_steady": "yes"}, pd_monocular=(31, 31)),
    ),
    "allergy-material": (
        case(history={"allergy": "acetate"}, pairs=(handmade(material="horn"),)),
        case(history={"allergy": "none"}, pairs=(handmade(material="acetate"),)),
    ),
    "only-eye": (
        case(history={"prosthetic_eye": "R"}, pairs=(handmade(choices={"impact_resistance": "advised"}),)),
        case(history={"prosthetic_eye": "none"}, pairs=(handmade(),)),
    ),
    "rims-touch": (case(history={"smile": "clear", "brow_clearance": "clear"}),),
    "missing-without-reason": (
        WHOLE,
        without(WHOLE, "crest_angle"),
        Case(
            fitting=replace(
                without(WHOLE, "head_height").fitting,
                not_taken=(NotTaken(measurement="head_height", reason="declined"),),
            )
        ),
    ),
    "not-accepted": (proposed(accepted_by="I. Farrow"), case(head_width=148)),
    "registrant-named": (
        case(age=16, taken=NOBODY),
        case(age=15, taken=UNDER_SUPERVISION),
        case(age=15),
    ),
    "birth-date": (case(born="2026-10-02"), case(age=115)),
    "birth-date-size": (
        case(age=40, **ADULT_SIZES),
        case(age=8, **CHILD_SIZES),
        case(age=40, pd_distance=50, head_width=150),
        case(age=None, **CHILD_SIZES),
    ),
    "measured-long-ago": (case(today="2026-11-01"), case(age=8, today="2026-10-16"), case()),
    "prescription-newer": (
        case(prescription=prescribed(eye(0.0), eye(0.0), written="2026-10-02")),
        case(prescription=prescribed(eye(0.0), eye(0.0), written="2026-10-09"), today="2026-10-05"),
    ),
    "pd-previous-visit": (
        case(pd_distance={"rule": 63}, previous=case(pd_distance={"rule": 62})),
        case(age=9, pd_distance={"rule": 55}, previous=case(age=8, pd_distance={"rule": 52})),
        case(age=17, pd_distance={"rule": 60}, previous=case(age=14, pd_distance={"rule": 56})),
        case(pd_distance={"rule": 63}),
    ),
    "reading-previous-visit": (
        case(head_width=148, previous=case(head_width=142)),
        case(head_width=148, previous=case(temple_width=137)),
        case(age=9, head_width=150, previous=case(age=8, head_width=141)),
        case(age=9, head_width=139, previous=case(age=8, head_width=141)),
        case(age=17, head_width=150, previous=case(age=15, head_width=141)),
        case(pupil_horizontal=(3, 3), previous=case(pupil_horizontal=(6, 6))),  # the light was another
        case(
            head_width=148, previous=case(head_width=[148, 160])
        ),  # what did not settle then says nothing now
        case(head_width=148),
    ),
    "order-incomplete": (
        case(),
        case(pairs=(WHOLE_FRAME,)),
        case(pairs=(replace(WHOLE_FRAME, material="horn", sheet_mm=None),)),
        case(pairs=(replace(WHOLE_FRAME, choices={"colour_sample": "attached"}),)),
        case(pairs=(own_frame(lens_form="bifocal", choices={"lens_material": "polycarbonate"}),)),
    ),
    "same-as-previous-visit": (
        case(**EIGHT, previous=case(**EIGHT | {"crest_height": 6.5})),
        case(head_width=148, previous=case(head_width=148)),
    ),
}
