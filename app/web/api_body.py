"""What a caller of the interface sends: a fitting file, or one reading object, each refused with its place."""

from typing import Annotated, Any

from fastapi import Depends, Request

from app.catalogue.catalogue import MEASUREMENTS
from app.fitting.file_readings import read_reading
from app.fitting.file_text import read_json_text
from app.fitting.file_value import FileValue, NotAFitting
from app.fitting.reading import Reading

PAIR_WHERE_NONE_IS_NAMED = 2
"""A reading off or with a pair is of the person's own, the second, unless the object says otherwise."""


async def body_of(request: Request) -> bytes:
    """The body as it came."""
    return await request.body()


Body = Annotated[bytes, Depends(body_of)]


def read_object(body: bytes) -> dict[str, Any]:
    """A JSON object, refused with its place."""
    document = read_json_text(body, whole="body")
    if not isinstance(document, dict):
        raise NotAFitting("body", "must be an object")
    return document


def read_posted_reading(body: bytes) -> Reading:
    """One reading object of the fitting file; one off or with a pair may name its pair, 1 or 2."""
    document = read_object(body)
    named = document.pop("pair", None)
    if named is not None and (isinstance(named, bool) or named not in (1, 2)):
        raise NotAFitting("pair", "must be 1 or 2")
    measurement = MEASUREMENTS.get(str(document.get("measurement")))
    off_pair = measurement is not None and measurement.off_pair
    if named is not None and not off_pair:
        raise NotAFitting("pair", "belongs to readings off or with a pair; leave it out here")
    return read_reading(FileValue(document), pair=named or PAIR_WHERE_NONE_IS_NAMED if off_pair else None)
