"""The records of the bench: address book, sendings, questions, remakes, and what is overdue."""

from dataclasses import replace

import pytest

from app.records.actor import Actor
from app.records.bench_list import overdue, pairs_under_way
from app.records.database import Database
from app.records.dispatches import Sending, acknowledge, dispatches_of, maker_of, send_order
from app.records.errors import Conflict, NotAllowed, NotFound, NotStorable
from app.records.identity import new_key
from app.records.makers import Maker, list_makers, load_maker, save_maker
from app.records.pairs import pair_events, pair_states, record_pair_event
from app.records.queries import Question, ask, queries_of, reply
from app.records.remakes import CAUSES, remake_pair, remakes_of
from app.records.signoff import sign_off
from tests.records.bench import came_in, maker, sent, signed


def test_an_entry_is_changed_by_version_and_nothing_is_lost(
    database: Database, ines: Actor, mara: Actor
) -> None:
    first = maker(database, ines)
    entry = load_maker(database, first)
    changed = replace(entry.maker, name="A Bench & Son", active=False)
    save_maker(database, key=new_key(), actor=mara, maker=changed, maker_id=first, base_version=1)
    assert load_maker(database, first).maker == changed
    assert list_makers(database) == ()
    assert len(list_makers(database, also_inactive=True)) == 1
    with pytest.raises(Conflict):
        save_maker(database, key=new_key(), actor=ines, maker=changed, maker_id=first, base_version=1)
    with pytest.raises(NotFound):
        save_maker(database, key=new_key(), actor=ines, maker=changed, maker_id="nobody", base_version=1)


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        ({"kind": "tailor"}, "Choose from the lists"),
        ({"name": " "}, "name"),
        ({"wants": ("gold",)}, "Choose from the lists"),
        ({"usual_days": 0}, "1 to 365"),
        ({"note": "x" * 5000}, "too long"),
    ],
)
def test_an_entry_that_cannot_be_is_refused(
    database: Database, ines: Actor, wrong: dict[str, object], words: str
) -> None:
    whole = Maker(kind="lens_lab", name="A Lab")
    with pytest.raises(NotStorable, match=words):
        save_maker(database, key=new_key(), actor=ines, maker=replace(whole, **wrong))  # type: ignore[arg-type]
    assert list_makers(database) == ()


def test_reception_does_not_keep_the_address_book(database: Database, wren: Actor) -> None:
    with pytest.raises(NotAllowed):
        maker(database, wren)


def test_the_first_sending_orders_the_pair_and_a_confirmation_brings_its_date(
    database: Database, ines: Actor, theo: Actor, fitting_id: str
) -> None:
    signed(database, ines, fitting_id)
    bench, lab = maker(database, ines), maker(database, ines, "lens_lab", "A Lab")
    first = sent(database, theo, fitting_id, bench)
    assert pair_states(database, fitting_id)[1].state.key == "ordered"
    sent(database, theo, fitting_id, lab)
    acknowledge(
        database, key=new_key(), actor=theo, dispatch_id=first, promised="2027-01-14", words="by mail"
    )
    state = pair_states(database, fitting_id)[1]
    assert (state.state.key, state.promised) == ("being_made", "2027-01-14")
    both = dispatches_of(database, fitting_id)
    assert [(one.name, one.version, one.way, one.sent) for one in both] == [
        ("A Bench", 1, "courier", ("sheet",)),
        ("A Lab", 1, "courier", ("sheet",)),
    ]
    assert [(one.promised, one.words) for one in both[0].confirmed] == [("2027-01-14", "by mail")]
    assert maker_of(both, pair=1, kind="lens_lab") == lab
    assert maker_of(both, pair=2, kind="lens_lab") is None
    assert pair_states(database, fitting_id)[2].state.key == "signed"


def test_a_sending_repeated_after_a_lost_answer_is_kept_once(
    database: Database, ines: Actor, fitting_id: str
) -> None:
    signed(database, ines, fitting_id)
    key, bench = new_key(), maker(database, ines)
    sending = Sending(fitting_id=fitting_id, pair=1, version=1, maker_id=bench, way="post", sent=("sheet",))
    first = send_order(database, key=key, actor=ines, sending=sending)
    assert send_order(database, key=key, actor=ines, sending=sending) == first
    assert len(dispatches_of(database, fitting_id)) == 1
    with pytest.raises(NotStorable, match="at least one thing"):
        send_order(database, key=new_key(), actor=ines, sending=replace(sending, sent=()))
    with pytest.raises(NotFound):
        send_order(database, key=new_key(), actor=ines, sending=replace(sending, maker_id="nobody"))


def test_an_order_is_not_sent_before_it_is_signed(database: Database, ines: Actor, fitting_id: str) -> None:
    with pytest.raises(NotAllowed):
        came_in(database, ines, fitting_id)
    assert dispatches_of(database, fitting_id) == ()


def question(fitting_id: str) -> Question:
    """What benches ask most."""
    return Question(
        fitting_id=fitting_id,
        pair=1,
        version=1,
        dimension="bridge_projection",
        value="1.5 mm",
        words="Inset or outset?",
    )


def test_a_question_stops_the_clock_and_an_answer_starts_it(
    database: Database, ines: Actor, theo: Actor, fitting_id: str
) -> None:
    signed(database, ines, fitting_id)
    sent(database, theo, fitting_id, maker(database, ines))
    first = ask(database, key=new_key(), actor=theo, question=question(fitting_id))
    second = ask(database, key=new_key(), actor=theo, question=question(fitting_id))
    assert pair_states(database, fitting_id)[1].state.key == "query"
    with pytest.raises(NotAllowed):
        reply(database, key=new_key(), actor=theo, query_id=first, kind="answer", words="outset")
    reply(database, key=new_key(), actor=ines, query_id=first, kind="answer", words="Outset.")
    assert pair_states(database, fitting_id)[1].state.key == "query", "the other question waits still"
    reply(database, key=new_key(), actor=theo, query_id=second, kind="question_again", words="And how much?")
    reply(database, key=new_key(), actor=ines, query_id=second, kind="closed", words="Same as the other.")
    assert pair_states(database, fitting_id)[1].state.key == "being_made"
    threads = queries_of(database, fitting_id)
    assert [one.open for one in threads] == [False, False]
    assert [entry.kind for entry in threads[1].entries] == ["question", "question_again", "closed"]
    assert (threads[0].value, threads[0].version, threads[0].entries[0].by) == ("1.5 mm", 1, theo.name)


def test_an_answer_with_a_change_opens_the_next_version_for_that_reason(
    database: Database, ines: Actor, fitting_id: str
) -> None:
    signed(database, ines, fitting_id)
    asked = ask(database, key=new_key(), actor=ines, question=question(fitting_id))
    reply(database, key=new_key(), actor=ines, query_id=asked, kind="change", words="Inset 1.5, as drawn.")
    assert queries_of(database, fitting_id)[0].entries[-1].version == 2
    with pytest.raises(NotAllowed, match="open already"):
        reply(database, key=new_key(), actor=ines, query_id=asked, kind="change", words="again")
    number = sign_off(
        database,
        key=new_key(),
        actor=ines,
        fitting_id=fitting_id,
        name=ines.name,
        registration="D-12345",
        document={},
    )
    assert number == 2


@pytest.mark.parametrize("words", ["", "   "])
def test_an_empty_question_or_answer_is_refused(
    database: Database, ines: Actor, fitting_id: str, words: str
) -> None:
    signed(database, ines, fitting_id)
    with pytest.raises(NotStorable):
        ask(database, key=new_key(), actor=ines, question=replace(question(fitting_id), words=words))
    asked = ask(database, key=new_key(), actor=ines, question=question(fitting_id))
    with pytest.raises(NotStorable):
        reply(database, key=new_key(), actor=ines, query_id=asked, kind="answer", words=words)
    with pytest.raises(NotFound):
        reply(database, key=new_key(), actor=ines, query_id="none", kind="answer", words="x")


def test_a_remake_is_linked_to_its_cause(
    database: Database, ines: Actor, theo: Actor, fitting_id: str
) -> None:
    signed(database, ines, fitting_id)
    remake = {"fitting_id": fitting_id, "pair": 1, "version": 1}
    with pytest.raises(NotAllowed):
        remake_pair(
            database,
            key=new_key(),
            actor=ines,
            cause="crest_height",
            words="",
            **remake,  # type: ignore[arg-type]
        )
    assert remakes_of(database, fitting_id) == (), "nothing is kept of a change that cannot be"
    record_pair_event(database, key=new_key(), actor=ines, fitting_id=fitting_id, pair=1, state="collected")
    for cause, words, refused in (("nothing", "", "list"), ("other", " ", "in words")):
        with pytest.raises(NotStorable, match=refused):
            remake_pair(
                database,
                key=new_key(),
                actor=ines,
                cause=cause,
                words=words,
                **remake,  # type: ignore[arg-type]
            )
    with pytest.raises(NotAllowed):
        remake_pair(
            database,
            key=new_key(),
            actor=theo,
            cause="centration",
            words="",
            **remake,  # type: ignore[arg-type]
        )
    remake_pair(
        database,
        key=new_key(),
        actor=ines,
        cause="centration",
        words="PDs by rule",
        **remake,  # type: ignore[arg-type]
    )
    found = remakes_of(database, fitting_id)
    assert [(one.cause, one.words, one.version) for one in found] == [("centration", "PDs by rule", 1)]
    assert pair_events(database, fitting_id)[-1].words.startswith(CAUSES["centration"])
    assert pair_states(database, fitting_id)[1].state.key == "remake"


def test_a_pair_is_overdue_from_the_day_after_its_promise_until_it_is_here(
    database: Database, ines: Actor, fitting_id: str
) -> None:
    signed(database, ines, fitting_id)
    first = sent(database, ines, fitting_id, maker(database, ines))
    acknowledge(database, key=new_key(), actor=ines, dispatch_id=first, promised="2027-01-14")
    pairs = pairs_under_way(database)
    assert [(one.pair, one.state.key, one.promised) for one in pairs] == [(1, "being_made", "2027-01-14")]
    assert overdue(pairs, day="2027-01-14") == ()
    assert overdue(pairs, day="2027-01-15") == pairs
    came_in(database, ines, fitting_id)
    assert overdue(pairs_under_way(database), day="2027-01-15") == ()
