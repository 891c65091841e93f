"""The whole-record sheet put together: boxes, tables and words, with what has room on one printed page."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from app.catalogue.catalogue import MEASUREMENTS
from app.catalogue.measurement import SIDES, Measurement
from app.documents.answer_words import EyeRow, Said, cover_words, eye_rows, history_said, pair_said
from app.fitting.cover_test import CoverTest
from app.fitting.fitting import Fitting
from app.web.box import BoxKey, boxes_of
from app.web.sheet import NOTHING_OUTSIDE, SheetBox, sheet_boxes
from app.web.sheet_text import Fitted, Struck, fit, gaps_said, notes_said, struck_readings

ROOM_FOR_HISTORY = 1150
ROOM_FOR_PAIR = 950
ROOM_FOR_REASONS = 420
ROOM_FOR_NOTES = 620
ROOM_FOR_STRUCK = 420
"""Characters that have room in each part of the printed sheet; measured with every part full."""
FULL = 2400
"""Characters in all above which the print is set smaller."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PairRow:
    """One measurement of the worn pair: its right, single and left box, None where there is none."""

    measurement: Measurement
    right: SheetBox | None
    single: SheetBox | None
    left: SheetBox | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """Everything on the sheet; of a blank form, the places for it."""

    boxes: dict[str, SheetBox]
    pair_rows: tuple[PairRow, ...]
    cover: tuple[Said, Said]
    eyes: tuple[EyeRow, EyeRow]
    history: Fitted
    pairs: tuple[tuple[int, Fitted], ...]
    gaps: Fitted
    notes: Fitted
    struck: tuple[Struck, ...] = ()
    fitting: Fitting | None = None

    @property
    def blank(self) -> bool:
        """True for the form that is filled in by hand."""
        return self.fitting is None

    @property
    def reference_lines(self) -> tuple[tuple[str, str], ...]:
        """From where to where each reading is taken, for whoever fills the form in by hand."""
        return tuple((one.label, one.reference_line) for one in MEASUREMENTS.values() if not one.off_pair)

    @property
    def struck_on_paper(self) -> int:
        """How many crossed-out readings have room on paper; the rest is counted there and stands on the screen."""
        lines = (Said(f"{one.name} {one.value}", one.why) for one in self.struck)
        return len(fit(lines, characters=ROOM_FOR_STRUCK).lines)

    @property
    def full(self) -> bool:
        """True where there is much to print, so that it has to be smaller to stay on one page."""
        parts = (self.history, self.gaps, self.notes, *(fitted for _, fitted in self.pairs))
        words = sum(len(one.label) + len(one.words) + 4 for part in parts for one in part.lines)
        return words + ROOM_FOR_STRUCK * bool(self.struck) > FULL


def make_sheet(
    fitting: Fitting | None, fitting_id: str = "", outside: Mapping[str, str] = NOTHING_OUTSIDE
) -> Sheet:
    """The sheet of a fitting, or the blank one. `outside`: what is said of boxes outside their expected band."""
    boxes = sheet_boxes(fitting, fitting_id, outside)
    cover = fitting.cover_test if fitting else CoverTest()
    return Sheet(
        boxes=boxes,
        pair_rows=tuple(_pair_rows(boxes)),
        cover=(Said("Far", cover_words(cover.distance)), Said("Near", cover_words(cover.near))),
        eyes=eye_rows(fitting.prescription if fitting else None),
        history=fit(history_said(fitting) if fitting else (), characters=ROOM_FOR_HISTORY),
        pairs=_pairs(fitting),
        gaps=fit(gaps_said(fitting) if fitting else (), characters=ROOM_FOR_REASONS),
        notes=fit((*repeats_said(boxes), *notes_said(fitting)) if fitting else (), characters=ROOM_FOR_NOTES),
        struck=struck_readings(fitting) if fitting else (),
        fitting=fitting,
    )


def repeats_said(boxes: dict[str, SheetBox]) -> tuple[Said, ...]:
    """What a value was made from, where it was not one plain reading."""
    return tuple(
        Said(box.key.name, box.small) for box in boxes.values() if box.state == "value" and box.small
    )


def _pair_rows(boxes: dict[str, SheetBox]) -> Iterator[PairRow]:
    for measurement in MEASUREMENTS.values():
        if measurement.off_pair:
            keys = {key.side: str(key) for key in boxes_of(measurement)}
            right, left = (boxes.get(keys.get(side, "")) for side in SIDES)
            single = boxes.get(str(BoxKey(measurement))) if None in keys else None
            yield PairRow(measurement=measurement, right=right, single=single, left=left)


def _pairs(fitting: Fitting | None) -> tuple[tuple[int, Fitted], ...]:
    pairs = {pair.pair: pair for pair in fitting.pairs} if fitting else {}
    return tuple(
        (number, fit(pair_said(pairs[number]) if number in pairs else (), characters=ROOM_FOR_PAIR))
        for number in (1, 2)
    )
