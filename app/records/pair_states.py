"""The states of a pair, each with what reception may say about it. Common practice in dispensing, words ours."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class PairState:
    """`label` is for the practice, `may_say` the only thing that a caller hears. Never a clinical cause."""

    key: str
    label: str
    may_say: str
    before_order: bool = False
    """Can be noted while nothing is signed."""
    practitioner_only: bool = False
    practitioner_present: bool = False
    """Reception books it when a practitioner is in."""
    done: bool = False
    goes_on: bool = False
    """Takes the pair further by the signed version: not while that is open again, in doubt, or paused."""
    goes_out: bool = False
    """By it the order of the version signed last went to the maker."""


_NOT_READY = "It is being made; we will ring when it is here."
_NOT_ORDERED = "It is not ordered yet."
_ON_HOLD = "It is waiting for something on our side; the practitioner will ring you."

STATES: tuple[PairState, ...] = (
    PairState(key="measuring", label="Being measured", may_say=_NOT_ORDERED, before_order=True),
    PairState(key="choosing", label="Being chosen", may_say=_NOT_ORDERED, before_order=True),
    PairState(
        key="signed",
        label="Signed off, to order",
        may_say="Everything is taken down; it is about to be ordered.",
        before_order=True,
    ),
    PairState(
        key="agreed",
        label="Quote agreed, to order",
        may_say="Everything is agreed; it is about to be ordered.",
        goes_on=True,
    ),
    PairState(key="ordered", label="Ordered", may_say=_NOT_READY, goes_on=True, goes_out=True),
    PairState(key="being_made", label="Being made", may_say=_NOT_READY, goes_on=True),
    PairState(
        key="query",
        label="Question from the maker",
        may_say="We have a question with the maker and will ring you.",
    ),
    PairState(
        key="fit_up_booked",
        label="Fit-up booked",
        may_say="It needs a short fitting before the lenses go in; the appointment is booked.",
        practitioner_present=True,
        goes_on=True,
    ),
    PairState(
        key="glazing",
        label="Lenses being fitted",
        may_say="The lenses are being fitted; we will ring when it is here.",
        goes_on=True,
    ),
    PairState(
        key="received",
        label="Received, to be checked",
        may_say="It has come in and is being checked; we will ring you.",
    ),
    PairState(
        key="returned",
        label="Sent back to the maker",
        may_say="It is still being made; we will ring when it is here.",
    ),
    PairState(
        key="checked",
        label="Checked, ready: tell the patient",
        may_say="It is ready. Shall I book your fitting?",
        practitioner_present=True,
        goes_on=True,
    ),
    PairState(
        key="told",
        label="Patient told",
        may_say="It is ready. Shall I book your fitting?",
        practitioner_present=True,
        goes_on=True,
    ),
    PairState(key="collected", label="Collected", may_say="It was collected.", done=True, goes_on=True),
    PairState(
        key="after_care",
        label="After-care open",
        may_say="The practitioner is looking after it and will ring you.",
    ),
    PairState(key="closed", label="Closed", may_say="It was collected.", done=True),
    PairState(key="on_hold", label="On hold", may_say=_ON_HOLD, before_order=True),
    PairState(
        key="referred",
        label="Paused by the practitioner",
        may_say=_ON_HOLD,
        before_order=True,
        practitioner_only=True,
    ),
    PairState(
        key="cancelled",
        label="Cancelled",
        may_say="The order was cancelled; I can ask somebody to ring you.",
        before_order=True,
        done=True,
    ),
    PairState(
        key="remake",
        label="Being made again",
        may_say="It is being made; we will ring when it is here.",
        goes_on=True,
        goes_out=True,
    ),
)

WAITS = _ON_HOLD
"""What a caller hears of a pair whose order has been replaced: neutral, and no promise."""

STATE_OF: dict[str, PairState] = {state.key: state for state in STATES}
PAIRS = (1, 2)
