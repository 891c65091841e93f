"""A date of birth is read in the forms that people write, and refused in words otherwise."""

from datetime import date

import pytest

from app.web.written_date import NotADate, read_born, read_date, read_day_taken

TODAY = date(2026, 10, 2)


@pytest.mark.parametrize(
    "written",
    [
        "30-05-1961",
        "30/5/1961",
        "30.05.1961",
        "30 05 1961",
        "30051961",
        "30 May 1961",
        "30-May-1961",
        "30th may, 1961",
        "1961-05-30",
        " 1961/5/30 ",
        "３０-０５-１９６１",
        "30–05–1961",
    ],
)
def test_a_date_of_birth_is_read_however_it_is_written(written: str) -> None:
    assert read_date(written) == "1961-05-30"


@pytest.mark.parametrize(
    ("written", "words"),
    [
        ("30-05-61", "all four digits"),
        ("05/30/1961", "no month 30"),
        ("31 April 1961", "no day 31"),
        ("29-02-1961", "no day 29"),
        ("30 Mai 1961 or so", "cannot be read as a date"),
        ("30 Brumaire 1961", "names no month"),
        ("about sixty", "cannot be read as a date"),
        ("0-05-1961", "no day 0"),
    ],
)
def test_a_date_that_cannot_be_meant_says_why(written: str, words: str) -> None:
    with pytest.raises(NotADate, match=words):
        read_date(written)


def test_nobody_is_born_tomorrow_or_in_the_last_century_but_one() -> None:
    assert read_born("2 Oct 2026", today=TODAY) == "2026-10-02"
    with pytest.raises(NotADate, match="still to come"):
        read_born("3 Oct 2026", today=TODAY)
    with pytest.raises(NotADate, match="more than 120 years ago"):
        read_born("30-05-1861", today=TODAY)


def test_a_paper_form_is_not_dated_tomorrow() -> None:
    assert read_day_taken("1 Oct 2026", today=TODAY) == "2026-10-01"
    with pytest.raises(NotADate, match="Write the day on which it was taken"):
        read_day_taken("30 Oct 2026", today=TODAY)
