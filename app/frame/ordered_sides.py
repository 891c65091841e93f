"""The sides as ordered: widths at head and temple, angles, lengths, drop and let-back."""

from app.catalogue.catalogue import MEASUREMENTS
from app.catalogue.measurement import SIDES, Side
from app.fitting.entry import show_number
from app.frame.needed import Needed, derived
from app.frame.ordered_dimension import ON_THE_PAIR, READING_SOURCE, OrderedDimension
from app.frame.ordered_front import joint_width_of
from app.frame.ordered_geometry import let_back
from app.frame.ordered_line import adjusted, declared_line, ordered_line
from app.frame.ordered_worksheet import Worksheet, once
from app.frame.side_geometry import overall_side_length
from app.reference.bibliography import COMMON_PRACTICE

AS_MEASURED_ON_HEAD = ("drop_angle", "inward_drop_angle", "drop_length")
ON_EXISTING_PAIR = ("length_to_bend", "let_back_angle", "joint_height")


def side_dimensions(sheet: Worksheet) -> tuple[OrderedDimension, ...]:
    """The sides of a frame to be made, right before left in each dimension."""
    angles = (
        adjusted(sheet.face("side_angle", s), measurement="side_angle", group="sides", side=s) for s in SIDES
    )
    drops = (
        adjusted(sheet.face(key, side), measurement=key, group="sides", side=side)
        for key in AS_MEASURED_ON_HEAD
        for side in SIDES
    )
    return (
        head_width(sheet),
        temple_width(sheet),
        *angles,
        *(length_to_bend(sheet, side) for side in SIDES),
        *drops,
        *(overall_length(sheet, side) for side in SIDES),
        *(let_back_angle(sheet, side) for side in SIDES),
    )


def existing_side_dimensions(sheet: Worksheet) -> tuple[OrderedDimension, ...]:
    """The sides of an existing frame, as measured on it."""
    return tuple(_on_pair(sheet, key, side) for key in ON_EXISTING_PAIR for side in SIDES)


def head_width(sheet: Worksheet) -> OrderedDimension:
    """Head width of the frame: facial width less the grip, so that the sides hold gently. Common practice."""
    grip = sheet.adjustments.head_width_grip_mm
    return adjusted(
        sheet.face("head_width"),
        measurement="head_width",
        group="sides",
        adjustment=-grip,
        because=f"less {show_number(grip)} for grip",
        source=COMMON_PRACTICE,
        reference_line="Between the inner faces of the sides at the bends",
    )


def temple_width(sheet: Worksheet) -> OrderedDimension:
    """Temple width of the frame: facial width and a little ease, so that it does not press. Common practice."""
    ease = sheet.adjustments.temple_width_ease_mm
    return adjusted(
        sheet.face("temple_width"),
        measurement="temple_width",
        group="sides",
        adjustment=ease,
        because=f"and {show_number(ease)} ease",
        source=COMMON_PRACTICE,
        reference_line="Between the inner faces of the sides, 25 mm behind the back of the front",
    )


def length_to_bend(sheet: Worksheet, side: Side) -> OrderedDimension:
    """Length to bend: facial length to tangent less the way from the front to the joint.

    Source: ISO 8624 takes off 10 mm for a side without a joint; a setting of the practice.
    """
    joint = sheet.adjustments.front_to_joint_mm
    return adjusted(
        sheet.face("length_to_tangent", side),
        measurement="length_to_tangent",
        group="sides",
        dimension="length_to_bend",
        label=MEASUREMENTS["length_to_bend"].label,
        side=side,
        adjustment=-joint,
        because=f"less {show_number(joint)} from front to joint",
        source="ISO 8624: 10 mm from front to joint, as a setting",
        reference_line=MEASUREMENTS["length_to_bend"].reference_line,
    )


def overall_length(sheet: Worksheet, side: Side) -> OrderedDimension:
    """Overall length of a side: length to bend and drop length, the drop straightened (ISO 8624)."""
    needed = derived(
        "Overall length of side",
        lambda bend, drop: overall_side_length(length_to_bend_mm=bend, drop_length_mm=drop),
        ordered_length_to_bend(sheet, side),
        sheet.face("drop_length", side),
    )
    return ordered_line(
        needed,
        dimension="overall_length",
        label="Overall length of side",
        group="sides",
        unit="mm",
        side=side,
        basis="length to bend and drop length",
        source="ISO 8624: from the joint along the side, drop straightened",
        reference_line="From the joint along the side to its tip, drop straightened",
    )


def let_back_angle(sheet: Worksheet, side: Side) -> OrderedDimension:
    """Let-back of one side from ordered head width, width between the joints and ordered length to bend."""
    grip = sheet.adjustments.head_width_grip_mm
    needed = derived(
        "Angle of let-back",
        lambda head, joints, bend: let_back(
            head_width_mm=head - grip, joint_width_mm=joints, length_to_bend_mm=bend
        ),
        sheet.face("head_width"),
        joint_width_of(sheet),
        ordered_length_to_bend(sheet, side),
    )
    return ordered_line(
        needed,
        dimension="let_back",
        label="Angle of let-back",
        group="sides",
        unit="deg",
        side=side,
        basis="ordered head width, width between the joints and length to bend",
        source="plane geometry",
        reference_line="Between the open side and the back of the front",
    )


@once
def ordered_length_to_bend(sheet: Worksheet, side: Side) -> Needed:
    """Length to bend as ordered, mm; missing where what is left of the length to tangent is no length."""
    facial, joint = sheet.face("length_to_tangent", side), sheet.adjustments.front_to_joint_mm
    ordered = derived(facial.name, lambda length: length - joint, facial)
    if ordered.value is not None and ordered.value <= 0:
        return Needed(name=facial.name, value=None, count=0)
    return ordered


def _on_pair(sheet: Worksheet, key: str, side: Side) -> OrderedDimension:
    return declared_line(
        sheet.on_pair(key, side),
        measurement=key,
        group="sides",
        basis=ON_THE_PAIR,
        source=READING_SOURCE,
        side=side,
        dimension="let_back" if key == "let_back_angle" else None,
    )
