"""What is written under the front: where the outline comes from, what is only drawn so, and what will not fit."""

from collections.abc import Iterator

from app.catalogue.choices import CHOICES
from app.catalogue.measurement import SIDE_WORDS, SIDES
from app.documents.front_outline import FrontOutline
from app.fitting.entry import show_number
from app.frame.specification import PairSpecification

DIFFERS_MM = 0.05
"""A tracing whose box differs by more from the sizes that were chosen is said to differ. Ours: rounding."""


def notes_on_front(specification: PairSpecification, outline: FrontOutline | None) -> tuple[str, ...]:
    """One sentence a line, in the order in which a bench needs them."""
    return (*_warnings(specification), *_bridge(specification, outline), *_lens(specification))


def _bridge(specification: PairSpecification, outline: FrontOutline | None) -> Iterator[str]:
    pair = specification.pair
    if outline is None:
        yield "The patient's own frame: lenses only, its rims and bridge stay as they are."
        return
    style = (
        CHOICES["bridge_style"].words(pair.bridge_style)
        if pair.bridge_style
        else "not chosen, drawn as regular"
    )
    projection = specification.dimension("bridge_projection")
    words = f", {projection.words}" if projection is not None and projection.words else ""
    cut = "The rims stay off the nose; pads bear" if outline.pads else "Cut to the nose as it is"
    yield f"Bridge: {style}{words}. {cut} at the back of the front."
    rim = f"rim {show_number(outline.rim_mm)} wide" + (
        "" if outline.rim_chosen else " (common practice, not ordered)"
    )
    yield f"Outside: {rim}; depth of bridge and lugs are a sketch."
    if outline.pads:
        place = pair.choices.get("pad_centres")
        yield (
            f"Pads: {place}."
            if place
            else "Pads: their place is not given; drawn half-way between the two levels."
        )


def _lens(specification: PairSpecification) -> Iterator[str]:
    known = specification.outline.known_by
    exact = "" if specification.outline.exact else "; a tracing would be exact"
    yield f"Lens outline at the bottom of the groove, from {_article(known)}{exact}."
    reference = specification.pair.tracing
    if reference and not specification.outline.exact:
        yield f"Tracing on paper: {reference}"
    wire = specification.pair.choices.get("wire_trace")
    if wire:
        yield f"Wire trace: {wire}"


def _article(known_by: str) -> str:
    return {"tracing": "the tracing", "shape by name": "the shape by name"}.get(known_by, f"the {known_by}")


def _warnings(specification: PairSpecification) -> Iterator[str]:
    for side in SIDES:
        room = specification.lens(side).nose_room
        if room is not None and room.room_mm < 0:
            yield (
                f"WILL NOT FIT: {SIDE_WORDS[side]} lens would lie {room.room_mm * -1:.1f} in the nose,"
                f" {room.below_crest_mm:.1f} below the crest."
            )
    sizes = _traced_sizes(specification)
    if sizes:
        yield f"CHECK: the tracing measures {sizes}; other sizes were chosen."


def _traced_sizes(specification: PairSpecification) -> str:
    shape, sheet = specification.outline.right_mm, specification.sheet
    if shape is None or not specification.outline.exact:
        return ""
    width, height = (shape.max(axis=0) - shape.min(axis=0)).tolist()
    chosen = (sheet.lens_width.value, sheet.lens_height.value)
    differs = any(
        one is not None and abs(one - own) > DIFFERS_MM
        for one, own in zip(chosen, (width, height), strict=True)
    )
    return f"{width:.1f} × {height:.1f}" if differs else ""
