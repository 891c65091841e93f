"""Fittings: started, listed, and taken in whole from a file or a paper form."""

from dataclasses import replace

import pytest

from app.fitting.cover_test import CoverFinding, CoverTest
from app.fitting.fitting import Fitting, Person, Taken
from app.fitting.pair import Pair, Segment
from app.fitting.prescription import EyePrescription, Prescription, Prism
from app.fitting.reading import EnteredInError, NotTaken, Reading
from app.records.actor import Actor
from app.records.database import Database
from app.records.errors import KeyReused, NotAllowed, NotFound, NotStorable
from app.records.fittings import fittings_of, import_fitting, load_fitting, start_fitting
from app.records.identity import new_key
from app.records.signoff import sign_off

PRESCRIPTION = Prescription(
    right=EyePrescription(
        sphere=-6.25, cylinder=-0.75, axis=170, add=2.0, prism=(Prism(amount=2.0, base="in"),)
    ),
    left=EyePrescription(sphere=-5.5, cylinder=-1.0, axis=5, add=2.0),
    written="2026-09-20",
    prescriber="A. Prescriber",
    tested_at_mm=12,
)
WHOLE = Fitting(
    person=Person(reference="D-0003", born="1965-02-11", sex="F"),
    taken=Taken(
        on="2026-10-02",
        by="Ines Calloway",
        role="practitioner",
        supervisor="Ines Calloway",
        room_light="dim",
        from_paper=True,
    ),
    readings=(
        Reading(
            measurement="head_circumference",
            value=562,
            text="56.2 cm",
            instrument="tape 2",
            by="Theo Brandt",
            role="assistant",
            at="2026-10-02T09:31:05.000Z",
            source="paper",
            identity="first",
            accepted_by="Ines Calloway",
        ),
        Reading(
            measurement="pd_distance",
            value=36,
            text="36",
            method="rule",
            by="Ines Calloway",
            role="practitioner",
            at="2026-10-02T09:32:05.000Z",
            source="paper",
            identity="second",
            entered_in_error=EnteredInError(
                by="Ines Calloway", at="2026-10-02T09:33:00.000Z", reason="figures exchanged"
            ),
        ),
        Reading(
            measurement="pd_distance",
            value=63,
            text="63",
            method="rule",
            by="Ines Calloway",
            role="practitioner",
            at="2026-10-02T09:33:05.000Z",
            source="paper",
            identity="third",
            replaces="second",
        ),
        Reading(
            measurement="segment_height",
            value=15.5,
            text="15,5",
            side="R",
            pair=2,
            by="Ines Calloway",
            role="practitioner",
            at="2026-10-02T09:40:00.000Z",
            source="paper",
        ),
    ),
    not_taken=(
        NotTaken(
            measurement="head_height",
            reason="declined",
            detail="hair just done",
            by="Ines Calloway",
            at="2026-10-02T09:41:00.000Z",
        ),
    ),
    cover_test=CoverTest(
        distance=CoverFinding(finding="none", with_spectacles=True),
        near=CoverFinding(finding="latent", direction="out", size=2.0, recovery="quick"),
    ),
    prescription=PRESCRIPTION,
    pairs=(
        Pair(pair=1, kind="handmade", lens_width=48, lens_form="single_vision_distance", index=1.6),
        Pair(pair=2, kind="own_frame", lens_form="bifocal", segment=Segment(shape="D", diameter=28)),
    ),
    history={"interests": "sailing"},
)


def without_identities(fitting: Fitting) -> Fitting:
    """The fitting without the identities that the store gives."""
    bare = tuple(replace(reading, identity=None, replaces=None) for reading in fitting.readings)
    return replace(fitting, readings=bare)


def test_a_whole_fitting_comes_back_as_it_was_taken_in(
    database: Database, ines: Actor, person_id: str
) -> None:
    fitting_id = import_fitting(database, key=new_key(), actor=ines, person_id=person_id, fitting=WHOLE)

    stored = load_fitting(database, fitting_id).fitting
    assert without_identities(stored) == without_identities(WHOLE)
    circumference, slip, corrected, _ = stored.readings
    assert corrected.replaces == slip.identity
    assert circumference.identity != "first"


def test_taking_in_the_same_file_twice_with_one_key_makes_one_fitting(
    database: Database, ines: Actor, person_id: str
) -> None:
    key = new_key()
    made = {
        import_fitting(database, key=key, actor=ines, person_id=person_id, fitting=WHOLE) for _ in range(2)
    }

    assert len(made) == len(fittings_of(database, person_id)) == 1
    with pytest.raises(KeyReused):
        import_fitting(
            database, key=key, actor=ines, person_id=person_id, fitting=replace(WHOLE, readings=())
        )


def test_taking_in_is_all_or_nothing(database: Database, ines: Actor, person_id: str) -> None:
    stray = replace(WHOLE.readings[0], replaces="a reading of another file")

    with pytest.raises(NotStorable, match="not in the file"):
        import_fitting(
            database,
            key=new_key(),
            actor=ines,
            person_id=person_id,
            fitting=replace(WHOLE, readings=(*WHOLE.readings, stray)),
        )

    assert fittings_of(database, person_id) == ()


def test_what_an_assistant_takes_in_is_proposed(database: Database, theo: Actor, person_id: str) -> None:
    bare = replace(WHOLE, readings=(replace(WHOLE.readings[3], accepted_by=None),))

    fitting_id = import_fitting(database, key=new_key(), actor=theo, person_id=person_id, fitting=bare)

    assert load_fitting(database, fitting_id).fitting.readings[0].proposed


def test_a_new_fitting_carries_what_was_said_at_its_start(
    database: Database, ines: Actor, theo: Actor, person_id: str
) -> None:
    taken = Taken(on="2026-10-02", supervisor="Ines Calloway", room_light="normal")

    fitting_id = start_fitting(database, key=new_key(), actor=theo, person_id=person_id, taken=taken)

    stored = load_fitting(database, fitting_id)
    assert stored.fitting.taken == replace(taken, by="Theo Brandt", role="assistant")
    assert stored.fitting.person == Person(reference="D-0003", born="1965-02-11", sex="F")
    assert (stored.state, stored.sequence, stored.previous_fitting_id) == ("open", 1, None)
    assert stored.person_id == person_id


def test_the_visit_before_is_known(database: Database, ines: Actor, person_id: str) -> None:
    visits = [
        start_fitting(database, key=new_key(), actor=ines, person_id=person_id, taken=Taken(on=day))
        for day in ("2024-03-01", "2025-03-01", "2026-10-02")
    ]

    last = load_fitting(database, visits[2])
    listed = fittings_of(database, person_id)
    assert (last.previous_fitting_id, last.sequence) == (visits[1], 3)
    assert [line.fitting_id for line in listed] == visits[::-1]
    assert [line.taken_on for line in listed] == ["2026-10-02", "2025-03-01", "2024-03-01"]


def test_the_list_says_what_is_signed(
    database: Database, ines: Actor, person_id: str, fitting_id: str
) -> None:
    sign_off(
        database,
        key=new_key(),
        actor=ines,
        fitting_id=fitting_id,
        name=ines.name,
        registration="D-12345",
        document={},
    )

    (line,) = fittings_of(database, person_id)
    assert (line.state, line.signed_version, line.taken_by) == ("signed", 1, "Ines Calloway")


def test_a_fitting_of_nobody_and_a_day_that_is_none_are_refused_in_words(
    database: Database, ines: Actor, person_id: str
) -> None:
    with pytest.raises(NotFound, match="no such person"):
        start_fitting(database, key=new_key(), actor=ines, person_id="nobody", taken=Taken(on="2026-10-02"))
    with pytest.raises(NotStorable, match="write it as 2026-10-02"):
        start_fitting(database, key=new_key(), actor=ines, person_id=person_id, taken=Taken(on="yesterday"))
    with pytest.raises(NotFound):
        fittings_of(database, "nobody")


def test_the_desk_starts_no_fitting(database: Database, wren: Actor, person_id: str) -> None:
    with pytest.raises(NotAllowed):
        start_fitting(database, key=new_key(), actor=wren, person_id=person_id, taken=Taken(on="2026-10-02"))
