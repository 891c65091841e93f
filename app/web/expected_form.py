"""The form of what a practice says about expected bands: on or off, its own reference, its own repeatability."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from app.catalogue.catalogue import MEASUREMENTS
from app.catalogue.measurement import UNIT_WORDS, Measurement
from app.fitting.written_number import NotWritten, read_written_number
from app.plausibility.expectation_evidence import error_of
from app.plausibility.expectation_own import NODE_OF_OWN
from app.practice.settings import PracticeSettings
from app.web.settings_form import TICKED, SettingsForm, written

INSIDE_MM = (0.0, 16.0)
"""How far head widths may lie inside the skull's breadth. Common practice: 8, some measurers 12."""
LEAST_ERROR, MOST_ERROR = 0.2, 3.0
"""Own repeatability, in shares of the published one. Judgement: better than a fifth is copied, not measured."""
MOST_SPREAD = 0.5
"""Own standard deviation, in shares of the range that is not asked about. Judgement."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnRow:
    """One measurement of the form, with what holds where nothing is typed."""

    measurement: Measurement
    published_error: str
    unit: str


ROWS = tuple(
    OwnRow(
        measurement=MEASUREMENTS[key],
        published_error=written(round(error_of(key, None), 2)),
        unit=UNIT_WORDS[MEASUREMENTS[key].unit],
    )
    for key in NODE_OF_OWN
)


def expected_form(settings: PracticeSettings) -> SettingsForm:
    """Everything as it stands."""
    own, errors = {one[0]: one[1:] for one in settings.own_reference}, dict(settings.own_repeatability)
    text = {
        "expected_bands": TICKED if settings.expected_bands else "",
        "show_band_before": TICKED if settings.show_band_before else "",
        "head_width_inside": written(settings.head_width_inside_breadth_mm),
    }
    for row in ROWS:
        key = row.measurement.key
        mean, sd = own.get(key, (None, None))
        text[f"mean_{key}"] = "" if mean is None else written(mean)
        text[f"sd_{key}"] = "" if sd is None else written(sd)
        text[f"error_{key}"] = written(errors[key]) if key in errors else ""
    return SettingsForm(text=text, settings=settings)


def read_expected(typed: Mapping[str, str], stands: PracticeSettings) -> SettingsForm:
    """The settings with what was typed; an empty box takes what is published."""
    text = {key: typed.get(key, "").strip() for key in expected_form(stands).text}
    reader = _Reader(text)
    inside = reader.number("head_width_inside", "Head width inside the skull", *INSIDE_MM)
    own, errors = [], []
    for row in ROWS:
        key, one = row.measurement.key, row.measurement
        believed, asked = one.adult.ask, error_of(one.key, None)
        mean = reader.number(f"mean_{key}", f"{one.label}, own mean", believed.low, believed.high)
        most = MOST_SPREAD * (believed.high - believed.low)
        sd = reader.number(f"sd_{key}", f"{one.label}, own spread", one.scale_step / 2, most)
        error = reader.number(
            f"error_{key}", f"{one.label}, own repeatability", LEAST_ERROR * asked, MOST_ERROR * asked
        )
        reader.both(key, one.label)
        if mean is not None and sd is not None:
            own.append((key, mean, sd))
        if error is not None:
            errors.append((key, error))
    if reader.problems:
        return SettingsForm(text=text, problems=reader.problems)
    return SettingsForm(
        text=text,
        settings=replace(
            stands,
            expected_bands=text["expected_bands"] == TICKED,
            show_band_before=text["show_band_before"] == TICKED,
            head_width_inside_breadth_mm=(
                PracticeSettings().head_width_inside_breadth_mm if inside is None else inside
            ),
            own_reference=tuple(own),
            own_repeatability=(*_kept_errors(stands), *errors),
        ),
    )


def _kept_errors(stands: PracticeSettings) -> tuple[tuple[str, float], ...]:
    """Own repeatabilities of measurements that the form does not show stay as they are."""
    return tuple(one for one in stands.own_repeatability if one[0] not in NODE_OF_OWN)


class _Reader:
    """Reads boxes one after another and keeps the words for each that cannot be right."""

    def __init__(self, text: Mapping[str, str]) -> None:
        self.text = text
        self.problems: dict[str, str] = {}

    def number(self, key: str, label: str, low: float, high: float) -> float | None:
        """The number in a box; None where it is empty or wrong."""
        text = self.text[key]
        if not text:
            return None
        allowed = f"{written(round(low, 2))} to {written(round(high, 2))}"
        try:
            found = read_written_number(text)
        except NotWritten as reason:
            self.problems[key] = f"{label}: “{text}” {reason}. Allowed: {allowed}."
            return None
        value = float(-found.number if found.sign == "-" else found.number)
        if found.unit is not None or found.words or not low - 1e-9 <= value <= high + 1e-9:
            self.problems[key] = f"{label}: {text} is not a number from {allowed}."
            return None
        return round(value, 3)

    def both(self, key: str, label: str) -> None:
        """A mean without its spread says nothing, nor a spread without its mean."""
        mean, sd = self.text[f"mean_{key}"], self.text[f"sd_{key}"]
        if bool(mean) != bool(sd):
            missing = f"sd_{key}" if mean else f"mean_{key}"
            self.problems.setdefault(missing, f"{label}: give both, own mean and own spread, or neither.")
