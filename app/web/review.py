"""The review: answering findings, accepting proposed readings, putting slips right."""

import secrets
from dataclasses import dataclass, field
from typing import Annotated

from fastapi import APIRouter, Form, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from app.fitting.reading import Reading
from app.fitting.working import waiting_proposals
from app.plausibility.answers import not_an_answer
from app.plausibility.finding import Finding, Offer, Severity, Subject
from app.plausibility.referral import Referral
from app.records.answers import KINDS, Kind, answer_finding
from app.records.errors import Frozen
from app.records.pairs import pair_states, record_pair_event
from app.records.readings import accept_readings, add_reading
from app.web.chair import Chair, finding_of, take_chair
from app.web.corrections import corrected_reading
from app.web.rail import rail
from app.web.rendering import render
from app.web.review_view import Review
from app.web.session import MayAnswer, MaySeeFitting, Records, Who

router = APIRouter()
Text = Annotated[str, Form()]
REASONS_AT_HAND = ("measured twice, the same", "known for a long time", "right for this face, seen by me")
"""Reasons that are one tap; a person may add words of their own."""
GONE = "This finding has changed meanwhile: look at it as it stands now."


@dataclass(frozen=True, slots=True, kw_only=True)
class Trouble:
    """What was wrong with the last sending, beside which part of the page, and what was typed there."""

    at: str
    words: str
    typed: dict[str, str] = field(default_factory=dict)


def show(
    request: Request, chair: Chair, who: Who, *, trouble: Trouble | None = None, status: int = 200
) -> HTMLResponse:
    """The review page."""
    return render(
        request,
        "pages/review.html",
        status,
        chair=chair,
        rail=rail(chair, "review"),
        review=Review(chair),
        trouble=trouble,
        key=secrets.token_urlsafe(12),
        reasons_at_hand=REASONS_AT_HAND,
        may_answer=who.may("answer_findings") and not chair.frozen,
        may_sign=who.may("sign_off"),
    )


@router.get("/fittings/{fitting_id}/review")
def open_review(request: Request, records: Records, fitting_id: str, *, who: MaySeeFitting) -> HTMLResponse:
    """Everything that waits before sign-off, on one page."""
    return show(request, take_chair(request, records, fitting_id), who)


def back(fitting_id: str, anchor: str = "") -> Response:
    """To the review again."""
    return RedirectResponse(f"/fittings/{fitting_id}/review{anchor}", status_code=303)


@router.post("/fittings/{fitting_id}/review/answer")
def answer(
    request: Request,
    records: Records,
    fitting_id: str,
    *,
    check: Text,
    fingerprint: Text,
    key: Text,
    at_hand: Text = "",
    words: Text = "",
    who: MayAnswer,
) -> Response:
    """It is right because …: kept for exactly these values."""
    chair = take_chair(request, records, fitting_id)
    finding = finding_of(chair.judgement.findings, check, fingerprint)
    if finding is None:
        return show(request, chair, who, trouble=Trouble(at="", words=GONE), status=409)
    said = "; ".join(part.strip() for part in (at_hand, words) if part.strip())
    problem = not_an_answer(finding, kind="right_because", words=said, working=chair.judgement.working)
    if problem is not None:
        trouble = Trouble(at=place_of(finding), words=problem, typed={"words": words, "at_hand": at_hand})
        return show(request, chair, who, trouble=trouble, status=422)
    keep_answer(records, who, chair, finding, kind="right_because", words=said, key=key)
    return back(fitting_id)


@router.post("/fittings/{fitting_id}/review/referral")
def answer_referral(
    request: Request,
    records: Records,
    fitting_id: str,
    *,
    check: Text,
    fingerprint: Text,
    key: Text,
    kind: Text = "",
    time: Text = "",
    destination: Text = "",
    advice: Text = "",
    who: MayAnswer,
) -> Response:
    """What the registered practitioner decided: known, referred, or emergency; the last two pause dispensing."""
    chair = take_chair(request, records, fitting_id)
    finding = finding_of(chair.judgement.findings, check, fingerprint)
    if finding is None or finding.severity is not Severity.REFER:
        return show(request, chair, who, trouble=Trouble(at="", words=GONE), status=409)
    decided = Referral(kind=kind, time=time, destination=destination, advice=advice)
    problem = decided.missing()
    if problem is not None:
        typed = {"kind": kind, "time": time, "destination": destination, "advice": advice}
        trouble = Trouble(at=place_of(finding), words=problem, typed=typed)
        return show(request, chair, who, trouble=trouble, status=422)
    keep_answer(records, who, chair, finding, kind=kind, words=decided.words(), key=key)
    pause_pairs(records, who, fitting_id, Review(take_chair(request, records, fitting_id)), key)
    return back(fitting_id)


def keep_answer(
    records: Records, who: Who, chair: Chair, finding: Finding, *, kind: str, words: str, key: str
) -> None:
    """Store one answer."""
    known: Kind = next(one for one in KINDS if one == kind)
    answer_finding(
        records,
        key=key,
        actor=who.actor,
        fitting_id=chair.stored.fitting_id,
        check=finding.check,
        fingerprint=finding.fingerprint,
        kind=known,
        words=words,
    )


def pause_pairs(records: Records, who: Who, fitting_id: str, review: Review, key: str) -> None:
    """Tell the desk that both pairs wait, or that they wait no longer: the words carry nothing clinical."""
    paused = bool(review.pausing)
    for number, status in pair_states(records, fitting_id).items():
        if paused == (status.state.key == "referred"):
            continue
        record_pair_event(
            records,
            key=f"{key}-pair-{number}",
            actor=who.actor,
            fitting_id=fitting_id,
            pair=number,
            state="referred" if paused else "choosing",
        )


@router.post("/fittings/{fitting_id}/review/accept")
def accept(
    request: Request,
    records: Records,
    fitting_id: str,
    *,
    key: Text,
    identity: Text = "",
    by: Text = "",
    read_back: Text = "",
    who: MayAnswer,
) -> Response:
    """Accept one proposed reading, or all of one person's after they were read back aloud."""
    chair = take_chair(request, records, fitting_id)
    proposed = [one for one in waiting_proposals(chair.fitting) if one.identity]
    chosen = [one for one in proposed if one.identity == identity or (by and one.by == by)]
    if by and not read_back:
        words = (
            "Read them back aloud with the patient's sheet in view, tick that you did, then accept them all."
        )
        return show(request, chair, who, trouble=Trouble(at=f"accept-{by}", words=words), status=422)
    names = tuple(one.identity for one in chosen if one.identity)
    if names:
        accept_readings(records, key=key, actor=who.actor, fitting_id=fitting_id, identities=names)
    return back(fitting_id, "#proposed")


@router.post("/fittings/{fitting_id}/review/offer")
def take_offer(
    request: Request,
    records: Records,
    fitting_id: str,
    *,
    check: Text,
    fingerprint: Text,
    key: Text,
    offer: Annotated[int, Form()],
    who: MayAnswer,
) -> Response:
    """Put a slip right as offered: each reading is corrected by a new one, the old stays crossed out."""
    chair = take_chair(request, records, fitting_id)
    finding = finding_of(chair.judgement.findings, check, fingerprint)
    if chair.frozen:
        raise Frozen
    if finding is None or not 0 <= offer < len(finding.offers):
        return show(request, chair, who, trouble=Trouble(at="", words=GONE), status=409)
    for number, reading in enumerate(corrections(chair, who, finding.offers[offer])):
        add_reading(records, key=f"{key}-{number}", actor=who.actor, fitting_id=fitting_id, reading=reading)
    return back(fitting_id)


def corrections(chair: Chair, who: Who, offer: Offer) -> list[Reading]:
    """The readings that an offer would make; none where a reading was repeated, since then a person decides."""
    review = Review(chair)
    pairs: list[tuple[Subject, float]] = list(offer.corrections)
    standing = [review.standing(subject) for subject, _ in pairs]
    if any(len(readings) != 1 for readings in standing):
        return []
    return [
        corrected_reading(readings[0], value, by=who.name, role=who.role)
        for readings, (_, value) in zip(standing, pairs, strict=True)
    ]


def place_of(finding: Finding) -> str:
    """The part of the page that belongs to a finding."""
    return f"{finding.check}/{finding.fingerprint}"
