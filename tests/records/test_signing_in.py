"""Accounts, sign-ins and tokens: secrets are never stored, limits are kept, unknown and known look the same."""

from datetime import UTC, datetime, timedelta
from statistics import median
from time import perf_counter

import pytest

from app.records.accounts import (
    account_named,
    change_passphrase,
    check_passphrase,
    create_account,
    list_accounts,
    load_account,
    set_active,
)
from app.records.actor import Actor
from app.records.database import Database
from app.records.errors import AlreadyUsed, NotAllowed, NotFound, NotStorable
from app.records.identity import new_key
from app.records.passphrases import NOBODY, is_outdated
from app.records.sessions import (
    IDLE_LIMIT,
    LONGEST,
    end_session,
    end_sessions_of,
    find_session,
    start_session,
)
from app.records.tokens import end_token, list_tokens, make_token, token_holder

PASSPHRASE = "four words in a row"
MORNING = datetime(2026, 10, 2, 8, 30, tzinfo=UTC)


def new_account(
    database: Database, actor: Actor | None, sign_in: str = "Ines.C", **changes: str | None
) -> str:
    """Make an account with a passphrase."""
    asked: dict[str, str | None] = {
        "name": "Ines Calloway",
        "role": "practitioner",
        "registration": "D-12345",
        "passphrase": PASSPHRASE,
    }
    return create_account(database, key=new_key(), actor=actor, sign_in=sign_in, **(asked | changes))  # type: ignore[arg-type]


def test_name_and_passphrase_let_one_in_whatever_the_capitals_of_the_name(
    database: Database, mara: Actor
) -> None:
    made = new_account(database, mara)

    account = check_passphrase(database, " INES.c ", PASSPHRASE)

    assert account is not None
    assert (account.account, account.role, account.registration) == (made, "practitioner", "D-12345")
    assert account.actor == Actor(made, "Ines Calloway", "practitioner")


@pytest.mark.parametrize(
    ("sign_in", "passphrase"),
    [
        ("ines.c", PASSPHRASE.upper()),
        ("ines.c", ""),
        ("ines.c", "x" * 5000),
        ("nobody", PASSPHRASE),
        ("practitioner", PASSPHRASE),
        ("", ""),
        ("' OR 1=1 --", PASSPHRASE),
    ],
)
def test_anything_else_lets_nobody_in(database: Database, mara: Actor, sign_in: str, passphrase: str) -> None:
    new_account(database, mara)

    assert check_passphrase(database, sign_in, passphrase) is None


def test_the_hash_for_unknown_names_is_as_hard_as_those_made_today() -> None:
    assert not is_outdated(NOBODY)


def test_an_unknown_name_takes_as_long_to_refuse_as_a_wrong_passphrase(
    database: Database, mara: Actor
) -> None:
    new_account(database, mara)

    def time_of(sign_in: str) -> float:
        start = perf_counter()
        check_passphrase(database, sign_in, "not this one")
        return perf_counter() - start

    known, unknown = zip(*((time_of("ines.c"), time_of("nobody")) for _ in range(3)), strict=True)
    # Without a hash to compare an answer takes under a millisecond, with one a hundred: half is far from both.
    assert median(unknown) > 0.5 * median(known)


def test_the_passphrase_is_stored_only_as_an_argon2id_hash(database: Database, mara: Actor) -> None:
    new_account(database, mara)

    with database.read() as connection:
        stored = connection.exec_driver_sql(
            "SELECT passphrase_hash FROM account WHERE sign_in = 'ines.c'"
        ).scalar_one()
    # RFC 9106 section 4, second recommended option: t=3, m=64 MiB, p=4.
    assert stored.startswith("$argon2id$v=19$m=65536,t=3,p=4$")
    content = b"".join(file.read_bytes() for file in database.file.parent.glob("practice.sqlite*"))
    assert PASSPHRASE.encode() not in content


def test_a_closed_account_lets_nobody_in_and_its_sign_ins_and_tokens_end(
    database: Database, mara: Actor
) -> None:
    made = new_account(database, mara)
    session = start_session(database, account=made, at=MORNING)
    token = make_token(database, actor=mara, account=made, name="lab link")

    set_active(database, actor=mara, account=made, active=False)

    assert check_passphrase(database, "ines.c", PASSPHRASE) is None
    assert find_session(database, session, at=MORNING) is None
    assert token_holder(database, token) is None
    with pytest.raises(NotAllowed, match="your own account"):
        set_active(database, actor=mara, account=mara.account, active=False)


def test_a_new_passphrase_takes_the_old_ones_place(database: Database, mara: Actor, wren: Actor) -> None:
    made = new_account(database, mara)
    own = load_account(database, made).actor

    change_passphrase(database, actor=own, account=made, passphrase="another four words here")

    assert check_passphrase(database, "ines.c", PASSPHRASE) is None
    assert check_passphrase(database, "ines.c", "another four words here") is not None
    with pytest.raises(NotAllowed):
        change_passphrase(database, actor=wren, account=made, passphrase=PASSPHRASE)
    with pytest.raises(NotFound):
        change_passphrase(database, actor=mara, account="nobody", passphrase=PASSPHRASE)


def test_accounts_are_made_by_the_manager_or_at_the_server_and_have_names_of_their_own(
    database: Database, mara: Actor, ines: Actor
) -> None:
    new_account(database, None, "first", passphrase=None)
    with pytest.raises(NotAllowed):
        new_account(database, ines, "second")
    with pytest.raises(AlreadyUsed, match="FIRST is taken"):
        new_account(database, mara, "FIRST", passphrase=None)
    with pytest.raises(NotStorable, match="8 to 200 characters"):
        new_account(database, mara, "third", passphrase="short")
    with pytest.raises(NotStorable, match="practitioner, assistant, receptionist, manager"):
        new_account(database, mara, "third", role="owner", passphrase=None)
    with pytest.raises(NotStorable, match="needs a sign-in name"):
        new_account(database, mara, " ", passphrase=None)

    first = account_named(database, "First")
    assert first is not None
    assert not first.has_passphrase
    names = [account.name for account in list_accounts(database)]
    assert names == sorted(names)
    assert len(names) == 5


def test_a_sign_in_lasts_while_somebody_works_and_no_longer_than_a_day(
    database: Database, ines: Actor
) -> None:
    token = start_session(database, account=ines.account, tablet="tablet 2", at=MORNING)
    clock, step = MORNING, IDLE_LIMIT - timedelta(minutes=1)

    while clock + step < MORNING + LONGEST:
        clock += step
        session = find_session(database, token, at=clock)
        assert session is not None
        assert (session.actor, session.tablet) == (ines, "tablet 2")

    assert find_session(database, token, at=MORNING + LONGEST + timedelta(seconds=1)) is None


def test_an_idle_sign_in_runs_out(database: Database, ines: Actor) -> None:
    token = start_session(database, account=ines.account, at=MORNING)

    assert find_session(database, token, at=MORNING + IDLE_LIMIT) is not None
    later = MORNING + IDLE_LIMIT + IDLE_LIMIT + timedelta(seconds=1)
    assert find_session(database, token, at=later) is None


def test_a_page_view_writes_at_most_once_a_minute(database: Database, ines: Actor) -> None:
    token = start_session(database, account=ines.account, at=MORNING)

    def seen_after(seconds: int) -> str:
        find_session(database, token, at=MORNING + timedelta(seconds=seconds))
        with database.read() as connection:
            return str(connection.exec_driver_sql("SELECT seen_at FROM session").scalar_one())

    assert seen_after(59) == "2026-10-02T08:30:00.000Z"
    assert seen_after(61) == "2026-10-02T08:31:01.000Z"
    assert seen_after(100) == "2026-10-02T08:31:01.000Z"


def test_signing_out_ends_one_sign_in_and_a_manager_can_end_all(database: Database, ines: Actor) -> None:
    first, second, third = (start_session(database, account=ines.account, at=MORNING) for _ in range(3))

    end_session(database, first)
    end_session(database, "never given out")

    assert find_session(database, first, at=MORNING) is None
    assert find_session(database, second, at=MORNING) is not None
    end_sessions_of(database, ines.account)
    assert find_session(database, second, at=MORNING) is None
    assert find_session(database, third, at=MORNING) is None


@pytest.mark.parametrize("secret", ["", "x", "x" * 100_000, "' OR 1=1 --", "\x00", "\ud800"])
def test_a_made_up_secret_is_nobodys(database: Database, secret: str) -> None:
    assert find_session(database, secret) is None
    assert token_holder(database, secret) is None


def test_a_token_stands_for_its_account_until_it_is_ended(
    database: Database, mara: Actor, ines: Actor
) -> None:
    token = make_token(database, actor=mara, account=ines.account, name="lab link")

    (listed,) = list_tokens(database)
    assert token_holder(database, token) == ines
    assert (listed.name, listed.account, listed.ended_at) == ("lab link", ines.account, None)

    end_token(database, actor=mara, token_id=listed.token_id)

    assert token_holder(database, token) is None
    with pytest.raises(NotFound):
        end_token(database, actor=mara, token_id=listed.token_id)
    with pytest.raises(NotAllowed):
        make_token(database, actor=ines, account=ines.account, name="mine")
    with pytest.raises(NotFound):
        make_token(database, actor=None, account="nobody", name="x")


def test_secrets_are_stored_only_as_digests(database: Database, mara: Actor, ines: Actor) -> None:
    secrets = [
        start_session(database, account=ines.account),
        make_token(database, actor=mara, account=ines.account, name="lab link"),
    ]

    content = b"".join(file.read_bytes() for file in database.file.parent.glob("practice.sqlite*"))
    assert all(len(secret) >= 43 and secret.encode() not in content for secret in secrets)
