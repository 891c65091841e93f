"""What the answer to a referral must say: common practice, deferring to local referral guidance."""

import pytest

from app.plausibility.referral import Referral


@pytest.mark.parametrize(
    ("decided", "asks_for"),
    [
        (Referral(kind=""), "Choose one"),
        (Referral(kind="known_investigated"), "who looked at it"),
        (Referral(kind="referred", destination="eye clinic"), "advised"),
        (Referral(kind="emergency", destination="emergency department", advice="go now"), "when"),
        (Referral(kind="emergency", time="  ", destination="emergency department", advice="go now"), "when"),
    ],
)
def test_a_decision_that_leaves_something_unsaid_is_asked_for_it(decided: Referral, asks_for: str) -> None:
    assert asks_for in (decided.missing() or "")


def test_a_known_finding_needs_only_who_looked_at_it() -> None:
    assert Referral(kind="known_investigated", destination="eye clinic, 2019").missing() is None


def test_an_emergency_keeps_time_destination_and_advice() -> None:
    decided = Referral(kind="emergency", time="10:40", destination="emergency department", advice="go now")
    assert decided.missing() is None
    assert decided.words() == "time: 10:40; to or by: emergency department; advice: go now"
