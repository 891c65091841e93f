"""One check's page: what it looks at, why, its limits, its source, and what to do."""

from app.plausibility.check import Check
from app.plausibility.families import CHECKS
from app.plausibility.finding import Severity

SEVERITY_WORDS: dict[Severity, str] = {
    Severity.NOTE: "note: shown, nothing to do",
    Severity.ASK: "ask: to be answered before sign-off",
    Severity.STOP: "stop: cannot be signed off as it stands",
    Severity.REFER: "refer: pause, and let the registered practitioner see this",
}


class NoSuchCheck(KeyError):
    """There is no check of that name."""

    def __str__(self) -> str:
        return f"there is no check called {self.args[0]!r}"


def check_named(name: str) -> Check:
    """The check of that name. Raises NoSuchCheck."""
    try:
        return CHECKS[name]
    except KeyError:
        raise NoSuchCheck(name) from None


def parts_of_page(check: Check) -> tuple[tuple[str, str], ...]:
    """The page as (heading, words), for the help page and the command alike."""
    return (
        ("Looks at", check.looks_at),
        ("Why", check.why),
        ("Limits", check.limits),
        ("What to do", check.suggest),
        ("If ignored", check.cost),
        ("Severity", "; ".join(SEVERITY_WORDS[severity] for severity in check.severities)),
        ("Source", check.source),
    )


def explain(name: str) -> str:
    """One check's page as plain text. Raises NoSuchCheck."""
    check = check_named(name)
    lines = [f"{check.title} ({check.name})", f"Family: {check.family}", ""]
    for heading, words in parts_of_page(check):
        lines += [f"{heading}:", f"  {words}"]
    return "\n".join(lines)


def list_of_checks() -> str:
    """All checks by family, one a line: name and title."""
    lines: list[str] = []
    family = ""
    for check in CHECKS.values():
        if check.family != family:
            family = check.family
            lines.append(f"{family}:")
        lines.append(f"  {check.name:<28}{check.title}")
    return "\n".join(lines)
