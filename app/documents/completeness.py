"""What an order lacks before it can be sent: without these a bench or a lab could only ask back."""

from collections.abc import Mapping

from app.fitting.pair import Pair
from app.fitting.prescription import Prescription

FRONT = ("lens_width", "lens_height", "distance_between_lenses")
BRIDGE = (
    *("bridge_width_10", "bridge_width_15", "frontal_angle", "apical_radius"),
    *("bridge_projection", "crest_height"),
)
SIDES = ("head_width", "temple_width", "side_angle", "length_to_bend", "drop_angle", "drop_length")
STRAIGHT_SIDES = ("straight", "strap")
"""Side styles that have no drop behind the ear."""
HEIGHT_OF_FORM = {
    "bifocal": "segment_height",
    "trifocal": "segment_height",
    "progressive": "fitting_height",
    "degressive": "fitting_height",
}
NEAR_FORM = "single_vision_near"


def missing_for_sending(
    pair: Pair, missing: Mapping[str, tuple[str, ...]], prescription: Prescription | None
) -> tuple[str, ...]:
    """The names of what must be there before the order of a pair can be sent. `missing` is by dimension.

    A frame that comes back for a fit-up is made before its lenses: their heights may wait, and so may the
    prescription. What a frame sheet must hold: common practice in handmade frame making.
    """
    wanted = list(FRONT)
    if pair.kind == "handmade":
        wanted += [*BRIDGE, *SIDES]
        if pair.choices.get("side_style") in STRAIGHT_SIDES:
            wanted = [name for name in wanted if not name.startswith("drop")]
    lenses_too = pair.kind != "handmade" or pair.route != "fit_up"
    if lenses_too:
        wanted.append("near_centration" if pair.lens_form == NEAR_FORM else "centration")
        wanted.append(HEIGHT_OF_FORM.get(pair.lens_form or "", ""))
    names = [name for dimension in wanted for name in missing.get(dimension, ())]
    if lenses_too and prescription is None:
        names.append("Prescription")
    if lenses_too and pair.lens_form is None:
        names.append("Lens form")
    return tuple(dict.fromkeys(names))
