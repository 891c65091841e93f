"""Files that are taken out and prescriptions that are taken in, with their rights."""

import csv
import io
import json
from dataclasses import replace
from datetime import UTC, datetime

import pytest
from fhir.resources.R4B.bundle import Bundle

from app.documents.fhir_check import fhir_problems
from app.documents.lab_labels import NOT_SENT, SENT
from app.documents.lab_message_text import read_lab_message
from app.fitting.fitting_file import read_fitting
from app.fitting.prescription import EyePrescription
from app.records.fittings import load_fitting
from app.records.identity import new_key
from tests.documents.test_fhir import OFFICIAL
from tests.plausibility.demo_files import demo_document
from tests.web.demo_patients import answer_all, demo_fitting, sign, signed_demo, words
from tests.web.practice import Practice


def files(practice: Practice, fitting: str) -> list[str]:
    """Addresses of the files on the page."""
    page = practice.as_("practitioner").get(f"/fittings/{fitting}/exports").text
    return [part.split('"')[0] for part in page.split('href="') if "/exports/" in part.split('"')[0]]


def test_every_file_is_the_same_to_the_byte_and_names_nobody(practice: Practice) -> None:
    fitting = signed_demo(practice)
    addresses = files(practice, fitting)
    assert len(addresses) == 6
    for address in addresses:
        first, second = (practice.as_("practitioner").get(address) for _ in range(2))
        assert first.status_code == 200
        assert first.content == second.content
        assert "attachment" in first.headers["content-disposition"]
        assert "Fenwick" not in address + first.text
        assert first.headers["cache-control"] == "no-store"


def test_each_file_can_be_read_back(practice: Practice) -> None:
    fitting = signed_demo(practice)
    found = {
        address.rsplit("/", 1)[1]: practice.as_("practitioner").get(address)
        for address in files(practice, fitting)
    }
    lab = next(answer for name, answer in found.items() if name.endswith("pair1.lab.txt"))
    read = read_lab_message(lab.text)
    assert read.bad_lines == ()
    assert read.message.numbers == {"DBL": 18.0}
    fhir = next(answer for name, answer in found.items() if name.endswith("fhir.json"))
    assert fhir_problems(fhir.json()) == []
    Bundle.model_validate_json(fhir.content)
    orders = next(answer for name, answer in found.items() if name.endswith("orders.csv"))
    assert {row["pair"] for row in csv.DictReader(io.StringIO(orders.text))} == {"1", "2"}
    whole = next(answer for name, answer in found.items() if name.endswith("fitting.json"))
    stored = load_fitting(practice.database, fitting).fitting
    assert read_fitting(whole.json()).prescription == stored.prescription


def test_a_years_orders_and_readings_make_one_table_each(practice: Practice) -> None:
    signed = {signed_demo(practice), signed_demo(practice, "patient_7")}
    demo_fitting(practice)
    year = datetime.now(UTC).year
    for what, column in (("orders", "order"), ("readings", "measurement")):
        address = f"/bench/tables/{year}/{what}"
        first, second = (practice.as_("practitioner").get(address) for _ in range(2))
        assert first.content == second.content
        table = list(csv.DictReader(io.StringIO(first.text, newline="")))
        assert all(row[column] for row in table)
        if what == "orders":
            assert {row["order"].partition("-")[0] for row in table} == {one[-8:].upper() for one in signed}
    assert practice.as_("assistant").get(address).status_code == 403
    assert practice.as_("practitioner").get(f"/bench/tables/{year}/people").status_code == 422
    empty = practice.as_("practitioner").get(f"/bench/tables/{year - 1}/orders")
    assert len(empty.text.splitlines()) == 1


def test_an_assistant_takes_what_the_bench_needs_and_no_more(practice: Practice) -> None:
    fitting = signed_demo(practice)
    addresses = files(practice, fitting)
    statuses = {address: practice.as_("assistant").get(address).status_code for address in addresses}
    assert {address for address, status in statuses.items() if status == 200} == {
        address for address in addresses if address.endswith(".lab.txt")
    }
    assert set(statuses.values()) == {200, 403}
    assert practice.as_("receptionist").get(addresses[0]).status_code == 403
    assert practice.as_("practitioner").get(f"/fittings/{fitting}/exports/else.txt").status_code == 404


def test_nothing_is_taken_out_before_sign_off(practice: Practice) -> None:
    fitting = demo_fitting(practice)
    assert "Nothing is signed yet" in words(practice.as_("practitioner"), f"/fittings/{fitting}/exports")


def test_a_lab_message_without_what_a_lens_needs_says_what_is_missing(practice: Practice) -> None:
    fitting = read_fitting(demo_document("patient_1"))
    assert fitting.prescription is not None
    eye = EyePrescription(sphere=-1.0, cylinder=-0.5)
    pairs = tuple(replace(pair, prescription=None) for pair in fitting.pairs)
    changed = replace(fitting, prescription=replace(fitting.prescription, right=eye), pairs=pairs)
    identity = demo_fitting(practice, changed=changed)
    answer_all(practice, identity)
    if sign(practice, identity) != 303:
        pytest.skip("a cylinder without an axis cannot be signed at all")
    page = words(practice.as_("practitioner"), f"/fittings/{identity}/exports")
    assert "Cannot be sent yet. Missing: Axis of a cylinder" in page
    address = f"/fittings/{identity}/exports/{identity[-8:]}-v1-pair1.lab.txt"
    answer = practice.as_("practitioner").get(address)
    assert (answer.status_code, "Axis of a cylinder" in answer.text) == (403, True)


def take_in(practice: Practice, fitting: str, text: str, role: str = "practitioner") -> tuple[int, str]:
    """Paste a prescription."""
    answer = practice.as_(role).post(f"/fittings/{fitting}/prescription-import", data={"text": text})
    return answer.status_code, answer.text


def test_a_prescription_is_shown_first_and_stored_only_when_accepted(practice: Practice) -> None:
    fitting = demo_fitting(practice)
    before = load_fitting(practice.database, fitting)
    status, page = take_in(practice, fitting, OFFICIAL)
    assert status == 200
    assert "-2.00" in page
    assert "(differs)" in page
    assert "The prescriber&#39;s name does not stand in it." in page
    assert load_fitting(practice.database, fitting).revision == before.revision, (
        "nothing is stored by reading"
    )
    form = {"key": new_key(), "text": OFFICIAL}
    answer = practice.as_("practitioner").post(f"/fittings/{fitting}/prescription-import/accept", data=form)
    assert answer.headers["location"] == f"/fittings/{fitting}/steps/prescription"
    kept = load_fitting(practice.database, fitting).fitting.prescription
    assert kept is not None
    assert kept.left is not None
    assert (kept.left.sphere, kept.left.cylinder, kept.left.axis, kept.left.add) == (-1.0, -0.5, 180.0, 2.0)
    assert kept.right is not None
    assert (kept.right.sphere, kept.right.cylinder, kept.right.axis) == (-2.0, None, None)
    assert [(one.amount, one.base) for one in kept.right.prism] == [(0.5, "down")]
    assert kept.written == "2014-06-15"
    assert kept.tested_at_mm == before.fitting.prescription.tested_at_mm  # type: ignore[union-attr]


def test_a_file_is_read_as_what_is_pasted(practice: Practice) -> None:
    fitting = demo_fitting(practice)
    answer = practice.as_("practitioner").post(
        f"/fittings/{fitting}/prescription-import",
        files={"file": ("prescription.json", OFFICIAL.encode(), "application/json")},
        data={"text": ""},
    )
    assert (answer.status_code, "Accept it" in answer.text) == (200, True)


@pytest.mark.parametrize(
    "text", ["", "{", "\x00\x01", json.dumps({"resourceType": "Patient"}), "x" * 300_000]
)
def test_what_is_no_prescription_is_refused_and_nothing_is_stored(practice: Practice, text: str) -> None:
    fitting = demo_fitting(practice)
    before = load_fitting(practice.database, fitting).revision
    status, page = take_in(practice, fitting, text)
    assert (status, "Accept it" in page) == (422, False)
    form = {"key": new_key(), "text": text}
    answer = practice.as_("practitioner").post(f"/fittings/{fitting}/prescription-import/accept", data=form)
    assert answer.status_code == 422
    assert load_fitting(practice.database, fitting).revision == before


def test_only_a_practitioner_takes_a_prescription_in_and_not_into_a_signed_fitting(
    practice: Practice,
) -> None:
    fitting = signed_demo(practice)
    assert take_in(practice, fitting, OFFICIAL, "assistant")[0] == 403
    form = {"key": new_key(), "text": OFFICIAL}
    answer = practice.as_("practitioner").post(f"/fittings/{fitting}/prescription-import/accept", data=form)
    assert answer.status_code == 409


def test_the_help_lists_every_label_that_is_sent(practice: Practice) -> None:
    page = words(practice.as_("assistant"), "/help/exchange")
    assert all(one.label in page and one.meaning in page for one in (*SENT, *NOT_SENT))
