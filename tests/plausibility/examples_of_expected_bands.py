"""Where the expected bands speak, and where they are silent."""

from dataclasses import replace

from app.plausibility.finding import Severity
from tests.plausibility.case import case
from tests.plausibility.expected_face import subject

ASK, NOTE = Severity.ASK, Severity.NOTE
PDS = {"pd_distance": {"pupil_gauge": 63}, "pd_monocular": (31.5, 39)}
EYES = frozenset(
    {
        subject("pd_monocular", "R"),
        subject("pd_monocular", "L"),
        subject("pd_distance", method="pupil_gauge"),
    }
)
UNUSUAL = case(head_width=140, temple_width=130, head_circumference=640)
"""Longer round than any head so narrow of the survey (ANSUR II)."""

FIRES = {
    # a head width 20 mm out beside a temple width and a circumference: Abraham 2019 found temples 8 mm narrower
    "outside-expected-band": (
        (ASK, case(head_width=165, temple_width=133, head_circumference=565)),
        (ASK, case(**PDS)),
        (ASK, UNUSUAL),
        # said to be right: it is taken as true, and shown
        (NOTE, replace(UNUSUAL, confirmed=frozenset({subject("head_circumference")}))),
    ),
    "confirmed-contradict": ((NOTE, replace(case(**PDS), confirmed=EYES)),),
}

QUIET = {
    "outside-expected-band": (
        case(),
        case(head_circumference=690),
        case(head_width=145, temple_width=133, head_circumference=565),
        replace(case(**PDS), confirmed=EYES),
    ),
    "confirmed-contradict": (
        case(**PDS),
        replace(case(**PDS), confirmed=frozenset({subject("pd_monocular", "L")})),
        replace(case(pd_monocular=(31.5, 31)), confirmed=EYES),
    ),
}
