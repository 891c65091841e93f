"""The JSON interface: a fitting in and out, one reading at a time, and what follows from it."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Annotated, Any

from fastapi import APIRouter, Header, Request
from fastapi.responses import JSONResponse

from app.documents.assessment import assessment, write_finding
from app.fitting.fitting_file import read_fitting_text, write_fitting
from app.fitting.reading import Reading
from app.fitting.schema import assessment_schema, fitting_schema
from app.plausibility.judge import Judgement, about_reading, judge
from app.records.actor import Actor
from app.records.database import Database
from app.records.file_import import import_file
from app.records.fittings import load_fitting
from app.records.identity import new_key
from app.records.readings import add_reading
from app.records.requests import Answer, write_once
from app.records.requests import Request as Wish
from app.web.api_body import Body, read_posted_reading
from app.web.api_route import ApiRoute, BadKey
from app.web.api_token import Caller
from app.web.assistant_limits import as_the_caller_may, reading_as_the_caller_may
from app.web.chair import confirmed_in
from app.web.session import Records

router = APIRouter(prefix="/api", tags=["fittings"], route_class=ApiRoute)
LONGEST_KEY = 100
Key = Annotated[str | None, Header(alias="Idempotency-Key")]
REFUSALS: dict[int | str, dict[str, Any]] = {
    401: {"description": "No token, or none that holds"},
    403: {"description": "The token's holder may not do this"},
    422: {"description": "The place and the reason, in one line"},
}
NOT_FOUND: dict[int | str, dict[str, Any]] = {404: {"description": "There is no such fitting"}}


def sent(schema: Mapping[str, Any] | str) -> dict[str, Any]:
    """The part of the published document that describes what is sent."""
    described = {"$ref": schema} if isinstance(schema, str) else dict(schema)
    return {"requestBody": {"required": True, "content": {"application/json": {"schema": described}}}}


@router.post(
    "/fittings",
    status_code=201,
    responses={**REFUSALS, 200: {"description": "This key was sent before: the first answer again"}},
    openapi_extra=sent("/api/schema/fitting.json"),
    summary="Store a fitting file",
)
def post_fitting(
    request: Request, records: Records, caller: Caller, body: Body, key: Key = None
) -> JSONResponse:
    """The person is found by the reference in the file, or made. With an Idempotency-Key a retry stores once."""
    fitting = as_the_caller_may(caller, read_fitting_text(body))
    mark = checked_key(key) if key is not None else new_key()
    stored = import_file(records, key=mark, actor=caller, fitting=fitting)
    return JSONResponse({"id": stored.fitting_id}, status_code=200 if stored.repeated else 201)


@router.get("/fittings/{fitting_id}", responses={**REFUSALS, **NOT_FOUND}, summary="The fitting file")
def get_fitting(records: Records, caller: Caller, fitting_id: str) -> JSONResponse:
    """The whole fitting with all its readings."""
    return JSONResponse(write_fitting(load_fitting(records, fitting_id).fitting))


@router.post(
    "/fittings/{fitting_id}/readings",
    status_code=201,
    responses={
        **REFUSALS,
        **NOT_FOUND,
        200: {"description": "This key was sent before: the first answer again"},
        400: {"description": "No Idempotency-Key"},
        409: {"description": "The fitting is signed off"},
    },
    openapi_extra=sent("/api/schema/fitting.json#/$defs/face_reading"),
    summary="Store one reading",
)
def post_reading(
    request: Request, records: Records, caller: Caller, fitting_id: str, body: Body, key: Key = None
) -> JSONResponse:
    """Stored before it is answered; the answer carries the findings about it."""
    mark = checked_key(key)
    reading = reading_as_the_caller_may(caller, replace(read_posted_reading(body), identity=None))
    stored = add_reading(records, key=mark, actor=caller, fitting_id=fitting_id, reading=reading)
    answer = first_answer(request, records, caller, fitting_id, reading, identity=stored.identity, key=mark)
    return JSONResponse(answer, status_code=200 if stored.repeated else 201)


@router.get(
    "/fittings/{fitting_id}/assessment", responses={**REFUSALS, **NOT_FOUND}, summary="What follows from it"
)
def get_assessment(request: Request, records: Records, caller: Caller, fitting_id: str) -> JSONResponse:
    """The same as the command assess prints, with what was said to be right taken as true."""
    stored = load_fitting(records, fitting_id)
    confirmed = confirmed_in(records, stored)
    return JSONResponse(assessment(stored.fitting, request.app.state.practice, confirmed=confirmed))


@router.get("/schema/fitting.json", summary="JSON Schema of the fitting file")
def get_fitting_schema() -> JSONResponse:
    """Made from the catalogue."""
    return JSONResponse(fitting_schema(), media_type="application/schema+json")


@router.get("/schema/assessment.json", summary="JSON Schema of the assessment")
def get_assessment_schema() -> JSONResponse:
    """Made from the catalogue."""
    return JSONResponse(assessment_schema(), media_type="application/schema+json")


def checked_key(key: str | None) -> str:
    """The Idempotency-Key; BadKey in words where it is missing or too long."""
    if key is None or not key.strip():
        raise BadKey(
            "Send an Idempotency-Key header: a text of your own for this one reading, "
            "so that sending it again stores it once."
        )
    if len(key) > LONGEST_KEY:
        raise BadKey(f"The Idempotency-Key is longer than {LONGEST_KEY} characters.")
    return key


def first_answer(
    request: Request,
    records: Database,
    caller: Actor,
    fitting_id: str,
    reading: Reading,
    *,
    identity: str,
    key: str,
) -> Answer:
    """The answer to the first sending of a reading, kept so that a retry gets the same."""
    wish = Wish(key=f"{key}.answer", actor=caller, action="answer_reading", body=[fitting_id, identity])
    stored = load_fitting(records, fitting_id)
    judgement = judge(stored.fitting, request.app.state.practice, confirmed=confirmed_in(records, stored))
    findings = findings_about(judgement, reading)
    found: Answer = {"id": identity, "findings": findings}

    def work(_: object) -> Answer:
        return found

    return write_once(records, wish, work).answer


def findings_about(judgement: Judgement, reading: Reading) -> list[dict[str, Any]]:
    """The findings that concern a reading, as the assessment writes them."""
    found = about_reading(judgement, reading.measurement, reading.side, reading.pair)
    return [write_finding(finding) for finding in found]
