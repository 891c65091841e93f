"""The address book of frame makers and lens labs, and how each one's work tends."""

from collections.abc import Mapping
from typing import Annotated

from fastapi import APIRouter, Depends, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from app.documents.bias_plot import BiasPoint, bias_plot
from app.records.errors import Conflict, NotStorable
from app.records.identity import new_key
from app.records.makers import KINDS, WANTS, WAYS, Maker, MakerEntry, list_makers, load_maker, save_maker
from app.records.receipts import OUTCOMES, Decision, decisions_of_maker
from app.web.receipt_form import UNIT_SHOWN
from app.web.rendering import render
from app.web.session import Records, Who, needs
from app.web.signed_orders import order_number
from app.web.words import day

router = APIRouter(prefix="/makers")
MayKeep = Annotated[Who, Depends(needs("makers"))]
MaySee = Annotated[Who, Depends(needs("pair_events"))]
NEW = "new"
LENS_ITEMS = (
    *("meridian_1", "meridian_2", "cylinder", "axis", "add", "imbalance_horizontal", "imbalance_vertical"),
    *("centration", "near_centres", "segment_height", "fitting_height", "centre_height", "segment_tilt"),
    *("segment_diameter", "centre_thickness", "segment_height_pair", "fitting_height_pair"),
    "centre_height_pair",
)


@router.get("")
def show_makers(request: Request, records: Records, who: MaySee) -> HTMLResponse:
    """The address book."""
    makers = list_makers(records, also_inactive=True)
    return render(request, "bench/makers.html", makers=makers, kinds=KINDS, wants=WANTS, ways=WAYS)


@router.get("/{maker_id}")
def show_maker(request: Request, records: Records, who: MayKeep, maker_id: str) -> HTMLResponse:
    """One entry to be changed, or an empty one."""
    entry = None if maker_id == NEW else load_maker(records, maker_id)
    return maker_page(request, maker_id, text_of(entry), version=entry.version if entry else 0)


@router.post("/{maker_id}")
async def keep_maker(request: Request, records: Records, who: MayKeep, maker_id: str) -> Response:
    """Keep an entry."""
    form = await request.form()
    text = {name: str(value) for name, value in form.items()}
    text["wants"] = ",".join(str(value) for value in form.getlist("wants"))
    version = int(text["version"]) if text.get("version", "").isdigit() else 0
    days = text.get("usual_days", "").strip()
    if days and not (days.isascii() and days.isdigit() and len(days) < 5):
        problems = {"usual_days": "The usual time is a whole number of days. Example: 28."}
        return maker_page(request, maker_id, text, version=version, problems=problems)
    maker = Maker(
        kind=text.get("kind", ""),
        name=text.get("name", ""),
        wants=tuple(part for part in text["wants"].split(",") if part),
        way=text.get("way", ""),
        address=text.get("address", "").strip(),
        telephone=text.get("telephone", "").strip(),
        email=text.get("email", "").strip(),
        usual_days=int(days) if days else None,
        note=text.get("note", "").strip(),
        active=text.get("active") == "yes",
    )
    try:
        save_maker(
            records,
            key=text.get("key", ""),
            actor=who.actor,
            maker=maker,
            maker_id=None if maker_id == NEW else maker_id,
            base_version=version,
        )
    except NotStorable as refusal:
        problems = {"name": str(refusal)}
        return maker_page(request, maker_id, text, version=version, problems=problems)
    except Conflict:
        now = load_maker(records, maker_id)
        words = "Somebody changed this entry meanwhile. What you typed is shown; store it again to put it in place."
        return maker_page(request, maker_id, text, version=now.version, problems={"name": words}, status=409)
    return RedirectResponse("/makers", status_code=303)


def text_of(entry: MakerEntry | None) -> dict[str, str]:
    """An entry as the text of its boxes."""
    if entry is None:
        return {"kind": "frame_maker", "way": "post", "wants": "sheet,drawing", "active": "yes"}
    maker = entry.maker
    return {
        "kind": maker.kind,
        "name": maker.name,
        "wants": ",".join(maker.wants),
        "way": maker.way,
        "address": maker.address,
        "telephone": maker.telephone,
        "email": maker.email,
        "usual_days": "" if maker.usual_days is None else str(maker.usual_days),
        "note": maker.note,
        "active": "yes" if maker.active else "",
    }


def maker_page(
    request: Request,
    maker_id: str,
    text: Mapping[str, str],
    *,
    version: int,
    problems: Mapping[str, str] | None = None,
    status: int = 422,
) -> HTMLResponse:
    """The form of one entry."""
    return render(
        request,
        "bench/maker.html",
        status if problems else 200,
        maker_id=maker_id,
        text=text,
        version=version,
        problems=problems or {},
        kinds=KINDS,
        wants=WANTS,
        ways=WAYS,
        key=new_key(),
    )


@router.get("/{maker_id}/bias")
def show_bias(request: Request, records: Records, who: MaySee, maker_id: str, item: str = "") -> HTMLResponse:
    """How what this maker made differs from what was ordered, over many orders."""
    entry, decisions = load_maker(records, maker_id), decisions_of_maker(records, maker_id)
    labels = items_of(decisions, entry.maker.kind)
    chosen = item if item in labels else next(iter(labels), "")
    points = points_of(decisions, chosen)
    counts = {words: sum(one.outcome == key for one in decisions) for key, words in OUTCOMES.items()}
    unit = next((one["unit"] for made in decisions for one in made.document if one["item"] == chosen), "mm")
    return render(
        request,
        "bench/bias.html",
        entry=entry,
        kinds=KINDS,
        labels=labels,
        chosen=chosen,
        unit=UNIT_SHOWN.get(unit, unit),
        points=points,
        plot=bias_plot(points) if points else None,
        counts=counts,
        received=len(decisions),
    )


def items_of(decisions: tuple[Decision, ...], kind: str) -> dict[str, str]:
    """What was measured on this maker's work and can be plotted: frames for a frame maker, lenses for a lab."""
    wanted: dict[str, str] = {}
    for decision in decisions:
        for one in decision.document:
            lens = one["item"] in LENS_ITEMS
            if one["difference"] is not None and lens == (kind == "lens_lab"):
                wanted[one["item"]] = one["label"]
    return wanted


def points_of(decisions: tuple[Decision, ...], item: str) -> list[BiasPoint]:
    """One point for each value of that item, the oldest first."""
    return [
        BiasPoint(
            difference=float(one["difference"]),
            tolerance=one["tolerance"],
            words=" ".join((order_number(made.fitting_id, made.pair), one["side"] or "", day(made.at))),
        )
        for made in decisions
        for one in made.document
        if one["item"] == item and one["difference"] is not None
    ]
