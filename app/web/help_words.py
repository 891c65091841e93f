"""Words of the help pages that belong to no single measurement: shared planes, and the usual cautions."""

GLOSSARY: tuple[tuple[str, str], ...] = (
    (
        "Right and left",
        "Always the patient's. The patient's right stands on the left of the screen, as you face the patient.",
    ),
    (
        "Spectacle plane",
        "The plane in which the back of the front will sit, tilted as it will be worn. Bridge and length readings "
        "are taken from it: a rule held upright where the frame will be tilted gives another reading.",
    ),
    (
        "Crest",
        "The point on the midline of the nose where the bridge will bear. Mark it, so that every bridge reading "
        "starts from the same point.",
    ),
    (
        "Horizontal centre line",
        "Halfway between the top and bottom tangents of the lens boxes (ISO 8624). Older forms say datum line.",
    ),
    (
        "Boxed lens size",
        "Width and height of the rectangle round the lens shape, at the lens edge and not at the rim opening "
        "(ISO 8624).",
    ),
    ("Distance between lenses", "Shortest horizontal distance between the two boxes (ISO 8624)."),
    (
        "Bridge width at 10 and 15",
        "Width between the nasal rims 10 and 15 mm below the crest. At 15 it is the larger on any ordinary nose.",
    ),
    (
        "Ear point",
        "Where the top of the ear root meets the head, and the side rests. Head width is taken here.",
    ),
    (
        "Lower lid margin",
        "The edge of the lower lid; usually within 1 mm of the lower edge of the iris. Crest and segment heights "
        "are taken from it.",
    ),
    (
        "In front, level, behind",
        "The way of the bridge is asked in words: the crest lies in front of the lashes (+), level, or behind (−).",
    ),
    (
        "Facial, adjustment, ordered",
        "What is measured is not what is ordered. All three stand side by side on the order sheet.",
    ),
)
"""Terms of the trade; those of a standard name it. The rest is common practice."""

CAUTIONS: tuple[tuple[str, tuple[str, ...]], ...] = (
    (
        "Tools near the eye",
        (
            "Rounded tips only. Come from the side, hand braced on brow or cheek, rule edge parallel to the face.",
            "Say what you will do. Ask the patient to keep still and to speak before sneezing or moving.",
            "Both eyes closed when anything passes over the lids. Never press on an eye.",
            "Lock a caliper before lifting it off. Never carry it open or hand it over a face.",
            "Stop for pain, faintness or distress. Know where eyewash and first aid are.",
        ),
    ),
    (
        "Skin, nose and ears",
        (
            "No pressure on a recent injury, thin skin, or an ear that has been operated on.",
            "Keep magnetic tools and tablet covers away from an implanted hearing device.",
            "Ask before touching face, hair, head covering or hearing aid. A chaperone on request.",
            "A child sits with its carer; the head is steadied by agreement, never by force.",
        ),
    ),
    (
        "Clean",
        (
            "Hands before and after each patient; wash where they are visibly soiled. Gel dry before touching.",
            "Whatever touched the patient, and the tablet, is wiped before and after.",
            "Use what the makers of instrument and tablet allow: some wipes crack plastics and take off scales.",
            "Postpone where an infection of eye, lid or skin is seen.",
        ),
    ),
    (
        "When to pause",
        (
            "New, one-sided, changing, or with other complaints: let the registered practitioner see it first.",
            "Ask two things only: “Has this been noticed before?” and “Has it been looked at?”",
            "Name no disease, and never tell anybody to wait.",
            "How urgent it is, the local referral guidance and the practitioner decide.",
        ),
    ),
    (
        "Privacy",
        (
            "Measurements and notes are health data: no camera roll, no chat, no names aloud.",
            "Never read facial differences aloud across the room.",
            "Put the tablet down locked, and turn it from the patient when findings are on it.",
        ),
    ),
    (
        "Who",
        (
            "Local rules may limit who can do a step. The registered practitioner is responsible for deciding.",
            "Under-16s and people registered sight impaired: a practitioner is there, sees it and can step in.",
            "Tolerances and limits are this practice's defaults. Check the current standard.",
        ),
    ),
)
"""Common practice; local rules come first."""
