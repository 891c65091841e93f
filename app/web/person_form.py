"""The form of a person's details: what was typed, what is wrong with it, and the details where nothing is."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Literal

from app.documents.written import day
from app.records.person_details import PersonDetails
from app.web.written_date import NotADate, read_born

LONGEST = {"note": 2000}
LONGEST_OTHER = 200
LEAST_DIGITS_OF_A_TELEPHONE = 5
"""Shorter numbers are emergency and service numbers (ITU-T E.164 sets 15 as the most)."""
MOST_DIGITS_OF_A_TELEPHONE = 15

TEXTS = (
    "family_name",
    "given_name",
    "preferred_name",
    "reference",
    "born",
    "sex",
    "telephone",
    "email",
    "address_line",
    "contact_channel",
    "permission_to_speak",
    "note",
)
TICKS = ("leave_message", "registered_sight_impaired")

LABELS = {
    "family_name": "Family name",
    "given_name": "Given name",
    "preferred_name": "Likes to be called",
    "reference": "Reference",
    "born": "Date of birth",
    "sex": "Sex, for the usual range of a reading",
    "telephone": "Telephone",
    "email": "E-mail",
    "address_line": "First line of the address",
    "contact_channel": "Reach by",
    "leave_message": "A message may be left",
    "permission_to_speak": "May also be spoken to",
    "registered_sight_impaired": "Registered sight impaired",
    "note": "Note for the practice",
}
SEXES = (("F", "Female"), ("M", "Male"), ("", "Not given"))
SEX_OF: dict[str, Literal["F", "M"]] = {"F": "F", "M": "M"}
CHANNELS = (
    ("telephone", "Telephone"),
    ("text_message", "Text message"),
    ("email", "E-mail"),
    ("letter", "Letter"),
    ("", "Not asked yet"),
)
YES_NO = {True: "yes", False: "no"}


@dataclass(frozen=True, slots=True, kw_only=True)
class PersonForm:
    """What was typed into each box, the problem of each box that has one, and the details where all is well."""

    text: dict[str, str]
    problems: dict[str, str] = field(default_factory=dict)
    details: PersonDetails | None = None


def empty_form() -> PersonForm:
    """A blank form."""
    return PersonForm(text={})


def form_of(details: PersonDetails) -> PersonForm:
    """The form that shows what is stored."""
    return PersonForm(text=texts_of(details), details=details)


def texts_of(details: PersonDetails) -> dict[str, str]:
    """Each detail as it stands in its box."""
    text = {key: getattr(details, key) or "" for key in TEXTS}
    text |= {key: "yes" if getattr(details, key) else "" for key in TICKS}
    return text | {"born": day(details.born).replace("-", " ")}


def read_person(typed: Mapping[str, str], *, today: date) -> PersonForm:
    """Read the form. A box that cannot be right keeps what was typed and says what was expected."""
    text = {key: typed.get(key, "").strip() for key in TEXTS} | {
        key: "yes" if typed.get(key) == "yes" else "" for key in TICKS
    }
    problems = {key: words for key in text if (words := problem(key, text[key]))}
    born = None
    try:
        born = read_born(text["born"], today=today) if text["born"] else None
    except NotADate as error:
        problems["born"] = str(error)
    if problems:
        return PersonForm(text=text, problems=problems)
    return PersonForm(text=text, details=details_of(text, born))


def problem(key: str, text: str) -> str | None:
    """What is wrong with one box, in words; None where nothing is."""
    longest = LONGEST.get(key, LONGEST_OTHER)
    if len(text) > longest:
        return f"{LABELS[key]}: at most {longest} letters, please."
    if key in ("family_name", "given_name") and not text:
        return f"{LABELS[key]}: please fill this in. Somebody with one name only: write it in both boxes."
    if key == "telephone" and text:
        return telephone_problem(text)
    if key == "email" and text and not re.fullmatch(r"[^@\s]+@[^@\s]+\.[^@\s]+", text):
        return f"“{text}” is not an e-mail address. Example: name@example.org."
    if key == "sex" and text not in dict(SEXES):
        return "Sex: choose one of the three."
    if key == "contact_channel" and text not in dict(CHANNELS):
        return "Reach by: choose one of the list."
    return None


def telephone_problem(text: str) -> str | None:
    """What is wrong with a telephone number."""
    digits = sum(letter.isdigit() for letter in text)
    if not LEAST_DIGITS_OF_A_TELEPHONE <= digits <= MOST_DIGITS_OF_A_TELEPHONE:
        return f"“{text}” is not a telephone number. Example: 01632 960 123."
    return None


def details_of(text: Mapping[str, str], born: str | None) -> PersonDetails:
    """The details of a form without problems."""
    return PersonDetails(
        reference=text["reference"],
        family_name=text["family_name"],
        given_name=text["given_name"],
        preferred_name=text["preferred_name"],
        born=born,
        sex=SEX_OF.get(text["sex"]),
        telephone=text["telephone"],
        email=text["email"],
        address_line=text["address_line"],
        contact_channel=text["contact_channel"],
        leave_message=text["leave_message"] == "yes",
        permission_to_speak=text["permission_to_speak"],
        registered_sight_impaired=text["registered_sight_impaired"] == "yes",
        note=text["note"],
    )


def shown(key: str, text: str) -> str:
    """A box's text for reading: ticks and choices in words, a dash for nothing."""
    if key in TICKS:
        return YES_NO[text == "yes"]
    if key == "sex":
        return dict(SEXES).get(text, text)
    if key == "contact_channel":
        return dict(CHANNELS).get(text, text)
    return text or "nothing"
