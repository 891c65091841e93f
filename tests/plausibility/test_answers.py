"""Which findings wait for an answer, which answers hold, and what stands in the way of sign-off.

The handling by severity is the app's own rule; the two choices that pause dispensing follow common practice:
the registered practitioner decides, and local referral guidance comes first.
"""

from dataclasses import dataclass

import pytest

from app.fitting.working import WorkingValue
from app.plausibility.answers import (
    blocks_sign_off,
    latest_answer,
    not_an_answer,
    open_findings,
    pausing_findings,
)
from app.plausibility.finding import Finding, Severity, Subject
from app.plausibility.judge import Judgement

HEAD = Subject("head_width")
TEMPLE = Subject("temple_width")


@dataclass(frozen=True)
class Given:
    """An answer as the records keep it."""

    check: str
    fingerprint: str
    kind: str
    words: str | None


def finding(
    severity: Severity,
    *,
    check: str = "limits",
    on: str = "head_width=190",
    about: tuple[Subject, ...] = (HEAD,),
    suspect: Subject | None = None,
    held_back_by: str | None = None,
) -> Finding:
    return Finding(
        check=check,
        severity=severity,
        about=about,
        message=f"{check} of {on}",
        suggest="Measure again.",
        source="for a test",
        suspect=suspect,
        fingerprint=on,
        held_back_by=held_back_by,
    )


def readings(measurement: str, *, count: int, agree: bool = True) -> WorkingValue:
    return WorkingValue(
        measurement=measurement,
        side=None,
        pair=None,
        method=None,
        condition=None,
        value=190.0,
        spread=0.0 if agree else 9.0,
        count=count,
        state="single" if count == 1 else "agree" if agree else "third_needed",
        unit="mm",
    )


def judged(
    *findings: Finding, working: tuple[WorkingValue, ...] = (), held: tuple[Finding, ...] = ()
) -> Judgement:
    return Judgement(working=working, findings=findings, held_back=held)


def right(of: Finding, words: str = "measured twice", on: str | None = None) -> Given:
    return Given(of.check, on or of.fingerprint, "right_because", words)


def test_a_note_asks_for_nothing() -> None:
    assert open_findings(judged(finding(Severity.NOTE)), ()) == ()


def test_an_ask_waits_until_it_is_right_because() -> None:
    asked = finding(Severity.ASK)
    assert open_findings(judged(asked), ()) == (asked,)
    assert open_findings(judged(asked), (right(asked),)) == ()


@pytest.mark.parametrize("words", ["", "   ", None])
def test_right_because_nothing_is_no_answer(words: str | None) -> None:
    asked = finding(Severity.ASK)
    refusal = not_an_answer(asked, kind="right_because", words=words, working=())
    assert refusal is not None
    assert "Example" in refusal
    assert open_findings(judged(asked), (right(asked, words or ""),)) == (asked,)


def test_an_answer_holds_only_for_the_values_it_was_given_for() -> None:
    before, now = finding(Severity.ASK, on="head_width=190"), finding(Severity.ASK, on="head_width=191")
    assert open_findings(judged(now), (right(before),)) == (now,)


def test_a_stop_is_kept_only_after_a_second_entry_with_a_reason() -> None:
    stopped = finding(Severity.STOP, suspect=HEAD)
    once, twice = readings("head_width", count=1), readings("head_width", count=2)
    answer = (right(stopped),)
    assert open_findings(judged(stopped, working=(once,)), answer) == (stopped,)
    assert open_findings(judged(stopped, working=(twice,)), ()) == (stopped,)
    assert open_findings(judged(stopped, working=(twice,)), answer) == ()


def test_a_second_entry_that_differs_does_not_keep_a_stop() -> None:
    stopped = finding(Severity.STOP, suspect=HEAD)
    apart = readings("head_width", count=2, agree=False)
    refusal = not_an_answer(stopped, kind="right_because", words="broad head", working=(apart,))
    assert refusal is not None
    assert "second time" in refusal


def test_a_stop_between_two_readings_wants_both_entered_again_where_neither_is_the_suspect() -> None:
    stopped = finding(Severity.STOP, about=(HEAD, TEMPLE))
    head, temple = readings("head_width", count=2), readings("temple_width", count=1)
    assert open_findings(judged(stopped, working=(head, temple)), (right(stopped),)) == (stopped,)


def test_a_referral_is_answered_by_a_decision_not_by_right_because() -> None:
    seen = finding(Severity.REFER)
    assert open_findings(judged(seen), (right(seen),)) == (seen,)
    decided = Given(seen.check, seen.fingerprint, "known_investigated", "since childhood, eye clinic")
    assert open_findings(judged(seen), (decided,)) == ()


@pytest.mark.parametrize(
    ("kind", "paused"), [("known_investigated", False), ("referred", True), ("emergency", True)]
)
def test_dispensing_pauses_for_a_referral_until_it_is_known_and_looked_at(kind: str, paused: bool) -> None:
    seen = finding(Severity.REFER)
    answer = Given(seen.check, seen.fingerprint, kind, "10:40, on-call eye service")
    assert pausing_findings(judged(seen), ()) == (seen,), "a referral that nobody answered pauses"
    assert bool(pausing_findings(judged(seen), (answer,))) is paused
    assert open_findings(judged(seen), (answer,)) == (), "the pause itself is an answer: saving goes on"


def test_the_last_decision_counts() -> None:
    seen = finding(Severity.REFER)
    sent = Given(seen.check, seen.fingerprint, "referred", "eye clinic")
    back = Given(seen.check, seen.fingerprint, "known_investigated", "seen there, letter on file")
    assert latest_answer(seen, (sent, back)) is back
    assert pausing_findings(judged(seen), (sent, back)) == ()
    assert pausing_findings(judged(seen), (back, sent)) == (seen,)


def test_the_worst_comes_first_and_the_root_cause_before_its_equals() -> None:
    ask, note, refer = finding(Severity.ASK), finding(Severity.NOTE), finding(Severity.REFER, check="pupils")
    alone = finding(Severity.STOP, check="alone")
    root = finding(Severity.STOP, check="root")
    held = (finding(Severity.ASK, check="follows", held_back_by="root"),)
    waiting = open_findings(judged(note, ask, alone, root, refer, held=held), ())
    assert [one.check for one in waiting] == ["pupils", "root", "alone", "limits"]


def test_an_unfinished_record_is_no_finding_to_answer_but_blocks_sign_off() -> None:
    unfinished = finding(Severity.STOP, check="missing-without-reason", on="", about=(HEAD, TEMPLE))
    assert open_findings(judged(unfinished), (right(unfinished),)) == ()
    listed = [(HEAD, "Head width"), (TEMPLE, "Temple width")]
    words = [one.words for one in blocks_sign_off(judged(unfinished), (), missing=listed)]
    assert words == ["Head width: no reading and no reason", "Temple width: no reading and no reason"]


def test_what_a_page_does_not_list_as_missing_still_blocks() -> None:
    unfinished = finding(Severity.STOP, check="missing-without-reason", on="", about=(HEAD, TEMPLE))
    blocked = blocks_sign_off(judged(unfinished), (), missing=[(HEAD, "Head width")])
    assert [one.about for one in blocked] == [HEAD, HEAD]
    assert blocked[1].finding is unfinished


def test_a_named_registered_practitioner_cannot_be_argued_away() -> None:
    unnamed = finding(Severity.STOP, check="registrant-named", on="", about=(Subject("taken.supervisor"),))
    refusal = not_an_answer(unnamed, kind="right_because", words="we always do it so", working=())
    assert refusal is not None
    assert blocks_sign_off(judged(unnamed), (right(unnamed),))[0].finding is unnamed


def test_nothing_stands_in_the_way_of_a_clean_fitting() -> None:
    assert blocks_sign_off(judged(finding(Severity.NOTE)), ()) == ()
