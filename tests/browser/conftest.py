"""A real server with the demo practice, and a real Chromium at tablet size with touch."""

import os
import shutil
import socket
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
import uvicorn

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
PORTRAIT = {"width": 820, "height": 1180}
LANDSCAPE = {"width": 1180, "height": 820}
FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
SCREENSHOTS = Path(__file__).resolve().parent.parent.parent / "screenshots"


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Without a browser these tests are skipped aloud; where the project's own run brings one they must run."""
    if CHROMIUM is not None or os.environ.get("BROWSER_REQUIRED"):
        return
    reason = "no Chromium on this machine: the browser tests were NOT run (Debian: apt install chromium)"
    for item in items:
        if "tests/browser" in str(item.path):
            item.add_marker(pytest.mark.skip(reason=reason))


class Practice:
    """A running demo practice: its address, and its database for looking behind the page."""

    def __init__(self, folder: Path) -> None:
        from app.records.database import open_database
        from app.web.application import create_application
        from demo.practice import fill

        self.database = open_database(f"sqlite:///{folder / 'practice.sqlite'}")
        fill(self.database)
        with socket.socket() as probe:
            probe.bind(("127.0.0.1", 0))
            self.port = probe.getsockname()[1]
        self.address = f"http://localhost:{self.port}"
        application = create_application(self.database, demo=True)
        self.server = uvicorn.Server(
            uvicorn.Config(application, host="127.0.0.1", port=self.port, log_level="warning", ws="none")
        )
        self.thread = threading.Thread(target=self.server.run, daemon=True)

    def start(self) -> None:
        self.thread.start()
        deadline = time.monotonic() + 15
        while not self.server.started:
            assert time.monotonic() < deadline, "the server did not start within 15 s"
            time.sleep(0.02)

    def stop(self) -> None:
        self.server.should_exit = True
        self.thread.join(timeout=10)


@pytest.fixture(scope="session")
def practice(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Practice]:
    """One demo practice for all browser tests."""
    running = Practice(tmp_path_factory.mktemp("practice"))
    running.start()
    yield running
    running.stop()


@pytest.fixture(scope="session")
def chromium() -> Iterator[object]:
    """One browser for all tests."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        yield browser
        browser.close()


@pytest.fixture(params=["portrait", "landscape"])
def tablet(request: pytest.FixtureRequest, chromium, practice: Practice) -> Iterator[object]:
    """A tablet in either orientation; a policy violation or a script error on it fails the test."""
    size = PORTRAIT if request.param == "portrait" else LANDSCAPE
    context = chromium.new_context(viewport=size, has_touch=True, base_url=practice.address)
    page = context.new_page()
    troubles: list[str] = []
    page.on("pageerror", lambda error: troubles.append(str(error)))
    page.on("console", lambda line: troubles.append(line.text) if "Content Security" in line.text else None)
    page.orientation = request.param
    yield page
    context.close()
    assert troubles == []


def sign_in(page, name: str) -> None:
    """Sign in with one tap, as the demo allows."""
    page.goto("/sign-in")
    with page.expect_navigation():
        page.get_by_role("button", name=name).tap()


def picture(page, name: str) -> None:
    """Keep a picture to look at, where wanted."""
    if os.environ.get("SCREENSHOTS"):
        SCREENSHOTS.mkdir(exist_ok=True)
        page.screenshot(path=SCREENSHOTS / f"{name}-{page.orientation}.png", caret="initial")


def until(page, expression: str, seconds: float = 5) -> None:
    """Wait until an expression is true on the page, asking from outside: inside the content policy forbids it."""
    deadline = time.monotonic() + seconds
    while not so(page, expression):
        assert time.monotonic() < deadline, f"still not so after {seconds} s: {expression}"
        page.wait_for_timeout(20)


def so(page, expression: str) -> bool:
    """What the page says; false while it is on its way to another one."""
    from playwright.sync_api import Error

    try:
        return bool(page.evaluate(expression))
    except Error:
        return False
