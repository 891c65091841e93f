"""Help pages: made from the catalogue, the checks, the rights and the list of works, so that they cannot
drift.
"""

from itertools import groupby
from pathlib import PurePosixPath
from typing import Annotated

from fastapi import APIRouter, Depends, Request
from fastapi.responses import Response

from app.catalogue.catalogue import MEASUREMENTS, STEP_OF, STEPS
from app.catalogue.conditions import CONDITIONS
from app.catalogue.instruments import INSTRUMENTS
from app.catalogue.measurement import UNIT_WORDS, Measurement
from app.documents.lab_labels import MEMORY, NOT_SENT, SENT
from app.plausibility.check import Check
from app.plausibility.families import CHECKS
from app.records.errors import NotFound
from app.reference.bibliography import WORKS
from app.reference.populations import SEXES, survey_group
from app.web.help_expected import EXPECTED_PARTS, EXPECTED_WORKS
from app.web.help_words import CAUTIONS, GLOSSARY
from app.web.rendering import TEMPLATES, render
from app.web.rights import RIGHTS, ROLES
from app.web.session import Who, needs

router = APIRouter(prefix="/help")
Reader = Annotated[Who, Depends(needs("help"))]

UNIT_IN_FULL = {"mm": "Millimetres", "cm": "Centimetres", "deg": "Degrees"}
SIDES_IN_FULL = {
    "one": "A single value.",
    "each": "Right and left, each on its own.",
    "either": "A single value, or right and left where they differ.",
}
SEVERITIES_IN_FULL = {"note": "note", "ask": "please check", "stop": "cannot stand", "refer": "pause"}


@router.get("")
def show_help(request: Request, who: Reader) -> Response:
    """How a fitting goes, what findings ask, the planes that everybody shares."""
    return render(request, "pages/help.html", steps=STEPS, glossary=GLOSSARY)


@router.get("/measurements")
def show_measurements(request: Request, who: Reader) -> Response:
    """All measurements by step."""
    return render(
        request, "pages/help_measurements.html", steps=[step for step in STEPS if step.measurements]
    )


@router.get("/measurements/{key}")
def show_measurement(request: Request, who: Reader, key: str) -> Response:
    """Everything about one measurement."""
    measurement = MEASUREMENTS.get(key)
    if measurement is None:
        raise NotFound("measurement")
    return render(
        request,
        "pages/help_measurement.html",
        measurement=measurement,
        unit=UNIT_WORDS[measurement.unit],
        unit_words=UNIT_IN_FULL[measurement.unit],
        sides_words=SIDES_IN_FULL[measurement.sides],
        instruments=[
            INSTRUMENTS[one].label if one in INSTRUMENTS else one for one in measurement.instruments
        ],
        conditions=[CONDITIONS[one] for one in measurement.conditions],
        takers=takers(measurement),
        drawing=drawing_of(measurement),
    )


def takers(measurement: Measurement) -> str:
    """Who may take it, in words."""
    if measurement.assistant_may and not measurement.near_eye:
        return (
            "Practitioner, or a trained assistant; an assistant's reading is proposed until it is accepted."
        )
    return "Practitioner only." + (" The tool comes near the eye." if measurement.near_eye else "")


def drawing_of(measurement: Measurement) -> str:
    """Template of the drawing that shows where it is taken; nothing where there is none."""
    name = STEP_OF[measurement.key].drawing
    path = PurePosixPath("drawings") / f"{name}.svg"
    return str(path) if name and (TEMPLATES / path).is_file() else ""


@router.get("/checks")
def show_checks(request: Request, who: Reader) -> Response:
    """All checks by family."""
    families = [(family, list(checks)) for family, checks in groupby(CHECKS.values(), key=family_of)]
    return render(request, "pages/help_checks.html", families=families, count=len(CHECKS))


def family_of(check: Check) -> str:
    """The family that a check stands in."""
    return check.family


@router.get("/checks/{name}")
def show_check(request: Request, who: Reader, name: str) -> Response:
    """One check: what it looks at, why, its limits, what to do."""
    check = CHECKS.get(name)
    if check is None:
        raise NotFound("check")
    severities = [SEVERITIES_IN_FULL[severity] for severity in check.severities]
    return render(request, "pages/help_check.html", check=check, severities=severities)


@router.get("/expected")
def show_expected(request: Request, who: Reader) -> Response:
    """How we know what to expect."""
    people = {sex: survey_group(sex).n for sex in SEXES}
    return render(
        request, "pages/help_expected.html", parts=EXPECTED_PARTS, people=people, works=EXPECTED_WORKS
    )


@router.get("/cautions")
def show_cautions(request: Request, who: Reader) -> Response:
    """The usual cautions."""
    return render(request, "pages/help_cautions.html", cautions=CAUTIONS)


@router.get("/rights")
def show_rights(request: Request, who: Reader) -> Response:
    """Who may do what."""
    return render(request, "pages/help_rights.html", rights=RIGHTS, roles=ROLES)


@router.get("/sources")
def show_sources(request: Request, who: Reader) -> Response:
    """Every work that a number comes from."""
    return render(request, "pages/help_sources.html", works=WORKS.values())


@router.get("/exchange")
def show_exchange(request: Request, who: Reader) -> Response:
    """What the exchange files hold, and what is left out of them."""
    return render(request, "pages/help_exchange.html", sent=SENT, not_sent=NOT_SENT, source=MEMORY)
