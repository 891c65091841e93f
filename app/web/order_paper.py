"""One pair's order as the papers take it: from the newest signed version as it was frozen, or as a draft."""

from dataclasses import replace

from app.documents.order_lenses import lens_lines
from app.documents.order_paper import OrderHead, OrderPaper
from app.documents.traced_outline import traced_outlines
from app.fitting.fitting import Fitting
from app.frame.specification import pair_specification
from app.plausibility.judge import judge
from app.practice.settings import PracticeSettings
from app.records.database import Database
from app.records.errors import NotAllowed
from app.records.signoff import SignedDocument, load_signed
from app.web.chair import Chair
from app.web.order_sheet import initials_of
from app.web.signed_orders import order_number
from app.web.signed_record import read_signed
from app.web.words import moment

BROKEN = "The signed version does not match its seal. Do not work from it; tell the manager."


def order_paper(database: Database, chair: Chair, pair: int, *, draft: bool) -> OrderPaper | None:
    """The order of one pair; None where the fitting has no such pair.

    A signed version is drawn by the adjustments that were frozen with it, whatever the practice has set since.
    """
    stored = chair.stored
    signed = load_signed(database, stored.fitting_id) if stored.signed_versions and not draft else None
    if signed is None:
        return _paper(chair, pair, chair.fitting, chair.settings)
    if not signed.intact:
        raise NotAllowed(BROKEN)
    kept = read_signed(signed.document)
    settings = chair.settings
    if kept.adjustments is not None:
        settings = replace(settings, adjustments=kept.adjustments)
    paper = _paper(chair, pair, kept.fitting, settings, signed)
    if paper is None:
        return None
    return replace(paper, lines=kept.orders.get(pair), lenses=lens_lines(kept.lenses.get(pair, {})))


def _paper(
    chair: Chair,
    number: int,
    fitting: Fitting,
    settings: PracticeSettings,
    signed: SignedDocument | None = None,
) -> OrderPaper | None:
    pair = fitting.pair(number)
    if pair is None:
        return None
    judgement = judge(fitting, settings, previous=chair.previous)
    traced = traced_outlines(fitting).get(number)
    made = pair_specification(fitting, pair, settings, working=judgement.working, traced_mm=traced)
    return OrderPaper(
        head=_head(chair, number, fitting, signed),
        fitting=fitting,
        made=made,
        judgement=judgement,
        answers=chair.answers,
    )


def _head(chair: Chair, number: int, fitting: Fitting, signed: SignedDocument | None) -> OrderHead:
    head = OrderHead(
        number=order_number(chair.stored.fitting_id, number),
        reference=fitting.person.reference,
        initials=initials_of(chair.person.details),
        practice=", ".join(part for part in (chair.settings.name, chair.settings.telephone) if part),
    )
    if signed is None:
        return head
    version = signed.version
    replaced = f" (replaces version {version.number - 1})" if version.number > 1 else ""
    return replace(
        head,
        version=f"version {version.number}{replaced}",
        signed=f"{version.name}, registration {version.registration}, {moment(version.at)}",
    )
