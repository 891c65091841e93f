"""Sign-off freezes; what was signed stays for ever, and a new version says why it was made."""

import hashlib
from typing import Any

import pytest
from sqlalchemy.exc import IntegrityError

from app.fitting.reading import Reading
from app.records.actor import Actor
from app.records.answers import answer_finding
from app.records.database import Database
from app.records.errors import Conflict, Frozen, NotAllowed, NotFound, NotStorable
from app.records.fittings import load_fitting
from app.records.identity import new_key
from app.records.readings import add_reading
from app.records.signoff import load_signed, open_new_version, sign_off

DOCUMENT = {"schema": "chair-to-bench/fitting/1", "person": {"reference": "Ö-1"}, "readings": []}


def sign(database: Database, actor: Actor, fitting_id: str, **changes: Any) -> int:
    """Sign a fitting off."""
    asked: dict[str, Any] = {"name": actor.name, "registration": "D-12345", "document": DOCUMENT} | changes
    return sign_off(database, key=new_key(), actor=actor, fitting_id=fitting_id, **asked)


def reopen(database: Database, actor: Actor, fitting_id: str, reason: str) -> None:
    """Open a fitting again."""
    open_new_version(database, key=new_key(), actor=actor, fitting_id=fitting_id, reason=reason)


def test_what_was_signed_comes_back_word_for_word(database: Database, ines: Actor, fitting_id: str) -> None:
    assert sign(database, ines, fitting_id) == 1

    signed = load_signed(database, fitting_id)
    stored = load_fitting(database, fitting_id)
    assert signed.document == DOCUMENT
    assert signed.intact
    assert stored.state == "signed"
    assert stored.signed_versions == (signed.version,)
    assert (signed.version.name, signed.version.registration) == ("Ines Calloway", "D-12345")


def test_the_digest_is_the_sha_256_of_the_stored_text(
    database: Database, ines: Actor, fitting_id: str
) -> None:
    sign(database, ines, fitting_id)

    with database.read() as connection:
        text = connection.exec_driver_sql("SELECT document FROM signed_version").scalar_one()
    digest = load_signed(database, fitting_id).version.document_sha256
    assert digest == hashlib.sha256(text.encode()).hexdigest()


def test_a_signed_document_that_was_tampered_with_is_noticed(
    database: Database, ines: Actor, fitting_id: str
) -> None:
    sign(database, ines, fitting_id)

    with pytest.raises(IntegrityError, match="never changed"), database.write() as writing:
        writing.exec_driver_sql("UPDATE signed_version SET document = '{}'")
    with database.write() as connection:
        connection.exec_driver_sql("DROP TRIGGER signed_version_no_update")
        connection.exec_driver_sql("UPDATE signed_version SET document = '{}'")

    assert not load_signed(database, fitting_id).intact


def test_a_second_version_carries_its_reason_and_leaves_the_first(
    database: Database, ines: Actor, fitting_id: str
) -> None:
    sign(database, ines, fitting_id)
    reopen(database, ines, fitting_id, "lens form changed by telephone")
    reading = Reading(measurement="head_width", value=148, text="148")
    add_reading(database, key=new_key(), actor=ines, fitting_id=fitting_id, reading=reading)

    assert sign(database, ines, fitting_id, document={"second": True}) == 2

    first, second = load_fitting(database, fitting_id).signed_versions
    assert (first.number, first.reason) == (1, None)
    assert (second.number, second.reason) == (2, "lens form changed by telephone")
    assert load_signed(database, fitting_id, 1).document == DOCUMENT
    assert load_signed(database, fitting_id).document == {"second": True}


def test_signing_what_moved_on_since_the_review_is_refused(
    database: Database, ines: Actor, theo: Actor, fitting_id: str
) -> None:
    reviewed = load_fitting(database, fitting_id).revision
    late = Reading(measurement="head_width", value=148, text="148")
    add_reading(database, key=new_key(), actor=theo, fitting_id=fitting_id, reading=late)

    with pytest.raises(Conflict, match="since this page was made"):
        sign(database, ines, fitting_id, revision=reviewed)

    now_there = load_fitting(database, fitting_id)
    assert now_there.state == "open"
    assert sign(database, ines, fitting_id, revision=now_there.revision) == 1


def test_only_a_practitioner_signs_and_opens_again(
    database: Database, ines: Actor, theo: Actor, wren: Actor, mara: Actor, fitting_id: str
) -> None:
    for actor in (theo, wren, mara):
        with pytest.raises(NotAllowed):
            sign(database, actor, fitting_id)
    sign(database, ines, fitting_id)
    with pytest.raises(NotAllowed):
        reopen(database, theo, fitting_id, "because")


@pytest.mark.parametrize("missing", ["name", "registration"])
def test_signing_needs_a_name_and_a_registration_number(
    database: Database, ines: Actor, fitting_id: str, missing: str
) -> None:
    with pytest.raises(NotStorable, match="your name and your registration number"):
        sign(database, ines, fitting_id, **{missing: "  "})


def test_signing_twice_opening_twice_and_opening_without_a_reason_are_refused(
    database: Database, ines: Actor, fitting_id: str
) -> None:
    with pytest.raises(NotAllowed, match="open already"):
        reopen(database, ines, fitting_id, "because")
    sign(database, ines, fitting_id)
    with pytest.raises(Frozen):
        sign(database, ines, fitting_id)
    with pytest.raises(NotStorable, match="Say why"):
        reopen(database, ines, fitting_id, " ")
    with pytest.raises(NotFound):
        load_signed(database, fitting_id, 7)


def test_a_retry_of_the_sign_off_gets_the_same_number(
    database: Database, ines: Actor, fitting_id: str
) -> None:
    key = new_key()
    numbers = [
        sign_off(
            database,
            key=key,
            actor=ines,
            fitting_id=fitting_id,
            name=ines.name,
            registration="D-12345",
            document=DOCUMENT,
        )
        for _ in range(2)
    ]

    assert numbers == [1, 1]
    assert len(load_fitting(database, fitting_id).signed_versions) == 1


def answer(database: Database, actor: Actor, fitting_id: str, kind: Any, words: str = "") -> None:
    """Answer one finding."""
    answer_finding(
        database,
        key=new_key(),
        actor=actor,
        fitting_id=fitting_id,
        check="head-too-wide",
        fingerprint="head_width=168",
        kind=kind,
        words=words,
    )


def test_two_people_who_answer_one_finding_are_both_kept(
    database: Database, ines: Actor, theo: Actor, fitting_id: str
) -> None:
    answer(database, theo, fitting_id, "measured_again", "twice")
    answer(database, ines, fitting_id, "right_because", "wide face, family")

    answers = load_fitting(database, fitting_id).answers
    assert [(one.kind, one.words, one.by) for one in answers] == [
        ("measured_again", "twice", "Theo Brandt"),
        ("right_because", "wide face, family", "Ines Calloway"),
    ]
    assert {(one.check, one.fingerprint) for one in answers} == {("head-too-wide", "head_width=168")}


def test_an_assistant_does_not_decide_that_a_finding_is_right(
    database: Database, theo: Actor, wren: Actor, ines: Actor, fitting_id: str
) -> None:
    with pytest.raises(NotAllowed):
        answer(database, theo, fitting_id, "right_because", "looks fine")
    with pytest.raises(NotAllowed):
        answer(database, wren, fitting_id, "corrected")
    with pytest.raises(NotStorable):
        answer(database, ines, fitting_id, "ignored")
    sign(database, ines, fitting_id)
    with pytest.raises(Frozen):
        answer(database, ines, fitting_id, "corrected")
