"""Liveness: whether the app answers and readings can be stored."""

from fastapi import APIRouter
from fastapi.responses import JSONResponse

from app.web.session import Records

router = APIRouter(tags=["health"])


@router.head("/health", include_in_schema=False)
@router.get("/health", responses={503: {"description": "Readings cannot be stored now"}})
def get_health(records: Records) -> JSONResponse:
    """200 where the database answers and can be written, 503 with words where not."""
    well, words = records.check()
    status = "ok" if well else "failing"
    return JSONResponse({"status": status, "database": words}, status_code=200 if well else 503)
