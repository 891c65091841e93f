"""A request is answered once, under its key, in the transaction that does its work."""

import pytest

from app.records.actor import Actor
from app.records.database import Database
from app.records.errors import KeyReused, NotStorable
from app.records.identity import IDENTITY_PATTERN, new_identity, new_key
from app.records.requests import Answer, Request, forget_requests, write_once


def wish(actor: Actor, key: str, body: object = "x", action: str = "try") -> Request:
    """A request."""
    return Request(key=key, actor=actor, action=action, body=body)


def test_the_work_is_done_once(database: Database, ines: Actor) -> None:
    done: list[int] = []

    def work(_: object) -> Answer:
        done.append(1)
        return {"number": len(done)}

    key = new_key()
    outcomes = [write_once(database, wish(ines, key), work) for _ in range(3)]

    assert done == [1]
    assert [outcome.answer for outcome in outcomes] == [{"number": 1}] * 3
    assert [outcome.repeated for outcome in outcomes] == [False, True, True]


def test_work_that_fails_leaves_the_key_free(database: Database, ines: Actor) -> None:
    key = new_key()

    def fail(_: object) -> Answer:
        raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        write_once(database, wish(ines, key), fail)

    assert not write_once(database, wish(ines, key), lambda _: {}).repeated


@pytest.mark.parametrize(("body", "action"), [("y", "try"), ("x", "try something else")])
def test_a_key_belongs_to_one_wish(database: Database, ines: Actor, body: str, action: str) -> None:
    key = new_key()
    write_once(database, wish(ines, key), lambda _: {})

    with pytest.raises(KeyReused):
        write_once(database, wish(ines, key, body, action), lambda _: {})


@pytest.mark.parametrize("key", ["", "k" * 129, "\x00"])
def test_a_key_that_is_none_is_refused_in_words(database: Database, ines: Actor, key: str) -> None:
    with pytest.raises(NotStorable):
        write_once(database, wish(ines, key), lambda _: {})


def test_old_answers_can_be_forgotten(database: Database, ines: Actor) -> None:
    key = new_key()
    write_once(database, wish(ines, key), lambda _: {})

    assert forget_requests(database, before="2000-01-01T00:00:00.000Z") == 0
    assert forget_requests(database, before="9999-01-01T00:00:00.000Z") > 0
    assert not write_once(database, wish(ines, key), lambda _: {}).repeated


def test_identities_are_different_opaque_and_in_the_order_of_time() -> None:
    # RFC 9562 section 5.7: 48 bits of milliseconds first, so that later ones sort behind earlier ones.
    made = [new_identity() for _ in range(2000)]

    assert len(set(made)) == len(made)
    assert all(IDENTITY_PATTERN.fullmatch(identity) for identity in made)
    times = [identity[:12] for identity in made]
    assert times == sorted(times)
