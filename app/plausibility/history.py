"""What was said or seen besides the readings: what has to be looked at first, and what changes the order."""

from collections.abc import Iterator

from app.catalogue.choices import CHOICES
from app.plausibility.check import Seen, check
from app.plausibility.facts import Facts
from app.plausibility.finding import Severity
from app.plausibility.wording import PAUSE, PAUSE_COST, REFERRAL_SOURCE
from app.reference.bibliography import COMMON_PRACTICE

ASK, NOTE, REFER = Severity.ASK, Severity.NOTE, Severity.REFER
FAMILY = "said and seen"
BRIDGE_READINGS = ("bridge_width_10", "bridge_width_15", "apical_radius", "frontal_angle", "splay_angle")
UNSTEADY_READINGS = 3
MATERIAL_OF_ALLERGY = {"acetate": "acetate", "nickel": "metal"}


def _words(facts: Facts, key: str) -> str:
    answers = facts.answers(key)
    return ", ".join(CHOICES[key].words(answer).lower() for answer in answers)


@check(
    "recent-injury",
    family=FAMILY,
    title="Recent injury or surgery to the face",
    looks_at="injury named on the person's page, and readings of the bridge",
    why="After an injury swelling hides the shape, and some signs have to be looked at before anything else.",
    limits="refer where nose, face or ear were injured or operated within 6 weeks",
    suggest=f"Do not press on the nose; bridge readings usually wait 6 to 8 weeks. {PAUSE}",
    cost=f"A bridge made to a swollen nose does not fit a month later. {PAUSE_COST}",
    source=f"{COMMON_PRACTICE}; {REFERRAL_SOURCE}",
    severities=(REFER,),
)
def recent_injury(facts: Facts) -> Iterator[Seen]:
    """Injury within six weeks."""
    if facts.history("recent_injury") != "within_6_weeks":
        return
    taken = any(facts.mean(name) is not None for name in BRIDGE_READINGS)
    yield Seen(
        severity=REFER,
        on=(facts.stated("history.recent_injury", "within_6_weeks"),),
        message="Nose, face or ear were injured or operated within 6 weeks"
        + (", and readings of the bridge were taken." if taken else "."),
    )


@check(
    "temple-tender",
    family=FAMILY,
    title="Temple or scalp tender to touch",
    looks_at="whether the temple or scalp was tender",
    why="Tenderness found by the caliper has to be seen at once.",
    limits="refer where it was tender",
    suggest=f"Stop measuring at the temple. {PAUSE}",
    cost=PAUSE_COST,
    source=REFERRAL_SOURCE,
    severities=(REFER,),
)
def temple_tender(facts: Facts) -> Iterator[Seen]:
    """Temple tender: yes."""
    if facts.history("temple_tender") == "yes":
        yield Seen(
            severity=REFER,
            on=(facts.stated("history.temple_tender", "yes"),),
            message="The temple or scalp was tender to touch.",
        )


@check(
    "recent-changes",
    family=FAMILY,
    title="Something about the eyes or sight has changed",
    looks_at="what the patient said has changed lately",
    why="What is new has to be seen before anything is dispensed.",
    limits="refer where anything was named",
    suggest=PAUSE,
    cost=PAUSE_COST,
    source=REFERRAL_SOURCE,
    severities=(REFER,),
)
def recent_changes(facts: Facts) -> Iterator[Seen]:
    """Anything named as changed lately."""
    if facts.answers("recent_changes"):
        yield Seen(
            severity=REFER,
            on=tuple(
                facts.stated("history.recent_changes", answer) for answer in facts.answers("recent_changes")
            ),
            about=(facts.stated("history.recent_changes").subject,),
            message=f"The patient says that this has changed lately: {_words(facts, 'recent_changes')}.",
        )


@check(
    "posture-new",
    family=FAMILY,
    title="A head posture that is new",
    looks_at="how the head is held, and since when",
    why="A tilt or turn that is new should be known to the prescriber before heights are taken.",
    limits="refer where a posture other than straight is held since lately",
    suggest=PAUSE,
    cost=f"Heights fitted to a posture that will not last are wrong afterwards. {PAUSE_COST}",
    source=f"{COMMON_PRACTICE}; {REFERRAL_SOURCE}",
    severities=(REFER,),
)
def posture_new(facts: Facts) -> Iterator[Seen]:
    """Not straight, and new."""
    held = [answer for answer in facts.answers("posture") if answer != "straight"]
    if held and facts.history("posture_since") == "new":
        yield Seen(
            severity=REFER,
            on=(
                *(facts.stated("history.posture", answer) for answer in held),
                facts.stated("history.posture_since", "new"),
            ),
            about=(facts.stated("history.posture").subject,),
            message=f"The head is held {_words(facts, 'posture')}, since lately.",
        )


@check(
    "skin-sore",
    family=FAMILY,
    title="Sore or healing skin where the frame rests",
    looks_at="the skin where the frame rests",
    why="No frame should rest on skin that is not sound until it was looked at.",
    limits="refer where it is sore or healing",
    suggest=PAUSE,
    cost=f"A frame that rests on it keeps it from healing. {PAUSE_COST}",
    source=COMMON_PRACTICE,
    severities=(REFER,),
)
def skin_sore(facts: Facts) -> Iterator[Seen]:
    """Skin sore or healing."""
    if "sore_or_healing" in facts.answers("skin"):
        yield Seen(
            severity=REFER,
            on=(facts.stated("history.skin", "sore_or_healing"),),
            message="The skin where the frame rests is sore or healing.",
        )


@check(
    "eyes-not-steady",
    family=FAMILY,
    title="PDs of eyes that are not steady",
    looks_at="whether the eyes keep still, and how often each single-eye PD was taken",
    why="Eyes that swing are read at the middle of the swing; one reading can be anywhere on it.",
    limits="ask where the eyes are not steady and a single-eye PD was taken fewer than three times",
    suggest="Take each single-eye PD three times at the middle of the swing, or from the edges of the irises.",
    cost="A lens centred to the end of a swing gives unwanted prism.",
    source=COMMON_PRACTICE,
    severities=(ASK,),
)
def eyes_not_steady(facts: Facts) -> Iterator[Seen]:
    """Unsteady eyes, fewer than three readings."""
    if facts.history("eyes_steady") not in ("swinging", "poor"):
        return
    for value in (facts.value("pd_monocular", "R"), facts.value("pd_monocular", "L")):
        if value is not None and value.count < UNSTEADY_READINGS:
            yield Seen(
                severity=ASK,
                on=(value, facts.stated("history.eyes_steady", f"{value.count}")),
                about=(value.subject,),
                message=f"The eyes are not steady; a single-eye PD of {value} was read {value.count} of 3 times.",
            )


@check(
    "allergy-material",
    family=FAMILY,
    title="Allergy against the material chosen",
    looks_at="allergies, and the material of each pair",
    why="A reaction that was named must not be ordered again.",
    limits="ask where acetate or a metal is named and the frame is to be made of it",
    suggest="Choose another material, or find out what exactly it was that the skin did not bear.",
    cost="A rash, and a remake in another material.",
    source=COMMON_PRACTICE,
    severities=(ASK,),
)
def allergy_material(facts: Facts) -> Iterator[Seen]:
    """A material that was named as an allergy."""
    for allergy in facts.answers("allergy"):
        material = MATERIAL_OF_ALLERGY.get(allergy)
        for pair in facts.pairs:
            if material is not None and pair.pair.material == material:
                yield Seen(
                    severity=ASK,
                    on=(
                        facts.stated("history.allergy", allergy),
                        facts.stated(f"pair.{pair.number}.material", material),
                    ),
                    message=f"Pair {pair.number} is to be of {material}; the patient named a reaction to "
                    f"{CHOICES['allergy'].words(allergy).lower()}.",
                )


@check(
    "only-eye",
    family=FAMILY,
    title="One seeing eye",
    looks_at="a prosthesis or a single seeing eye, and the impact resistance chosen for each pair",
    why="The only eye deserves a lens that does not splinter.",
    limits="note where a pair's lenses are not marked as impact resistant",
    suggest="Advise an impact-resistant lens material.",
    cost="None at the bench.",
    source=COMMON_PRACTICE,
    severities=(NOTE,),
)
def only_eye(facts: Facts) -> Iterator[Seen]:
    """One eye, ordinary lenses."""
    for pair in facts.pairs:
        chosen = pair.pair.choices.get("impact_resistance")
        if facts.one_eye and chosen not in ("advised", "required"):
            yield Seen(
                severity=NOTE,
                on=(facts.stated(f"pair.{pair.number}.impact_resistance", chosen),),
                message=f"One seeing eye, and the lenses of pair {pair.number} are not marked as impact resistant.",
            )


@check(
    "rims-touch",
    family=FAMILY,
    title="Cheek or brow touches",
    looks_at="what was seen on smiling, and at the brow",
    why="A rim that touches lifts the front with every smile.",
    limits="note where cheeks or brow were seen to touch the rims",
    suggest="A smaller lens height, more projection, or less tilt.",
    cost="The pair moves when the patient smiles, and marks the skin.",
    source=COMMON_PRACTICE,
    severities=(NOTE,),
)
def rims_touch(facts: Facts) -> Iterator[Seen]:
    """Cheeks on smiling, or the brow."""
    touching = [
        (key, words)
        for key, words in (("smile", "the cheeks on smiling"), ("brow_clearance", "the brow"))
        if facts.history(key) == "touch"
    ]
    if touching:
        yield Seen(
            severity=NOTE,
            on=tuple(facts.stated(f"history.{key}", "touch") for key, _ in touching),
            message=f"The rims were seen to touch {' and '.join(words for _, words in touching)}.",
        )
