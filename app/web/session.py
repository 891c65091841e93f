"""Who is signed in on this tablet, and what a page needs them to be allowed."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Annotated

from fastapi import Depends, Request, Response

from app.records.actor import Actor
from app.records.database import Database
from app.records.sessions import find_session
from app.web.rights import RIGHTS, Right, may

COOKIE = "chair_session"
SECURE_COOKIE = "__Host-chair_session"


@dataclass(frozen=True, slots=True)
class Who:
    """The person signed in on this tablet."""

    account: str
    name: str
    role: str
    registration: str | None
    token: str

    @property
    def actor(self) -> Actor:
        """The same person as the records know them."""
        return Actor(account=self.account, name=self.name, role=self.role)

    def may(self, right: Right) -> bool:
        """True where this person has the right."""
        return may(self.role, right)


class NotSignedIn(Exception):
    """Nobody is signed in, or the sign-in has run out."""


class NotAllowedHere(Exception):
    """Signed in, but this needs a right that the role does not have."""

    def __init__(self, right: Right) -> None:
        super().__init__(RIGHTS[right][1])


def cookie_name(request: Request) -> str:
    """The host-bound cookie where the connection is secure; its plain twin for the demo on this machine."""
    return SECURE_COOKIE if request.url.scheme == "https" else COOKIE


def give_cookie(request: Request, response: Response, token: str) -> None:
    """Hand the session's token to the browser; scripts cannot read it and other sites cannot send it."""
    secure = request.url.scheme == "https"
    response.set_cookie(
        cookie_name(request), token, httponly=True, samesite="strict", path="/", secure=secure
    )


def database_of(request: Request) -> Database:
    """The practice's database."""
    database: Database = request.app.state.database
    return database


def signed_in(request: Request) -> Who:
    """The person signed in, or NotSignedIn."""
    return _signed_in(request, sign_of_life=True)


def _signed_in(request: Request, *, sign_of_life: bool) -> Who:
    token = request.cookies.get(cookie_name(request))
    session = find_session(database_of(request), token, sign_of_life=sign_of_life) if token else None
    if token is None or session is None:
        raise NotSignedIn
    who = Who(session.account, session.name, session.role, session.registration, token)
    request.state.who = who
    return who


def needs(right: Right, *, sign_of_life: bool = True) -> Callable[[Request], Who]:
    """A dependency that lets only those through who have the right.

    What a page asks by itself is no `sign_of_life`: the idle time runs on.
    """

    def allowed(request: Request) -> Who:
        who = _signed_in(request, sign_of_life=sign_of_life)
        if not who.may(right):
            raise NotAllowedHere(right)
        return who

    return allowed


Records = Annotated[Database, Depends(database_of)]
SignedIn = Annotated[Who, Depends(signed_in)]
MaySeeFitting = Annotated[Who, Depends(needs("see_fitting"))]
PageMaySeeFitting = Annotated[Who, Depends(needs("see_fitting", sign_of_life=False))]
MayMeasure = Annotated[Who, Depends(needs("measure_head"))]
MayAnswer = Annotated[Who, Depends(needs("answer_findings"))]
