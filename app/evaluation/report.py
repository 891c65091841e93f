"""What the evaluation found, as a table for people and as JSON."""

from typing import Any

from app.evaluation.share import Share
from app.evaluation.surveyed_only import Result
from app.evaluation.whole import LARGE_SDS, Outcome, WholeFittings

WIDTH = 30
WAYS = ("limits", "checks", "bands", "everything")
HEADS = ("limits alone", "limits and cross-checks", "expected bands alone", "all together")
NOTES = (
    "Shares in % with 95 % intervals (Wilson). Flagged: something is asked that was not asked about the same",
    "fitting without the slip. Named first: of those flagged, a wrong reading is named before any other.",
    "Whole fittings: surveyed dimensions are those of real people (odd subject numbers), the rest is drawn from",
    "the model itself with heavier tails, so these shares hold as far as the model does.",
)


def table(whole: WholeFittings, each: WholeFittings, trials: list[Result], seed: int) -> str:
    """The whole report. `whole` draws a kind of slip first, `each` any slip of the catalogue alike."""
    lines = [f"Expected bands, evaluation with seed {seed}", *NOTES, ""]
    lines += _false_alarms(whole)
    lines += ["", "SLIPS BEYOND REPEATABILITY", _head()]
    lines += _rows("every kind of slip alike", whole.slips)
    lines += _rows("every slip of the catalogue alike", each.slips)
    lines += _rows(f"changed by > {LARGE_SDS} prediction SDs", whole.large)
    lines += ["", "BY SIZE OF THE CHANGE, prediction SDs from", _head()]
    for step in sorted(whole.power):
        lines += _rows(f"{step:g}", whole.power[step])
    for title, parts in (("KIND", whole.by_kind), ("MEASUREMENT", whole.by_measurement)):
        lines += ["", f"BY {title}", _head()]
        for name in sorted(parts):
            lines += _rows(name, parts[name])
    lines += ["", "MOST OFTEN NOT SEEN: kind, measurement, times"]
    lines += [
        f"  {kind}, {measurement}: {times}" for (kind, measurement), times in whole.unseen.most_common(15)
    ]
    return "\n".join([*lines, "", *_trials(trials)])


def _head() -> str:
    return " " * WIDTH + "".join(f"{head:>34}" for head in HEADS)


def _rows(name: str, outcome: Outcome) -> list[str]:
    flagged = "".join(f"{_short(getattr(outcome, way)):>34}" for way in WAYS)
    named = "".join(f"{_short(getattr(outcome, f'named_by_{way}')):>34}" for way in WAYS)
    return [f"{name[:WIDTH]:{WIDTH}}{flagged}", f"{'  named first':{WIDTH}}{named}"]


def _short(share: Share) -> str:
    low, high = share.interval
    return f"{100 * share.share:.1f} ({100 * low:.1f}-{100 * high:.1f}) of {share.of}" if share.of else "-"


def _false_alarms(whole: WholeFittings) -> list[str]:
    lines = ["HONEST FITTINGS ASKED ABOUT"]
    for head, way in zip(HEADS, ("limits", "checks", "bands", "all"), strict=True):
        lines.append(f"  {head:{WIDTH}}{_short(getattr(whole, f'false_{way}'))}")
    lines.append("  by check, share of honest fittings in %:")
    of = whole.false_all.of
    for check, times in whole.false_by_check.most_common(12):
        lines.append(f"    {check:{WIDTH}}{100 * times / of:5.2f}")
    return lines


def _trials(trials: list[Result]) -> list[str]:
    lines = ["SURVEYED DIMENSIONS ONLY (limits and bands set to the same false alarms on the even half)"]
    for one in trials:
        lines += [
            f"  {one.trial.name}: {one.trial.wrong} ±{one.trial.by_mm:g} mm",
            f"    false alarms: limits {_short(one.false_by_limits)}, bands {_short(one.false_by_bands)}",
            f"    seen: limits {_short(one.seen_by_limits)}, bands {_short(one.seen_by_bands)}",
            f"    named first: {_short(one.named)}",
        ]
    return lines


def document(whole: WholeFittings, each: WholeFittings, trials: list[Result], seed: int) -> dict[str, Any]:
    """The same as JSON."""
    return {
        "seed": seed,
        "honest": {
            way: getattr(whole, f"false_{way}").document() for way in ("limits", "checks", "bands", "all")
        },
        "honest_by_check": dict(whole.false_by_check),
        "slips_by_kind_alike": whole.slips.document(),
        "slips_alike": each.slips.document(),
        "large": whole.large.document(),
        "power": {f"{step:g}": whole.power[step].document() for step in sorted(whole.power)},
        "by_kind": {name: one.document() for name, one in whole.by_kind.items()},
        "by_measurement": {name: one.document() for name, one in whole.by_measurement.items()},
        "surveyed_only": [_trial(one) for one in trials],
    }


def _trial(one: Result) -> dict[str, Any]:
    return {
        "readings": one.trial.name,
        "wrong": one.trial.wrong,
        "by_mm": one.trial.by_mm,
        **{
            name: getattr(one, name).document()
            for name in ("false_by_limits", "false_by_bands", "seen_by_limits", "seen_by_bands", "named")
        },
    }
