"""Prints one table: what was measured, how long it took, and the goal. Both sides of a ratio in one run."""

import http.client
import json
import os
import socket
import statistics
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Callable
from pathlib import Path
from urllib.parse import urlencode

import uvicorn
from fastapi import FastAPI, Form
from sqlalchemy import text

from app.documents.assessment import assessment
from app.fitting.fitting_file import read_fitting
from app.plausibility.judge import judge
from app.practice.settings import PracticeSettings
from app.records.accounts import list_accounts
from app.records.database import Database, open_database
from app.records.search import find_people
from app.records.sessions import start_session
from app.records.worklist import open_fittings
from app.web.application import create_application
from app.web.rendering import STATIC
from demo.practice import fill
from tests.bench import papers
from tests.bench.bench_expectation import both
from tests.bench.specification import specifications
from tests.plausibility.expected_face import Box, box, ordinary_fitting

DEMO = Path(__file__).resolve().parent.parent.parent / "demo"
ROUNDS = 7
PER_ROUND = 60
HEADERS = {
    "Content-Type": "application/x-www-form-urlencoded",
    "HX-Request": "true",
    "Sec-Fetch-Site": "same-origin",
}


def line(what: str, measured: str, goal: str) -> None:
    print(f"{what:<58} {measured:>14}   {goal}")


def milliseconds(work: Callable[[], object], times: int) -> float:
    """Median of several timings, in ms."""
    found = []
    for _ in range(times):
        began = time.perf_counter()
        work()
        found.append((time.perf_counter() - began) * 1000)
    return statistics.median(found)


def judging() -> float:
    """The slowest of the demo fittings, judged whole."""
    slowest = 0.0
    for file in sorted(DEMO.glob("patient_*.json")):
        fitting = read_fitting(json.loads(file.read_text(encoding="utf-8")))
        judge(fitting)
        slowest = max(slowest, milliseconds(lambda fitting=fitting: judge(fitting), 50))
    line("judging a complete fitting (slowest of eight)", f"{slowest:.2f} ms", "under 5 ms")
    return slowest


def expecting() -> None:
    """Bands and suspects of 62 readings, honest and with two wrong ones."""
    wrong: dict[Box, float | None] = {box("pd_monocular", "L"): 35, box("length_to_tangent", "R"): 120}
    for what, fitting, goal in (
        ("all bands and suspects, 62 readings", ordinary_fitting(), "under 5 ms"),
        ("the same with two wrong readings: search for the pair", ordinary_fitting(wrong), "under 20 ms"),
    ):
        both(fitting)
        line(what, f"{milliseconds(lambda fitting=fitting: both(fitting), 50):.2f} ms", goal)


def assessing() -> None:
    """Fittings without pairs, from their files to finished assessments, on one core."""
    files = sorted(DEMO.glob("patient_*.json"))
    documents = [json.loads(file.read_text(encoding="utf-8")) | {"pairs": []} for file in files]
    settings = PracticeSettings()

    def all_of_them() -> None:
        for document in documents:
            json.dumps(assessment(read_fitting(document), settings))

    all_of_them()
    each = milliseconds(all_of_them, 15) / len(documents)
    line("assessing files without pairs", f"{1000 / each:.0f} a second", "at least 150, stretch 300")


class Served:
    """An application on a port of this machine, and one connection to it."""

    def __init__(self, application: FastAPI) -> None:
        with socket.socket() as probe:
            probe.bind(("127.0.0.1", 0))
            port = probe.getsockname()[1]
        self.server = uvicorn.Server(
            uvicorn.Config(application, host="127.0.0.1", port=port, log_level="warning", ws="none")
        )
        threading.Thread(target=self.server.run, daemon=True).start()
        while not self.server.started:
            time.sleep(0.02)
        self.connection = http.client.HTTPConnection("127.0.0.1", port)

    def ask(
        self, method: str, path: str, form: dict[str, str] | None = None, cookie: str = ""
    ) -> tuple[int, bytes]:
        headers = {**HEADERS, "Cookie": cookie}
        self.connection.request(method, path, urlencode(form) if form else None, headers)
        answer = self.connection.getresponse()
        return answer.status, answer.read()


def bare(database: Database) -> FastAPI:
    """A bare framework route that commits one row to the same file."""
    application = FastAPI()
    with database.write() as connection:
        connection.execute(text("CREATE TABLE IF NOT EXISTS bare (id INTEGER PRIMARY KEY, word TEXT)"))

    @application.post("/bare")
    def keep(text_: str = Form(alias="text")) -> dict[str, str]:
        with database.write() as connection:
            connection.execute(text("INSERT INTO bare (word) VALUES (:word)"), {"word": text_})
        return {"kept": text_}

    return application


def storing(folder: Path, judged_ms: float) -> None:
    """Storing a reading and answering with the fragment, against the bare route, interleaved."""
    database = open_database(f"sqlite:///{folder / 'bench.sqlite'}")
    fill(database)
    practitioner = next(account for account in list_accounts(database) if account.role == "practitioner")
    token = start_session(database, account=practitioner.account)
    fitting = open_fittings(database)[0].fitting_id
    ours, other = Served(create_application(database)), Served(bare(database))
    cookie = f"chair_session={token}"

    def one(count: int) -> float:
        form = {"box": "head_width", "key": f"bench-{count}", "text": "148", "as_entered": "1"}
        began = time.perf_counter()
        status, _ = ours.ask("POST", f"/fittings/{fitting}/readings", form, cookie)
        assert status == 200, status
        return (time.perf_counter() - began) * 1000

    def plain() -> float:
        began = time.perf_counter()
        status, _ = other.ask("POST", "/bare", {"text": "148"})
        assert status == 200
        return (time.perf_counter() - began) * 1000

    mine, theirs, count = [], [], 0
    for _ in range(ROUNDS):
        mine_now, theirs_now = [], []
        for _ in range(PER_ROUND // ROUNDS):
            count += 1
            mine_now.append(one(count))
            theirs_now.append(plain())
        mine.append(statistics.median(mine_now))
        theirs.append(statistics.median(theirs_now))
    stored, floor = statistics.median(mine), statistics.median(theirs)
    line("a bare route that commits one row", f"{floor:.2f} ms", "")
    line(
        "storing one reading, with the fragment",
        f"{stored:.2f} ms",
        f"of which judging about {judged_ms:.2f} ms",
    )
    line("ratio, judging taken off", f"{(stored - judged_ms) / floor:.1f}", "at most 5, stretch 2.5")

    page = max(
        len(ours.ask("GET", f"/fittings/{fitting}/steps/{step}", cookie=cookie)[1])
        for step in ("sides", "head", "pair_2?part=worn", "person", "prescription")
    )
    ours.connection.close()
    line("largest step fragment", f"{page / 1000:.1f} kB", "at most 60 kB")
    whole = Served(create_application(database))
    whole.connection.request("GET", f"/fittings/{fitting}/steps/sides", headers={"Cookie": cookie})
    sides = len(whole.connection.getresponse().read())
    line("a whole step page (sides)", f"{sides / 1000:.1f} kB", "at most 60 kB")
    line("search by part of a name", f"{milliseconds(lambda: find_people(database, 'oka'), 50):.2f} ms", "")


def static_files() -> None:
    """All static files together."""
    total = sum(file.stat().st_size for file in STATIC.rglob("*") if file.is_file())
    line("all static files", f"{total / 1000:.1f} kB", "at most 120 kB")


def start_up(folder: Path) -> None:
    """From starting the command to the first answer, on an existing database."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    environment = {
        **os.environ,
        "CHAIR_TO_BENCH_DATA": str(folder / "data"),
        "CHAIR_TO_BENCH_PORT": str(port),
    }
    found = []
    for _ in range(3):
        began = time.perf_counter()
        command = [sys.executable, "-m", "app", "serve"]
        server = subprocess.Popen(command, env=environment, stdout=subprocess.DEVNULL)
        while True:
            try:
                connection = http.client.HTTPConnection("127.0.0.1", port)
                connection.request("GET", "/health")
                if connection.getresponse().status == 200:
                    break
            except OSError:
                assert server.poll() is None, "the server ended"
                time.sleep(0.01)
        found.append(time.perf_counter() - began)
        server.terminate()
        server.wait()
    line("start-up to first answer", f"{statistics.median(found[1:]):.2f} s", "under 2 s")


def main() -> None:
    """The whole table."""
    with tempfile.TemporaryDirectory() as folder:
        judged = judging()
        expecting()
        assessing()
        specifications(line)
        papers.measure(line, milliseconds, DEMO)
        storing(Path(folder), judged)
        static_files()
        start_up(Path(folder))


main()
