"""Who may enter, accept and strike out a reading, and what becomes of a measurement that was left out."""

from dataclasses import replace

import pytest

from app.fitting.reading import NotTaken
from app.records.actor import Actor
from app.records.database import Database
from app.records.errors import Frozen, NotAllowed
from app.records.fittings import load_fitting
from app.records.identity import new_key
from app.records.readings import (
    accept_readings,
    add_not_taken,
    mark_entered_in_error,
    withdraw_not_taken,
)
from app.records.signoff import sign_off
from tests.records.test_readings import FULL, add, readings_of


def test_an_assistants_reading_is_proposed_until_a_practitioner_accepts_it(
    database: Database, ines: Actor, theo: Actor, fitting_id: str
) -> None:
    stored = add(database, theo, fitting_id, replace(FULL, proposed=False))
    (proposed,) = readings_of(database, fitting_id)

    newly = accept_readings(
        database, key=new_key(), actor=ines, fitting_id=fitting_id, identities=(stored.identity,)
    )
    again = accept_readings(
        database, key=new_key(), actor=ines, fitting_id=fitting_id, identities=(stored.identity,)
    )

    (accepted,) = readings_of(database, fitting_id)
    assert (proposed.proposed, proposed.accepted_by, proposed.role) == (True, None, "assistant")
    assert (accepted.proposed, accepted.accepted_by, accepted.by) == (False, "Ines Calloway", "Theo Brandt")
    assert newly == (stored.identity,)
    assert again == ()


def test_an_assistant_accepts_nothing_and_strikes_out_only_their_own(
    database: Database, ines: Actor, theo: Actor, fitting_id: str
) -> None:
    by_ines = add(database, ines, fitting_id, FULL)
    by_theo = add(database, theo, fitting_id, FULL)

    def strike(identity: str) -> None:
        mark_entered_in_error(
            database, key=new_key(), actor=theo, fitting_id=fitting_id, identity=identity, reason="slip"
        )

    with pytest.raises(NotAllowed, match="takes a practitioner"):
        accept_readings(
            database, key=new_key(), actor=theo, fitting_id=fitting_id, identities=(by_theo.identity,)
        )
    with pytest.raises(NotAllowed):
        strike(by_ines.identity)
    strike(by_theo.identity)


def test_the_desk_enters_no_readings(database: Database, wren: Actor, mara: Actor, fitting_id: str) -> None:
    for actor in (wren, mara):
        with pytest.raises(NotAllowed, match=f"{actor.name} is signed in as {actor.role}"):
            add(database, actor, fitting_id, FULL)


def test_a_reason_for_leaving_out_is_kept_replaced_and_taken_back(
    database: Database, ines: Actor, fitting_id: str
) -> None:
    def left_out(reason: str, side: str | None) -> None:
        gap = NotTaken(measurement="lash_projection", reason=reason, side=side, detail="since Monday")  # type: ignore[arg-type]
        add_not_taken(database, key=new_key(), actor=ines, fitting_id=fitting_id, not_taken=gap)

    left_out("declined", "R")
    left_out("declined", "L")
    left_out("sore_or_healing", "R")
    reasons = [(gap.side, gap.reason) for gap in load_fitting(database, fitting_id).fitting.not_taken]
    withdraw_not_taken(
        database,
        key=new_key(),
        actor=ines,
        fitting_id=fitting_id,
        measurement="lash_projection",
        side="L",
    )

    (left,) = load_fitting(database, fitting_id).fitting.not_taken
    assert reasons == [("L", "declined"), ("R", "sore_or_healing")]
    assert (left.side, left.reason, left.detail, left.by) == (
        "R",
        "sore_or_healing",
        "since Monday",
        "Ines Calloway",
    )


def test_a_signed_fitting_takes_no_reading(database: Database, ines: Actor, fitting_id: str) -> None:
    sign_off(
        database,
        key=new_key(),
        actor=ines,
        fitting_id=fitting_id,
        name="Ines Calloway",
        registration="D-12345",
        document={},
    )

    with pytest.raises(Frozen, match="open a new version and give the reason"):
        add(database, ines, fitting_id, FULL)
    with pytest.raises(Frozen):
        add_not_taken(
            database,
            key=new_key(),
            actor=ines,
            fitting_id=fitting_id,
            not_taken=NotTaken(measurement="head_height", reason="declined"),
        )
