"""Half-typed entries, the practice's settings, and where the data are."""

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.practice.settings import Adjustments, PracticeSettings
from app.records.actor import Actor
from app.records.database import Database
from app.records.drafts import load_draft, save_draft
from app.records.errors import Conflict, NotAllowed, NotFound, NotStorable
from app.records.identity import new_key
from app.records.location import BESIDE_THE_APP, Location
from app.records.practice import load_settings, load_settings_version, save_settings, settings_of
from app.records.storable import LARGEST_PARTS, parts_of, value_of


def test_a_half_typed_reading_waits_for_the_one_who_typed_it(
    database: Database, ines: Actor, theo: Actor, fitting_id: str
) -> None:
    for text in ("6", "62", "62."):
        save_draft(database, account=ines.account, fitting_id=fitting_id, field="pd_distance", text=text)

    draft = load_draft(database, account=ines.account, fitting_id=fitting_id)

    assert draft is not None
    assert (draft.field, draft.text) == ("pd_distance", "62.")
    assert load_draft(database, account=theo.account, fitting_id=fitting_id) is None


def test_the_latest_box_counts_and_an_empty_one_is_forgotten(
    database: Database, ines: Actor, fitting_id: str
) -> None:
    def type_into(field: str, text: str) -> None:
        save_draft(database, account=ines.account, fitting_id=fitting_id, field=field, text=text)

    type_into("head_width", "14")
    type_into("temple_width", "13")
    latest = load_draft(database, account=ines.account, fitting_id=fitting_id)
    type_into("temple_width", "")
    type_into("temple_width", "")

    left = load_draft(database, account=ines.account, fitting_id=fitting_id)
    assert latest is not None
    assert left is not None
    assert (latest.field, left.field) == ("temple_width", "head_width")


def test_a_draft_for_no_fitting_or_without_end_is_refused_in_words(
    database: Database, ines: Actor, fitting_id: str
) -> None:
    with pytest.raises(NotFound):
        save_draft(database, account=ines.account, fitting_id="nothing", field="head_width", text="1")
    with pytest.raises(NotStorable, match="too long"):
        save_draft(database, account=ines.account, fitting_id=fitting_id, field="head_width", text="1" * 9999)


MINE = PracticeSettings(
    name="Mill Lane Opticians",
    adjustments=Adjustments(head_width_grip_mm=4.0),
    steps_left_out=("head",),
)


def test_a_practice_that_set_nothing_has_the_defaults(database: Database) -> None:
    assert load_settings_version(database) == (PracticeSettings(), 0)


def test_settings_come_back_as_they_were_saved(database: Database, mara: Actor) -> None:
    version = save_settings(database, key=new_key(), actor=mara, settings=MINE, base_version=0)

    assert load_settings_version(database) == (MINE, version)
    assert load_settings(database) == MINE


def test_settings_that_somebody_changed_meanwhile_are_shown(database: Database, mara: Actor) -> None:
    save_settings(database, key=new_key(), actor=mara, settings=MINE, base_version=0)
    other = replace(MINE, adjustments=Adjustments(head_width_grip_mm=6.0))

    with pytest.raises(Conflict) as clash:
        save_settings(database, key=new_key(), actor=mara, settings=other, base_version=0)

    assert {name: value.text for name, value in clash.value.fields.items()} == {
        "adjustments.head_width_grip_mm": "4.0"
    }
    assert load_settings(database) == MINE
    assert save_settings(database, key=new_key(), actor=mara, settings=MINE, base_version=0) == 1


def test_only_the_manager_changes_settings(database: Database, ines: Actor) -> None:
    with pytest.raises(NotAllowed):
        save_settings(database, key=new_key(), actor=ines, settings=MINE, base_version=0)


def test_settings_of_an_older_or_newer_app_still_load() -> None:
    document = {"name": "Mill Lane", "gone_since": 1, "adjustments": {"rim_depth_mm": 3.0, "gone": 2}}

    assert settings_of(document) == PracticeSettings(
        name="Mill Lane", adjustments=Adjustments(rim_depth_mm=3.0)
    )
    assert settings_of({}) == PracticeSettings()


def test_the_data_are_beside_the_app_unless_said_otherwise(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    for name in ("DATABASE", "DATA", "HOST", "PORT"):
        monkeypatch.delenv(f"CHAIR_TO_BENCH_{name}", raising=False)
    plain = Location(_env_file=None)  # type: ignore[call-arg]
    monkeypatch.setenv("CHAIR_TO_BENCH_DATA", str(tmp_path))
    monkeypatch.setenv("CHAIR_TO_BENCH_PORT", "9000")
    moved = Location(_env_file=None)  # type: ignore[call-arg]

    assert plain.database_url == f"sqlite:///{BESIDE_THE_APP / 'data' / 'chair-to-bench.sqlite'}"
    assert (plain.host, plain.port) == ("127.0.0.1", 8000)
    assert moved.database_url == f"sqlite:///{tmp_path / 'chair-to-bench.sqlite'}"
    assert moved.port == 9000


def test_a_file_beside_the_app_may_say_where_the_data_are(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.delenv("CHAIR_TO_BENCH_DATABASE", raising=False)
    file = tmp_path / ".env"
    file.write_text("CHAIR_TO_BENCH_DATABASE=sqlite:////srv/practice.sqlite\nSOMETHING_ELSE=1\n")

    assert Location(_env_file=file).database_url == "sqlite:////srv/practice.sqlite"  # type: ignore[call-arg]


@given(st.integers(-LARGEST_PARTS, LARGEST_PARTS))
def test_every_whole_number_of_ten_thousandths_survives_storing(parts: int) -> None:
    assert parts_of(value_of(parts)) == parts


@given(st.decimals(min_value=-1000, max_value=1000, places=4))
def test_every_value_of_four_decimals_survives_storing(value: object) -> None:
    number = float(str(value))
    assert value_of(parts_of(number)) == number
