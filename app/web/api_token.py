"""Who is calling the interface: a bearer token, and what its holder may do."""

from collections.abc import Callable
from typing import Annotated

from fastapi import Depends, Request
from fastapi.security import HTTPAuthorizationCredentials, HTTPBearer

from app.records.actor import Actor
from app.records.tokens import token_holder
from app.web.rights import Right, may
from app.web.session import NotAllowedHere, NotSignedIn, database_of

BEARER = HTTPBearer(
    auto_error=False, description="A token printed by: python -m app token --role practitioner --name NAME"
)
Credentials = Annotated[HTTPAuthorizationCredentials | None, Depends(BEARER)]


def token_needs(right: Right) -> Callable[[Request, HTTPAuthorizationCredentials | None], Actor]:
    """A dependency that lets only tokens through whose holder has the right."""

    def allowed(request: Request, credentials: Credentials) -> Actor:
        holder = token_holder(database_of(request), credentials.credentials) if credentials else None
        if holder is None:
            raise NotSignedIn
        if not may(holder.role, right):
            raise NotAllowedHere(right)
        return holder

    return allowed


Caller = Annotated[Actor, Depends(token_needs("interface"))]
