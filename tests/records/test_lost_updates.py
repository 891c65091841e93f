"""Nobody's edit is lost unseen: eight people save fifty times each, and every acknowledged save counts."""

import threading
from collections.abc import Callable
from pathlib import Path

from sqlalchemy.orm import registry
from sqlmodel import Field, Session, SQLModel, create_engine

from app.fitting.reading import Reading
from app.records.actor import Actor
from app.records.database import Database
from app.records.errors import Conflict
from app.records.field_values import field_history, save_fields
from app.records.fittings import load_fitting
from app.records.identity import new_key
from app.records.readings import add_reading

PEOPLE, SAVES = 8, 50
PATH = "history.interests"
"""A field in free words; everybody adds a mark of their own to what stands there."""


class OwnTables(SQLModel, registry=registry()):
    """Tables of this test alone."""


class FieldByDefault(OwnTables, table=True):
    """The same field on a database set up by default."""

    __tablename__ = "field_by_default"

    id: int = Field(default=1, primary_key=True)
    text: str = ""


def acknowledged_marks(add: Callable[[str], None]) -> tuple[list[str], list[Exception]]:
    """Let all people save at one time: the marks whose saving was acknowledged, and what was refused."""
    acknowledged: list[str] = []
    refused: list[Exception] = []
    start = threading.Barrier(PEOPLE)

    def save_again_and_again(person: int) -> None:
        start.wait()
        for save in range(SAVES):
            mark = f"{person}.{save}"
            try:
                add(mark)
            except Exception as error:
                refused.append(error)
            else:
                acknowledged.append(mark)

    threads = [threading.Thread(target=save_again_and_again, args=(person,)) for person in range(PEOPLE)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return acknowledged, refused


def test_no_acknowledged_edit_of_one_field_is_lost(database: Database, ines: Actor, fitting_id: str) -> None:
    conflicts: list[Conflict] = []

    def add(mark: str) -> None:
        """Read, change, save; where somebody was faster, look at what stands there and do it again."""
        while True:
            there = load_fitting(database, fitting_id).fields.get(PATH)
            text, version = (there.text or "", there.version) if there else ("", 0)
            changes = {PATH: (f"{text} {mark}".strip(), version)}
            try:
                save_fields(database, key=new_key(), actor=ines, fitting_id=fitting_id, changes=changes)
            except Conflict as conflict:
                conflicts.append(conflict)
            else:
                return

    acknowledged, refused = acknowledged_marks(add)

    standing = load_fitting(database, fitting_id).fields[PATH]
    assert refused == []
    assert len(acknowledged) == PEOPLE * SAVES
    assert sorted((standing.text or "").split()) == sorted(acknowledged)
    assert standing.version == len(acknowledged) == len(field_history(database, fitting_id, PATH))
    assert conflicts, "nobody ever met anybody: the test did not test anything"


def test_the_same_saves_are_lost_on_a_database_set_up_by_default(tmp_path: Path) -> None:
    engine = create_engine(f"sqlite:///{tmp_path / 'default.sqlite'}")
    OwnTables.metadata.create_all(engine)
    with Session(engine) as session:
        session.add(FieldByDefault())
        session.commit()

    def add(mark: str) -> None:
        with Session(engine) as session:
            field = session.get_one(FieldByDefault, 1)
            field.text = f"{field.text} {mark}".strip()
            session.add(field)
            session.commit()

    acknowledged, _ = acknowledged_marks(add)

    with Session(engine) as session:
        standing = session.get_one(FieldByDefault, 1).text.split()
    engine.dispose()
    lost = set(acknowledged) - set(standing)
    print(f"default set-up: {len(acknowledged)} saves acknowledged, {len(lost)} lost")
    assert lost


def test_readings_from_eight_tablets_into_one_box_are_all_kept(
    database: Database, ines: Actor, fitting_id: str
) -> None:
    def take(mark: str) -> None:
        reading = Reading(measurement="pd_distance", method="rule", value=62, text="62", note=mark)
        add_reading(database, key=new_key(), actor=ines, fitting_id=fitting_id, reading=reading)

    acknowledged, refused = acknowledged_marks(take)

    readings = load_fitting(database, fitting_id).fitting.readings
    assert refused == []
    assert sorted(reading.note or "" for reading in readings) == sorted(acknowledged)


def test_two_people_who_type_the_same_are_not_in_each_others_way(
    database: Database, ines: Actor, theo: Actor, fitting_id: str
) -> None:
    for actor in (ines, theo):
        versions = save_fields(
            database, key=new_key(), actor=actor, fitting_id=fitting_id, changes={PATH: ("sailing", 0)}
        )
        assert versions == {PATH: 1}
