"""What the drawing of the bridge says: ordered values of a frame to be made, facial ones for the patient's own."""

from collections.abc import Iterator
from dataclasses import dataclass

from app.catalogue.measurement import SIDES, Side
from app.documents.needed_for_drawing import section_of
from app.fitting.entry import show_number
from app.frame.bridge_fit import BridgeFit
from app.frame.ordered_bridge import facial_crest_height
from app.frame.ordered_dimension import above_centre_line, signed_words
from app.frame.specification import PairSpecification

DRAWN_OTHERWISE_MM = 0.25
"""Where the fitted radius differs by more from the ordered one, the drawing says so. Ours: half a step of 0.5."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BridgeValues:
    """Numbers to draw by (mm, degrees, None where not given), and the words beside them."""

    ordered: bool
    fit: BridgeFit
    widths: tuple[str, str]
    radius: str
    frontal: dict[Side, str]
    splay_deg: dict[Side, float | None]
    crest_up: float | None
    crest_words: str
    projection: float | None
    projection_words: str
    crest_angle_deg: float | None
    crest_angle_words: str
    sheet_mm: float | None
    notes: tuple[str, ...]


def bridge_values(specification: PairSpecification) -> BridgeValues | None:
    """The values of one pair; None where the readings describe no section."""
    fit = section_of(specification.sheet)
    if fit is None:
        return None
    value = _Values(specification)
    projection, crest_up, crest_angle = (
        value("bridge_projection"),
        _crest_up(specification),
        value("crest_angle"),
    )
    return BridgeValues(
        ordered=specification.sheet.handmade,
        fit=fit,
        widths=(_shown(value("bridge_width_10")), _shown(value("bridge_width_15"))),
        radius=_shown(value("apical_radius")),
        frontal={side: f"{side} {_shown(value('frontal_angle', side))}°" for side in SIDES},
        splay_deg={side: value("splay_angle", side) for side in SIDES},
        crest_up=crest_up,
        crest_words=""
        if crest_up is None
        else f"crest {above_centre_line(round(crest_up, 4))}".replace("the centre line", "HCL"),
        projection=projection,
        projection_words=_projection_words(projection, ordered=specification.sheet.handmade),
        crest_angle_deg=crest_angle,
        crest_angle_words="angle of crest not given"
        if crest_angle is None
        else f"crest {_shown(crest_angle)}°",
        sheet_mm=specification.pair.sheet_mm,
        notes=tuple(_notes(specification, fit, value)),
    )


class _Values:
    """Ordered values where there are any, else those of the face."""

    __slots__ = ("specification",)

    def __init__(self, specification: PairSpecification) -> None:
        self.specification = specification

    def __call__(self, measurement: str, side: Side | None = None) -> float | None:
        line = self.specification.dimension(measurement, side)
        if line is not None:
            return line.ordered
        return self.specification.sheet.face(measurement, side).value


def _crest_up(specification: PairSpecification) -> float | None:
    line = specification.dimension("crest_height")
    if line is not None:
        return line.ordered
    facial = facial_crest_height(specification.sheet)[0].value
    return None if facial is None else facial - specification.sheet.centre_line_above_lid_mm


def _shown(value: float | None) -> str:
    return "not given" if value is None else show_number(round(value, 1))


def _projection_words(projection: float | None, *, ordered: bool) -> str:
    if projection is None:
        return "projection not given"
    said = signed_words(projection, plus="outset", level="flush", minus="inset")
    return said if ordered else f"face: {said}"


def _notes(specification: PairSpecification, fit: BridgeFit, value: _Values) -> Iterator[str]:
    if not specification.sheet.handmade:
        yield "The patient's own frame stays as it is: this is the nose as measured, to adjust bridge and pads by."
        yield "The level of the centre line is the planned one."
    else:
        yield "Widths are those at the back of the front, to the nearest 0.5; the line fits all readings together."
    radius = value("apical_radius")
    if radius is not None and abs(radius - fit.radius_mm) > DRAWN_OTHERWISE_MM:
        yield f"Drawn with radius {fit.radius_mm:.1f}, which fits widths and angles; {_shown(radius)} was measured."
    yield "Bar along the middle and rims in the plan are sketched; projection is from the back of the front."
    if specification.pair.sheet_mm is None:
        yield "Sheet not chosen: drawn 6 thick."
    wire = specification.pair.choices.get("wire_trace")
    if wire:
        yield f"Wire trace on paper: {wire}"
    if specification.pair.choices.get("bridge_build") == "built_up":
        yield "Bridge built up with a block."
