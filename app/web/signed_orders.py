"""The signed orders of a fitting as the exchange files and the receiving of pairs take them."""

from app.documents.signed_order import SignedOrder, SignOff
from app.records.database import Database
from app.records.errors import NotAllowed, NotFound
from app.records.signoff import SignedDocument, load_signed
from app.web.signed_record import read_signed

NOT_SIGNED = "Nothing is signed yet: there is no order to work from."
BROKEN = "The signed version does not match its seal. Do not work from it; tell the manager."


def order_number(fitting_id: str, pair: int) -> str:
    """The number of a pair's order: it says nothing of the person."""
    return f"{fitting_id[-8:].upper()}-{pair}"


def signed_orders(database: Database, fitting_id: str) -> tuple[SignedOrder, ...]:
    """The orders of both pairs as signed last. NotAllowed, in words, where nothing is signed or the seal is
    broken.
    """
    try:
        signed = load_signed(database, fitting_id)
    except NotFound:
        raise NotAllowed(NOT_SIGNED) from None
    if not signed.intact:
        raise NotAllowed(BROKEN)
    record = read_signed(signed.document)
    return tuple(
        SignedOrder(
            number=order_number(fitting_id, pair.pair),
            fitting=record.fitting,
            pair=pair,
            lines=record.orders.get(pair.pair, ()),
            signed=sign_off_of(signed),
            lenses=record.lenses.get(pair.pair, {}),
        )
        for pair in record.fitting.pairs
    )


def signed_order(database: Database, fitting_id: str, pair: int) -> SignedOrder:
    """One pair's order as signed last; NotFound where the fitting has no such pair."""
    found = next((one for one in signed_orders(database, fitting_id) if one.pair.pair == pair), None)
    if found is None:
        raise NotFound("pair")
    return found


def sign_off_of(signed: SignedDocument) -> SignOff:
    """Who signed which version when."""
    version = signed.version
    return SignOff(
        version=version.number, at=version.at, name=version.name, registration=version.registration
    )
