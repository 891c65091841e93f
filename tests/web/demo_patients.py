"""The demo practice's invented patients in the records of a test, and what a practitioner does with them."""

import re
from dataclasses import replace
from datetime import date

from starlette.testclient import TestClient

from app.fitting.fitting import Fitting
from app.fitting.fitting_file import read_fitting
from app.plausibility.answers import open_findings
from app.plausibility.judge import judge
from app.records.fittings import import_fitting, load_fitting
from app.records.identity import new_key
from app.records.people import save_person
from app.records.person_details import PersonDetails
from tests.plausibility.demo_files import demo_document
from tests.web.practice import Practice


def demo_fitting(practice: Practice, name: str = "patient_1", *, changed: Fitting | None = None) -> str:
    """A demo patient's fitting, or a changed copy of it, in the records; gives its identity."""
    fitting = changed or demo_patient(name)
    details = PersonDetails(
        reference=new_key()[-8:],
        family_name="Fenwick-Rae",
        given_name="Odile",
        born=fitting.person.born,
        sex=fitting.person.sex,
        telephone="01632 960 111",
    )
    person = save_person(
        practice.database, key=new_key(), actor=practice.actor("receptionist"), details=details
    )
    return imported(practice, person, fitting)


def demo_patient(name: str = "patient_1") -> Fitting:
    """A demo patient measured today: every date of the file moved alike, so that nothing is out of date."""
    fitting = read_fitting(demo_document(name))
    days = date.today() - date.fromisoformat(fitting.taken.on)

    def moved(text: str | None) -> str | None:
        return (date.fromisoformat(text) + days).isoformat() if text else None

    written = fitting.prescription
    return replace(
        fitting,
        person=replace(fitting.person, born=moved(fitting.person.born)),
        taken=replace(fitting.taken, on=date.today().isoformat()),
        prescription=replace(written, written=moved(written.written)) if written else None,
    )


def imported(practice: Practice, person: str, fitting: Fitting) -> str:
    """A fitting of a stored person."""
    return import_fitting(
        practice.database,
        key=new_key(),
        actor=practice.actor("practitioner"),
        person_id=person,
        fitting=fitting,
    )


def with_value(name: str, measurement: str, side: str | None, value: float) -> Fitting:
    """A demo patient with one reading changed."""
    fitting = demo_patient(name)
    return replace(
        fitting,
        readings=tuple(
            replace(one, value=value, text=f"{value:g}")
            if (one.measurement, one.side) == (measurement, side)
            else one
            for one in fitting.readings
        ),
    )


def waiting(practice: Practice, fitting_id: str) -> list[tuple[str, str, str]]:
    """Check, fingerprint and severity of every finding that waits."""
    stored = load_fitting(practice.database, fitting_id)
    found = open_findings(judge(stored.fitting, practice.app.state.practice, date.today()), stored.answers)
    return [(one.check, one.fingerprint, str(one.severity)) for one in found]


def answer_all(practice: Practice, fitting_id: str) -> None:
    """Answer whatever waits, as a practitioner who has measured twice."""
    chair = practice.as_("practitioner")
    for check, fingerprint, severity in waiting(practice, fitting_id):
        asked = {"check": check, "fingerprint": fingerprint, "key": new_key()}
        if severity == "refer":
            said = {"kind": "known_investigated", "destination": "the prescriber knows"}
            chair.post(f"/fittings/{fitting_id}/review/referral", data=asked | said)
        else:
            chair.post(f"/fittings/{fitting_id}/review/answer", data=asked | {"words": "measured twice"})


def sign(practice: Practice, fitting_id: str, **changed: str) -> int:
    """Try to sign as the form does; gives the status of the answer."""
    form = {
        "key": new_key(),
        "revision": str(load_fitting(practice.database, fitting_id).revision),
        "name": "Ines Farrow",
        "registration": "D-00417",
    }
    answer = practice.as_("practitioner").post(f"/fittings/{fitting_id}/sign-off", data=form | changed)
    return answer.status_code


def signed_demo(practice: Practice, name: str = "patient_1") -> str:
    """A demo patient, answered and signed."""
    fitting_id = demo_fitting(practice, name)
    answer_all(practice, fitting_id)
    assert sign(practice, fitting_id) == 303
    return fitting_id


def words(client: TestClient, address: str) -> str:
    """The words of a page without its tags, spaces run together."""
    answer = client.get(address)
    assert answer.status_code == 200, answer.text
    body = re.sub(r"<(script|style|title)\b.*?</\1>", " ", answer.text, flags=re.DOTALL)
    return " ".join(re.sub(r"<[^>]+>", " ", body).replace("&#39;", "'").split())
