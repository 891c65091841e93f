"""Expected bands on the pages: after entry beside the box, on the whole sheet, behind settings, and in the help."""

import html
import re
from dataclasses import replace

import pytest

from app.practice.settings import PracticeSettings
from app.records.fittings import load_fitting
from app.records.identity import new_key
from app.records.practice import load_settings, load_settings_version, save_settings
from tests.plausibility.examples_of_expected_bands import UNUSUAL
from tests.web.demo_patients import answer_all, demo_fitting, imported, sign, waiting, with_value, words
from tests.web.practice import Practice
from tests.web.test_manage_pages import sent_back

HEAD = "steps/head?box=head_circumference"
OUTSIDE = "outside what the other readings make likely"


def page(practice: Practice, fitting: str, address: str = HEAD, role: str = "practitioner") -> str:
    answer = practice.as_(role).get(f"/fittings/{fitting}/{address}")
    assert answer.status_code == 200
    return html.unescape(answer.text)


def use(practice: Practice, settings: PracticeSettings) -> None:
    """The practice's settings from now on."""
    _, version = load_settings_version(practice.database)
    actor = practice.actor("manager")
    save_settings(practice.database, key=new_key(), actor=actor, settings=settings, base_version=version)
    practice.app.state.practice = settings


def blank_head(practice: Practice) -> str:
    """The first demo patient with the circumference still to be taken."""
    full = with_value("patient_1", "head_circumference", None, 562)
    kept = tuple(one for one in full.readings if one.measurement != "head_circumference")
    return demo_fitting(practice, changed=replace(full, readings=kept))


def test_after_entry_the_band_stands_in_words_with_what_it_rests_on(practice: Practice) -> None:
    shown = page(practice, demo_fitting(practice))
    found = re.search(r"Expected (\d+) to (\d+) mm, from ([^;]+); entered 562\.", shown)
    assert found is not None
    # the survey's adults: 527 to 614 from the 1st to the 99th percentile (ANSUR II)
    assert 505 < int(found[1]) < 562 < int(found[2]) < 640
    assert "head width" in found[3]
    assert "<circle" in shown, "the mark of a reading inside"
    assert "Measure again" in shown


def test_a_reading_outside_is_told_by_shape_and_word_and_named(practice: Practice) -> None:
    shown = page(
        practice,
        demo_fitting(practice, changed=with_value("patient_1", "head_width", None, 110)),
        "steps/head?box=head_width",
    )
    drawing = re.search(r'<svg class="band-drawing".*?</svg>', shown, re.DOTALL)
    assert drawing is not None
    assert "<circle" not in drawing[0]
    assert "entered 110, outside" in shown


def test_nothing_is_shown_before_entry_unless_the_practice_wants_it(practice: Practice) -> None:
    fitting = blank_head(practice)
    assert "band-drawing" not in page(practice, fitting)
    use(practice, PracticeSettings(show_band_before=True))
    shown = page(practice, fitting)
    assert "band-drawing" in shown
    assert re.search(r"Expected \d+ to \d+ mm, from [^;]+\.", shown)
    assert "entered" not in re.search(r"Expected \d+ to [^.]+\.", shown)[0]


def test_a_blind_second_reading_hides_the_band_with_the_first(practice: Practice) -> None:
    fitting = demo_fitting(practice)
    assert "Expected" not in page(practice, fitting, f"{HEAD}&again=1")
    use(practice, PracticeSettings(second_reading_blind=False))
    assert "Expected" in page(practice, fitting, f"{HEAD}&again=1")


def test_the_band_of_the_reading_just_taken_stands_with_the_outcome_and_one_tap_measures_again(
    practice: Practice,
) -> None:
    shown = page(practice, demo_fitting(practice), "steps/head?box=head_height&after=head_circumference")
    assert re.search(
        r'class="band band-after"><span[^>]*>Head circumference</span>\s*<svg[^>]*label="expected \d+ to \d+ mm',
        shown,
    )
    again = re.search(r'<a class="again" href="[^"]*\?box=head_circumference&again=1"', shown)
    assert again is not None


def test_too_few_readings_get_no_band_and_the_page_says_so(practice: Practice) -> None:
    person = practice.person()
    only = replace(
        UNUSUAL.fitting,
        readings=tuple(one for one in UNUSUAL.fitting.readings if one.measurement == "head_circumference"),
    )
    shown = page(practice, imported(practice, person, only))
    assert "Too few other readings yet to say what to expect." in shown
    assert "band-drawing" not in shown


def test_switched_off_there_is_no_band_and_no_word_of_one(practice: Practice) -> None:
    fitting = demo_fitting(practice)
    use(practice, PracticeSettings(expected_bands=False))
    shown = page(practice, fitting)
    assert "band-drawing" not in shown
    assert "Too few" not in shown


def test_the_whole_sheet_marks_what_lies_outside_on_the_screen_alone(practice: Practice) -> None:
    fitting = imported(practice, practice.person(), UNUSUAL.fitting)
    shown = page(practice, fitting, "overview")
    assert f"Head circumference: 640 mm, {OUTSIDE}" in shown
    marks = re.findall(r"<(?:path|span)[^>]*>(?=[^<]*)", shown)
    assert sum('class="no-print"' in mark for mark in marks) == 1
    assert OUTSIDE not in page(practice, demo_fitting(practice), "overview")


def test_whoever_answers_no_findings_sees_no_mark(practice: Practice) -> None:
    fitting = imported(practice, practice.person(), UNUSUAL.fitting)
    assert OUTSIDE not in page(practice, fitting, "overview", "assistant")


def asked(practice: Practice, fitting: str) -> set[str]:
    return {check for check, _, severity in waiting(practice, fitting) if severity == "ask"}


def test_what_was_said_to_be_right_is_not_asked_again_next_year(practice: Practice) -> None:
    # given a very wide head, asked about, said to be right, and signed
    person = practice.person()
    wide = with_value("patient_6", "crest_angle", None, 20)
    first = imported(practice, person, wide)
    assert "usual-range" in asked(practice, first)
    answer_all(practice, first)
    assert sign(practice, first) == 303
    # when the same person is measured again with the same head, and a circumference of another value
    changed = tuple(
        replace(one, value=628, text="628") if one.measurement == "head_circumference" else one
        for one in wide.readings
    )
    second = imported(practice, person, replace(wide, readings=changed))
    shown = words(practice.as_("practitioner"), f"/fittings/{second}/review")
    # then only what is new is asked about; what was said is shown with its day
    waits = re.findall(r"Head circumference of 628 mm is outside|Head width of 168 mm is outside", shown)
    assert "Head circumference of 628 mm is outside" in waits
    assert "It is correct because" in page(practice, second)
    assert "It is correct because" not in page(practice, second, "steps/head?box=head_width")
    day = load_fitting(practice.database, first).fitting.taken.on
    assert f"measured twice (confirmed on {day})" in shown


def test_an_answer_at_the_chair_takes_the_reading_as_true(practice: Practice) -> None:
    fitting = imported(practice, practice.person(), UNUSUAL.fitting)
    assert "outside-expected-band" in asked(practice, fitting)
    answer_all(practice, fitting)
    shown = page(practice, fitting)
    assert "Confirmed, though unusual beside the others." in shown
    assert "outside, said to be right" in shown
    document = practice.anybody().get(f"/api/fittings/{fitting}/assessment", headers=practice.token()).json()
    found = [one["severity"] for one in document["findings"] if one["check"] == "outside-expected-band"]
    assert found == ["note"]


# The manager's page


def test_the_manager_switches_bands_and_gives_own_figures(practice: Practice) -> None:
    manager = practice.as_("manager")
    form = sent_back(manager.get("/manage/expected").text)
    form.pop("expected_bands")
    own = {
        "head_width_inside": "10",
        "mean_pd_distance": "61,5",
        "sd_pd_distance": "3.6",
        "error_head_width": "1.1",
    }
    sent = manager.post("/manage/expected", data={**form, "show_band_before": "yes", **own})
    assert sent.status_code == 303
    stands = load_settings(practice.database)
    assert (stands.expected_bands, stands.show_band_before) == (False, True)
    assert stands.head_width_inside_breadth_mm == 10
    assert stands.own_reference == (("pd_distance", 61.5, 3.6),)
    assert stands.own_repeatability == (("head_width", 1.1),)
    assert practice.app.state.practice == stands


@pytest.mark.parametrize(
    ("box", "typed", "said"),
    [
        ("head_width_inside", "20", "is not a number from 0 to 16"),
        ("head_width_inside", "wide", "is not a number"),
        ("mean_pd_distance", "40", "is not a number from 52 to 75"),
        ("sd_pd_distance", "3", "give both, own mean and own spread"),
        ("error_head_width", "0.01", "is not a number from 0.14 to 2.17"),
        ("error_head_width", "9", "is not a number from 0.14 to 2.17"),
    ],
)
def test_a_figure_out_of_range_is_refused_in_words_and_stays_typed(
    practice: Practice, box: str, typed: str, said: str
) -> None:
    manager = practice.as_("manager")
    form = sent_back(manager.get("/manage/expected").text)
    answer = manager.post("/manage/expected", data={**form, box: typed})
    assert answer.status_code == 422
    assert said in html.unescape(answer.text)
    assert f'value="{typed}"' in answer.text
    assert load_settings_version(practice.database)[1] == 0


def test_the_manager_sees_how_well_the_practice_repeats_its_readings(practice: Practice) -> None:
    fitting = UNUSUAL.fitting
    width = next(one for one in fitting.readings if one.measurement == "head_width")
    twice = replace(fitting, readings=(*fitting.readings, replace(width, value=142, text="142")))
    practice.signed_fitting(practice.person(), readings=twice.readings)
    shown = words(practice.as_("manager"), "/manage/expected")
    # √(2² / 2) of one pair; drawn to 0.72 worth twenty pairs (Ulijaszek and Kerr 1999 for the technical error)
    assert "Head width, mm all 1 1.41 0.72 0.77" in shown


def test_nobody_but_the_manager_opens_that_page(practice: Practice) -> None:
    for role in ("practitioner", "assistant", "receptionist"):
        assert practice.as_(role).get("/manage/expected").status_code == 403


def test_the_help_says_whom_the_survey_describes_and_what_it_cannot_see(practice: Practice) -> None:
    shown = words(practice.as_("assistant"), "/help/expected")
    # numbers of women and men of the public table (ANSUR II)
    assert "1986 women and 4082 men" in shown
    for said in ("adult military personnel of one country", "17 to 58", "2010 to 2012", "What it cannot see"):
        assert said in shown
    assert "Ancestry is never asked for" in shown
