"""What the drawing of the sides says: ordered values of a frame to be made, else the pair's and the face's own."""

from dataclasses import dataclass

from app.catalogue.measurement import Side
from app.fitting.entry import show_number
from app.frame.specification import PairSpecification


@dataclass(frozen=True, slots=True, kw_only=True)
class SideValues:
    """One side: lengths mm, angles degrees; None where not given. `facial` where the drop is the head's own."""

    side: Side
    length_to_bend: float
    drop_length: float | None
    drop_angle: float | None
    inward_angle: float | None
    side_angle: float | None
    let_back: float | None
    overall: float | None
    front_to_joint: float
    facial: bool


def side_values(specification: PairSpecification, side: Side) -> SideValues | None:
    """The values of one side; None without its length to bend."""
    sheet = specification.sheet

    def value(name: str) -> float | None:
        line = specification.dimension(name, side)
        return line.ordered if line is not None else sheet.face(name, side).value

    length = specification.dimension("length_to_bend", side)
    if length is None or length.ordered is None or length.ordered <= 0:
        return None
    drop = value("drop_length")
    overall = specification.dimension("overall_length", side)
    computed = None if drop is None else length.ordered + drop
    return SideValues(
        side=side,
        length_to_bend=length.ordered,
        drop_length=drop,
        drop_angle=value("drop_angle"),
        inward_angle=value("inward_drop_angle"),
        side_angle=value("side_angle"),
        let_back=_let_back(specification, side),
        overall=computed if overall is None else overall.ordered,
        front_to_joint=sheet.adjustments.front_to_joint_mm,
        facial=not sheet.handmade,
    )


def _let_back(specification: PairSpecification, side: Side) -> float | None:
    line = specification.dimension("let_back", side)
    return None if line is None else line.ordered


def in_degrees(value: float | None, name: str) -> str:
    """“drop 45°”, or that it is not given."""
    return f"{name} not given" if value is None else f"{name} {show_number(round(value, 1))}°"
