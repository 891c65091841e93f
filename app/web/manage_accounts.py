"""Accounts: who may sign in, in which role; added, closed and opened again by a manager."""

from collections.abc import Mapping
from typing import Annotated

from fastapi import APIRouter, Depends, Request
from fastapi.responses import RedirectResponse, Response

from app.records.accounts import create_account, list_accounts, set_active
from app.records.errors import AlreadyUsed
from app.records.identity import new_key
from app.records.passphrases import LONGEST, SHORTEST
from app.records.sessions import end_sessions_of
from app.web.rendering import render
from app.web.rights import ROLES
from app.web.session import Records, Who, needs
from app.web.settings_form import SettingsForm
from app.web.typed import Typed

router = APIRouter(prefix="/manage/accounts")
Keeper = Annotated[Who, Depends(needs("accounts"))]
BOXES = ("name", "sign_in", "role", "registration")
ROLE_CHOICES = tuple((role, role.capitalize()) for role in ROLES)
PASSPHRASE_HINT = f"At least {SHORTEST} characters; four words in a row are good."
LONGEST_WORDS = 100
DONE = {
    "added": "The account was added.",
    "closed": "The account was closed.",
    "open": "The account is open again.",
}


@router.get("")
def show_accounts(request: Request, records: Records, who: Keeper, done: str = "") -> Response:
    """All accounts, and the form for one more."""
    return accounts_page(request, records, 200, SettingsForm(text={}), done=DONE.get(done, ""))


@router.post("")
def add_account(request: Request, records: Records, who: Keeper, typed: Typed) -> Response:
    """Add an account."""
    text = {key: typed.get(key, "").strip() for key in BOXES}
    problems = account_problems(text, typed.get("passphrase", ""), typed.get("passphrase_again", ""))
    if problems:
        return accounts_page(request, records, 422, SettingsForm(text=text, problems=problems))
    try:
        create_account(
            records,
            key=typed.get("key", ""),
            actor=who.actor,
            sign_in=text["sign_in"],
            name=text["name"],
            role=text["role"],
            passphrase=typed.get("passphrase", ""),
            registration=text["registration"] or None,
        )
    except AlreadyUsed:
        problems = {"sign_in": taken_words(text["sign_in"])}
        return accounts_page(request, records, 422, SettingsForm(text=text, problems=problems))
    return RedirectResponse("/manage/accounts?done=added", status_code=303)


def taken_words(sign_in: str) -> str:
    """Words for a sign-in name that somebody has."""
    return f"Somebody signs in as “{sign_in}” already. Choose another name."


def account_problems(text: Mapping[str, str], passphrase: str, again: str) -> dict[str, str]:
    """What is wrong with a new account, by box."""
    problems = {}
    for key, label in (("name", "Name"), ("sign_in", "Name to sign in with")):
        if not text[key] or len(text[key]) > LONGEST_WORDS:
            problems[key] = f"{label}: please fill this in, with at most {LONGEST_WORDS} letters."
    if text["role"] not in ROLES:
        problems["role"] = "Role: choose one."
    if text["role"] == "practitioner" and not text["registration"]:
        problems["registration"] = (
            "A practitioner's registration number is needed: it stands on what is signed."
        )
    if not SHORTEST <= len(passphrase) <= LONGEST:
        problems["passphrase"] = f"A passphrase has {SHORTEST} to {LONGEST} characters; four words are good."
    elif passphrase != again:
        problems["passphrase_again"] = "The two passphrases differ. Type both again."  # noqa: S105 - words
    return problems


@router.post("/{account}")
def change_account(records: Records, who: Keeper, account: str, typed: Typed) -> Response:
    """Close an account, which signs it out everywhere, or open it again."""
    active = typed.get("active") == "yes"
    set_active(records, actor=who.actor, account=account, active=active)
    if not active:
        end_sessions_of(records, account)
    return RedirectResponse(f"/manage/accounts?done={'open' if active else 'closed'}", status_code=303)


def accounts_page(
    request: Request, records: Records, status: int, form: SettingsForm, *, done: str = ""
) -> Response:
    """The page with the form as it stands; passphrases are never sent back."""
    return render(
        request,
        "pages/manage_accounts.html",
        status,
        form=form,
        accounts=list_accounts(records),
        roles=ROLE_CHOICES,
        passphrase_hint=PASSPHRASE_HINT,
        key=new_key(),
        done=done,
    )
