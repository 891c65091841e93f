"""One pair's order sheet put together, from the signed version or as a draft."""

from collections.abc import Sequence
from dataclasses import dataclass

from app.catalogue.choices import CHOICES
from app.catalogue.measurement import SIDES
from app.documents.answer_words import (
    EyeRow,
    Said,
    answer_words,
    eye_rows,
    history_said,
    pair_said,
    pair_value,
)
from app.documents.completeness import missing_for_sending
from app.documents.order_lenses import LensDocument, lens_lines, lenses_of
from app.documents.order_rows import Behind, OrderRow, RowGroup, differing_sides, row_groups
from app.documents.written import in_figures, turned_round
from app.fitting.fitting import Fitting
from app.fitting.pair import Pair
from app.fitting.prescription import Prescription
from app.frame.ordered import ordered_dimensions
from app.frame.ordered_dimension import OrderedDimension
from app.plausibility.answers import GivenAnswer, latest_answer, pausing_findings
from app.plausibility.judge import judge
from app.practice.settings import PracticeSettings
from app.records.person_details import PersonDetails
from app.records.signoff import SignedDocument
from app.records.stored_fitting import SignedVersion
from app.web.signed_orders import order_number
from app.web.signed_record import read_signed
from app.web.words import power

SHOWN_ELSEWHERE = (
    "kind",
    "use",
    "route",
    "order_type",
    "needed_by",
    "note_to_bench",
    "note_to_lab",
    "tolerance_note",
)
"""Choices with a place of their own on the sheet."""
FULL, FULLER = 1500, 2300
"""Characters of words above which the sheet is set in smaller print so that it stays on one page; measured."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Order:
    """Everything on one order sheet."""

    pair: Pair
    number: str
    reference: str
    initials: str
    signed: SignedVersion | None
    """None: a draft."""
    intact: bool
    groups: tuple[RowGroup, ...]
    choices: tuple[Said, ...]
    person: tuple[Said, ...]
    eyes: tuple[EyeRow, EyeRow]
    turned: tuple[tuple[str, str], ...]
    """Each eye with its cylinder turned to minus, where it was written in plus."""
    power_words: str
    """Where the powers are not those of the prescription as written: how they came about."""
    prescription: Prescription | None
    paused: bool
    fitting: Fitting
    lenses: tuple[str, ...] = ()
    """What the lenses come to, a line each."""

    def said(self, key: str) -> str:
        """One answer of the pair in words, empty where there is none."""
        given = pair_value(self.pair, key)
        return answer_words(CHOICES[key], given) if given else ""

    @property
    def draft(self) -> bool:
        """True where nothing is signed: it cannot be sent."""
        return self.signed is None

    @property
    def density(self) -> str:
        """How small the print must be: everything is printed, never cut off."""
        words = sum(len(one.label) + len(one.words) + 4 for one in (*self.choices, *self.person))
        words += sum(len(remark) for group in self.groups for row in group.rows for remark in row.remarks)
        words += sum(len(self.said(key)) for key in ("note_to_bench", "note_to_lab", "tolerance_note"))
        return "fuller" if words > FULLER else "full" if words > FULL else "plain"

    @property
    def missing(self) -> tuple[str, ...]:
        """What cannot be worked out, by name."""
        return tuple(
            dict.fromkeys(name for group in self.groups for row in group.rows for name in row.missing)
        )

    @property
    def lacking(self) -> tuple[str, ...]:
        """What must be there before the order can be sent, by name."""
        rows = (row for group in self.groups for row in group.rows)
        return missing_for_sending(self.pair, {row.dimension: row.missing for row in rows}, self.prescription)

    def row(self, dimension: str) -> OrderRow | None:
        """The row of a dimension."""
        rows = (row for group in self.groups for row in group.rows)
        return next((row for row in rows if row.dimension == dimension), None)


def make_order(
    *,
    fitting: Fitting,
    fitting_id: str,
    number: int,
    details: PersonDetails,
    settings: PracticeSettings,
    answers: Sequence[GivenAnswer],
    signed: SignedDocument | None,
    previous: Fitting | None = None,
) -> Order | None:
    """The order of one pair; None where the fitting has no such pair. Signed: exactly what was frozen."""
    lines: tuple[OrderedDimension, ...] | None = None
    lenses: LensDocument | None = None
    if signed is not None:
        record = read_signed(signed.document)
        fitting, lines = record.fitting, record.orders.get(number)
        lenses = record.lenses.get(number, {})
    pair = fitting.pair(number)
    if pair is None:
        return None
    judgement = judge(fitting, settings, previous=previous, answers=answers)
    found = differing_sides(judgement.findings)
    answered = differing_sides(one for one in judgement.findings if latest_answer(one, answers) is not None)
    behind = Behind(
        fitting=fitting,
        working=judgement.working,
        both_sides_found=found,
        both_sides_answered=answered,
    )
    written = fitting.prescription_for(pair)
    made = written.near if written is not None and pair.lens_form == "single_vision_near" else written
    return Order(
        pair=pair,
        number=order_number(fitting_id, number),
        reference=fitting.person.reference,
        initials=initials_of(details),
        signed=signed.version if signed else None,
        intact=signed.intact if signed else True,
        groups=row_groups(ordered_dimensions(fitting, pair, settings) if lines is None else lines, behind),
        choices=pair_said(pair, leave_out=SHOWN_ELSEWHERE, for_order=True),
        person=history_said(fitting, for_order=True),
        eyes=eye_rows(made),
        turned=_turned(made),
        power_words=power_words(pair, written),
        prescription=written,
        paused=bool(pausing_findings(judgement, answers)),
        fitting=fitting,
        lenses=lens_lines(lenses_of(fitting, pair, settings) if lenses is None else lenses),
    )


def power_words(pair: Pair, written: Prescription | None) -> str:
    """How the powers of a single-vision pair that is not for distance follow from the prescription, in words."""
    added = [(side, written.eye(side)) for side in SIDES] if written is not None else []
    eyes = [(side, eye) for side, eye in added if eye is not None and eye.add]
    if pair.lens_form == "single_vision_near" and eyes:
        sums = "; ".join(
            f"{side} {power(eye.sphere)} with add {power(eye.add)} makes {power(eye.near.sphere)}"
            for side, eye in eyes
        )
        return f"Near power to make: {sums}. The addition is in it; do not add it again."
    if pair.lens_form == "single_vision_intermediate" and eyes:
        return (
            "The power for in between is not worked out here. As written: distance power and near addition; "
            "make it to the power that the note to the lens maker names."
        )
    return ""


def initials_of(details: PersonDetails) -> str:
    """Initials, as far as a bench is told who it is for."""
    return "".join(f"{name[0]}." for name in (details.given_name, details.family_name) if name)


def _turned(written: Prescription | None) -> tuple[tuple[str, str], ...]:
    """Eyes written with a plus cylinder, in minus cylinder; the prescription itself stays as written."""
    if written is None:
        return ()
    eyes = (("R", written.right), ("L", written.left))
    return tuple(
        (side, in_figures(turned_round(eye)))
        for side, eye in eyes
        if eye is not None and (eye.cylinder or 0) > 0
    )
