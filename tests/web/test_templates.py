"""A lint of every template: nothing that the content policy forbids, and no form that needs scripts."""

import re
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from app.web.rendering import TEMPLATES

FILES = tuple(sorted(path for path in TEMPLATES.rglob("*") if path.suffix in (".html", ".svg")))
COMMENT = re.compile(r"\{#.*?#\}|<!--.*?-->", re.DOTALL)
TAG = re.compile(r"<([a-zA-Z][\w-]*)((?:\{\{.*?\}\}|\{%.*?%\}|\"[^\"]*\"|'[^']*'|[^>\"'{])*)>", re.DOTALL)
SENDS = re.compile(r"\bhx-(get|post|put|patch|delete)\b")

FORBIDDEN: tuple[tuple[str, re.Pattern[str]], ...] = (
    ("hx-on runs text as a script", re.compile(r"\bhx-on\b|\bhx-on[:-]")),
    ("js: and javascript: run text as a script", re.compile(r"[\"'](js|javascript):")),
    ("style= is an inline style", re.compile(r"<[^>%]*\sstyle\s*=")),
    ("on…= is an inline script", re.compile(r"<[^>%]*\son[a-z]+\s*=")),
    ("type=number loses what is not a digit, and scrolls", re.compile(r"type\s*=\s*[\"']?number")),
    ("a trigger filter runs text as a script", re.compile(r"hx-trigger\s*=\s*[\"'][^\"']*\[")),
    ("hx-vals and hx-headers carry data in quotes", re.compile(r"\bhx-(vals|vars|headers)\b")),
    ("hx-boost changes what it does not name", re.compile(r"\bhx-boost\b")),
    ("|safe lets text become tags", re.compile(r"\|\s*safe\b")),
    ("autoescape false lets text become tags", re.compile(r"autoescape\s+false")),
    ("Markup lets text become tags", re.compile(r"\bMarkup\(")),
    ("<style> is an inline style", re.compile(r"<style\b")),
    ("nothing is fetched from outside", re.compile(r"(src|href|action|hx-\w+)\s*=\s*[\"'](https?:)?//")),
)


def text_of(path: Path) -> str:
    """A template without its comments."""
    return COMMENT.sub("", path.read_text(encoding="utf-8"))


def tags(text: str, *names: str) -> Iterator[tuple[str, str]]:
    """Name and attributes of the opening tags of these names; of all tags where none is named."""
    for match in TAG.finditer(text):
        if not names or match[1].lower() in names:
            yield match[1].lower(), match[2]


TEXTS: dict[str, str] = {str(path.relative_to(TEMPLATES)): text_of(path) for path in FILES}


def each_template(look: Callable[[str], None]) -> Callable[[], None]:
    """A test that looks at every template and names the one that does not pass."""

    def test() -> None:
        for name, text in TEXTS.items():
            try:
                look(text)
            except AssertionError as error:
                raise AssertionError(f"{name}: {error}") from None

    test.__doc__, test.__name__ = look.__doc__, look.__name__
    return test


def test_there_are_templates_to_look_at() -> None:
    assert len(FILES) > 20


@pytest.mark.parametrize(("why", "pattern"), FORBIDDEN, ids=[why for why, _ in FORBIDDEN])
def test_no_template_holds_what_is_forbidden(why: str, pattern: re.Pattern[str]) -> None:
    for name, text in TEXTS.items():
        found = pattern.search(text)
        assert found is None, f"{name}: {why}: {text[max(0, found.start() - 40) : found.end() + 40]!r}"


@each_template
def test_scripts_are_files_of_ours(template: str) -> None:
    for _, attributes in tags(template, "script"):
        assert 'src="{{ static(' in attributes, "an inline script, or one from elsewhere"


@each_template
def test_every_form_works_without_scripts(template: str) -> None:
    for _, attributes in tags(template, "form"):
        assert "action=" in attributes, f"a form without an address: {attributes!r}"
        assert 'method="post"' in attributes or 'method="get"' in attributes, attributes


@each_template
def test_whatever_htmx_sends_says_what_happens_to_the_one_before(template: str) -> None:
    for name, attributes in tags(template):
        if SENDS.search(attributes):
            assert "hx-sync=" in attributes, f"<{name}{attributes}>"


@each_template
def test_a_form_sent_by_htmx_goes_to_its_own_address(template: str) -> None:
    for _, attributes in tags(template, "form"):
        sent = re.search(r'hx-post="([^"]*)"', attributes)
        plain = re.search(r'(?<![\w-])action="([^"]*)"', attributes)
        if sent is not None and plain is not None:
            assert sent[1] == plain[1], attributes


@each_template
def test_attributes_are_quoted(template: str) -> None:
    for name, attributes in tags(template):
        bare = re.sub(r'"[^"]*"', '""', attributes)
        assert not re.search(r"=\s*\{\{", bare), f"<{name}{attributes}>"


@each_template
def test_a_title_names_no_patient(template: str) -> None:
    for title in re.findall(r"\{% block title %\}(.*?)\{% endblock", template, re.DOTALL):
        for word in ("person.", "desk.person", "born", "reference", "chair.person"):
            assert word not in title, title


def test_the_lint_sees_what_it_is_for() -> None:
    """Each forbidden thing, written down once, is found."""
    samples = (
        '<p hx-on:click="x">',
        '<a href="javascript:x">',
        '<p style="color:red">',
        '<p onclick="x">',
        '<input type="number">',
        '<i hx-trigger="click[x]">',
        '<i hx-vals="x">',
        '<body hx-boost="true">',
        "{{ note|safe }}",
        "{% autoescape false %}",
        "{{ Markup(note) }}",
        "<style>",
        '<img src="https://elsewhere.example/x.png">',
    )
    assert len(samples) == len(FORBIDDEN)
    for sample, (why, pattern) in zip(samples, FORBIDDEN, strict=True):
        assert pattern.search(sample), why
