"""An expected band as shown: three numbers, the reading's mark, and the same in words."""

from dataclasses import dataclass
from math import ceil, floor

from app.catalogue.catalogue import MEASUREMENTS
from app.catalogue.measurement import UNIT_WORDS, Measurement
from app.fitting.entry import show_value
from app.plausibility.expectation import TOO_FEW, Band, band_before
from app.plausibility.expectation_evidence import node_of
from app.plausibility.finding import Subject
from app.web.box import BoxKey, boxes_of, pair_of
from app.web.chair import Chair
from app.web.step_view import fits

BAR_FROM, BAR_TO, EDGE_FROM, EDGE_TO = 44.0, 156.0, 10.0, 190.0
"""In units of the drawing, 200 wide: the band from low to high, and how far out a mark may lie."""
ROOM = 1e-9
OUTSIDE = "outside what the other readings make likely"
SAID_RIGHT = f"{OUTSIDE}, said to be right"


@dataclass(frozen=True, slots=True, kw_only=True)
class BandShown:
    """A band, ready for the page. Without `mark` the reading has not been taken."""

    low: str
    mid: str
    high: str
    words: str
    short: str
    middle_at: float
    mark_at: float | None = None
    outside: bool = False
    beyond: str = ""
    """lower, higher: the reading lies further out than the drawing reaches."""


def shown_band(chair: Chair, key: BoxKey, *, hidden: bool = False) -> BandShown | None:
    """The band of a box: of its reading, or before entry where the practice wants that. None: nothing to show.

    While a second reading is entered without seeing the first, the band stays hidden too.
    """
    if hidden:
        return None
    taken = band_of(chair, key)
    if taken is not None:
        return draw(taken, value_of(chair, taken), confirmed=_subject(taken) in chair.confirmed)
    if chair.settings.show_band_before and not any(fits(key, one) for one in chair.judgement.working):
        before = band_before(
            chair.fitting, chair.settings, key.measurement.key, key.side, key.method, pair_of(key.measurement)
        )
        return draw(before, None) if before is not None else None
    return None


def band_after(chair: Chair, after: BoxKey | None, armed: BoxKey) -> BandShown | None:
    """The band of the reading just taken, where the next box is armed already."""
    return shown_band(chair, after) if after is not None and after != armed else None


def too_few(chair: Chair, key: BoxKey) -> str:
    """Says that a reading has no band since too few others were taken; nothing where that is not why."""
    judged = chair.judgement.expected
    taken = any(fits(key, one) for one in chair.judgement.working)
    node = node_of(key.measurement.key, key.side, pair_of(key.measurement), key.method)
    silent = not chair.settings.expected_bands or (judged is not None and judged.contradicting)
    return TOO_FEW if taken and node is not None and not silent and band_of(chair, key) is None else ""


def band_of(chair: Chair, key: BoxKey) -> Band | None:
    """The band of the reading that stands in a box; the last where it was taken by several methods."""
    return next((band for band in reversed(chair.bands) if fits(key, _subject(band))), None)


def value_of(chair: Chair, band: Band) -> float | None:
    """The working value that a band is about."""
    subject = _subject(band)
    return next(
        (
            one.value
            for one in reversed(chair.judgement.working)
            if (one.measurement, one.side, one.pair, one.method)
            == (subject.measurement, subject.side, subject.pair, subject.method)
        ),
        None,
    )


def is_outside(band: Band, value: float | None) -> bool:
    """True where a reading lies outside its band."""
    return value is not None and not band.low - ROOM <= value <= band.high + ROOM


def boxes_outside(chair: Chair) -> dict[str, str]:
    """By box: what is said on the screen of a reading outside its band."""
    found = {}
    for band in chair.bands:
        if is_outside(band, value_of(chair, band)):
            said = SAID_RIGHT if _subject(band) in chair.confirmed else OUTSIDE
            key = next(
                (key for key in boxes_of(MEASUREMENTS[band.measurement]) if fits(key, _subject(band))), None
            )
            if key is not None:
                found[str(key)] = said
    return found


def draw(band: Band, value: float | None, *, confirmed: bool = False) -> BandShown:
    """The band with its words and the places of its marks."""
    declared = MEASUREMENTS[band.measurement]
    low, high = _ends(declared, band)
    spread = band.high - band.low
    at = None if value is None else BAR_FROM + (value - band.low) / spread * (BAR_TO - BAR_FROM)
    outside = is_outside(band, value)
    unit = {"°": " degrees"}.get(UNIT_WORDS[declared.unit], f" {UNIT_WORDS[declared.unit]}")
    words = f"expected {low} to {high}{unit}, from {_listed(band)}"
    if value is not None:
        words += f"; entered {show_value(declared, value)}" + (", outside" if outside else "")
    return BandShown(
        low=low,
        mid=_number(declared, round(band.mid / declared.scale_step) * declared.scale_step),
        high=high,
        words=words + (", said to be right" if confirmed and outside else ""),
        short=f"expected {low} to {high}",
        middle_at=(BAR_FROM + BAR_TO) / 2,
        mark_at=None if at is None else round(min(max(at, EDGE_FROM), EDGE_TO), 1),
        outside=outside,
        beyond="" if at is None or EDGE_FROM <= at <= EDGE_TO else ("lower" if at < EDGE_FROM else "higher"),
    )


def _ends(declared: Measurement, band: Band) -> tuple[str, str]:
    """Both ends on the scale, inside the band, so that a reading shown between them is inside it."""
    step = declared.scale_step
    low, high = ceil(band.low / step - ROOM) * step, floor(band.high / step + ROOM) * step
    if low > high:
        low, high = band.low, band.high
    return _number(declared, low), _number(declared, high)


def _number(declared: Measurement, value: float) -> str:
    return show_value(declared, round(value, 1) + 0.0)


def _listed(band: Band) -> str:
    names = [_name(measurement, band) for measurement in band.given] or ["the other readings"]
    return ", ".join(names[:-1]) + f" and {names[-1]}" if len(names) > 1 else names[0]


def _name(measurement: str, band: Band) -> str:
    if measurement == band.measurement:
        return "the other side" if band.side is not None else "the other reading of it"
    label = MEASUREMENTS[measurement].label.replace(",", "")
    return label if label[1].isupper() else label[0].lower() + label[1:]


def _subject(band: Band) -> Subject:
    return Subject(measurement=band.measurement, side=band.side, pair=band.pair, method=band.method)
