"""What was adjusted on a finished pair, in words."""

from app.records.handovers import Handover

ADJUSTABLE: tuple[tuple[str, str, str], ...] = (
    ("length_to_bend", "Length to bend", "mm"),
    ("head_width", "Head width", "mm"),
    ("temple_width", "Temple width", "mm"),
    ("side_angle", "Angle of side", "deg"),
    ("let_back", "Angle of let-back", "deg"),
    ("drop_angle", "Drop, downwards", "deg"),
    ("inward_drop_angle", "Drop, inwards", "deg"),
    ("face_form_angle", "Face-form angle", "deg"),
    ("pad_separation", "Pads apart", "mm"),
)
"""What can be adjusted on a finished pair; common practice."""


def adjusted_words(handover: Handover) -> tuple[str, ...]:
    """What was adjusted, in words."""
    labels = {key: (label, unit) for key, label, unit in ADJUSTABLE}
    said = []
    for one in handover.adjusted:
        label, unit = labels.get(one.item, (one.item, ""))
        sign = "+" if one.amount > 0 else "−"
        shown = f"{sign}{abs(one.amount):g}{'°' if unit == 'deg' else ' mm'}"
        said.append(f"{label}{f' {one.side}' if one.side else ''} {shown}")
    return tuple(said)
