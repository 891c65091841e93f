"""What tests of the bench share: a signed fitting, and a maker to send it to."""

from app.records.actor import Actor
from app.records.database import Database
from app.records.dispatches import Sending, send_order
from app.records.identity import new_key
from app.records.makers import Maker, save_maker
from app.records.pairs import record_pair_event
from app.records.signoff import sign_off


def signed(database: Database, actor: Actor, fitting_id: str) -> str:
    """The fitting, signed."""
    sign_off(
        database,
        key=new_key(),
        actor=actor,
        fitting_id=fitting_id,
        name=actor.name,
        registration="D-12345",
        document={},
    )
    return fitting_id


def maker(database: Database, actor: Actor, kind: str = "frame_maker", name: str = "A Bench") -> str:
    """A maker in the address book."""
    wanted = Maker(kind=kind, name=name, wants=("sheet", "drawing"), way="courier", usual_days=28)
    return save_maker(database, key=new_key(), actor=actor, maker=wanted)


def sent(database: Database, actor: Actor, fitting_id: str, maker_id: str, *, pair: int = 1) -> str:
    """Version 1 of the pair's order, sent."""
    sending = Sending(
        fitting_id=fitting_id, pair=pair, version=1, maker_id=maker_id, way="courier", sent=("sheet",)
    )
    return send_order(database, key=new_key(), actor=actor, sending=sending)


def came_in(database: Database, actor: Actor, fitting_id: str, *, pair: int = 1) -> None:
    """The pair arrived."""
    record_pair_event(
        database, key=new_key(), actor=actor, fitting_id=fitting_id, pair=pair, state="received"
    )
