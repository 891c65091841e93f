"""Readings that disagree, where something has to be seen: the furthest apart are compared, never their mean."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import product

from app.fitting.working import Group, standing_values
from app.plausibility.check import Check, Seen
from app.plausibility.could_not_judge import NOT_WORKED_OUT
from app.plausibility.facts import Facts
from app.plausibility.finding import Severity, Subject
from app.plausibility.value import Value

LOOKED_AT_TOGETHER = (("pupil_horizontal", "lid_aperture"), ("iris_diameter",), ("lash_projection",))
"""Measurements of which a difference between the eyes has to be seen, those together that one check compares."""
Key = tuple[str, frozenset[Subject]]
FURTHEST = " Readings of it do not agree yet; those furthest apart are compared."


def worst_referrals(facts: Facts, checks: tuple[Check, ...]) -> Iterator[tuple[Check, Seen]]:
    """What must be seen if any combination of the standing readings is right, each thing once, at its worst.

    A mean of 3.5 and 7 mm hides what either reading would show, so each reading that disagrees with its repeats
    is tried in turn, lowest and highest: a difference is greatest between those. Common practice: until readings
    are settled, the graver one is taken for true where a referral hangs on it.
    """
    certain = {
        key for key, _, seen in _referrals(facts, checks) if all(leaf.settled for leaf in _leaves(seen))
    }
    worst: dict[Key, tuple[float, Check, Seen]] = {}
    for possible in _possible(facts):
        for key, check, seen in _referrals(possible, checks):
            numbers = [leaf.number for leaf in _leaves(seen)]
            apart = max(numbers, default=0.0) - min(numbers, default=0.0)
            if key not in certain and (key not in worst or apart > worst[key][0]):
                worst[key] = (apart, check, seen)
    for _, check, seen in worst.values():
        yield check, replace(seen, message=seen.message + FURTHEST)


def _found(check: Check, facts: Facts) -> tuple[Seen, ...]:
    """What a check sees; nothing where its formula has no answer for these numbers, which is said elsewhere."""
    try:
        return tuple(check.find(facts))
    except NOT_WORKED_OUT:
        return ()


def _referrals(facts: Facts, checks: tuple[Check, ...]) -> Iterator[tuple[Key, Check, Seen]]:
    for check in checks:
        for seen in _found(check, facts):
            if seen.severity is Severity.REFER:
                about = frozenset(leaf.subject for value in seen.on for leaf in value.leaves)
                yield (check.name, about), check, seen


def _leaves(seen: Seen) -> list[Value]:
    return [leaf for value in seen.on for leaf in value.leaves if isinstance(leaf, Value)]


def _possible(facts: Facts) -> Iterator[Facts]:
    """The facts with the unsettled values that are looked at together at their lowest or highest, in every way."""
    standing = standing_values(facts.fitting)
    for together in LOOKED_AT_TOGETHER:
        doubted = [one for one in facts.working if not one.settled and one.measurement in together]
        if not doubted:
            continue
        ends = [(min(standing[one.group]), max(standing[one.group])) for one in doubted]
        for chosen in product(*ends):
            tried = {one.group: value for one, value in zip(doubted, chosen, strict=True)}
            yield _with(facts, tried)


def _with(facts: Facts, tried: dict[Group, float]) -> Facts:
    return Facts(
        facts.fitting,
        facts.settings,
        tuple(replace(one, value=tried[one.group]) if one.group in tried else one for one in facts.working),
        facts.today,
        facts.previous,
        facts.confirmed,
    )
