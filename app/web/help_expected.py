"""Words of the help page “How we know what to expect”: whom the figures describe, what follows, what does not."""

from app.reference.bibliography import (
    ANSUR_2,
    FACE_MODEL_SIMULATION,
    LAM_1987,
    LAM_1995,
    MACLACHLAN_HOWLAND_2002,
    MCMAHON_2012,
    READ_2006,
    RUFER_2005,
    USAF_1967,
    Work,
)

EXPECTED_PARTS: tuple[tuple[str, tuple[str, ...]], ...] = (
    (
        "What the band is",
        (
            "A reading is not judged alone. All the other readings of the same face say what it should be, and how "
            "surely. That is the band: low, middle and high. A reading outside it is measured again first.",
            "The band rests on what links the readings: two single-eye PDs make the PD; the near PD follows from "
            "PD and working distance; two bridge widths make the frontal angle; widths and lengths make the "
            "diagonals; right resembles left; a wide head is usually also long round.",
            "The more is read, the narrower the band. With too few readings there is none, and the page says so.",
            "About one honest fitting in a hundred is asked about by the bands, all its readings taken together. "
            "That was found by simulating whole fittings.",
        ),
    ),
    (
        "Whom the figures describe",
        (
            "Heads and PD come from one public survey of adult military personnel of one country, 17 to 58 years "
            "old, measured from 2010 to 2012. They were fit and selected: nobody older, few very small or large.",
            "Your patients may differ. Then the middle of a band that rests on the survey alone may lie a little "
            "off, and unusual people are asked about more often. The links between readings of one face hold all "
            "the same, and they do most of the work.",
            "Sex and age are used where they are on record, and neither is needed. Ancestry is never asked for nor "
            "used.",
            "Children have tables of their own. Under 4 years only the links are used.",
            "The nose, the sides and the worn pair were never surveyed so: there the usual ranges of the trade "
            "stand in, taken to leave out one person in a hundred at each end, and simulated faces for how the "
            "parts of a nose go together. These are the weakest figures here.",
        ),
    ),
    (
        "What it cannot see",
        (
            "Right and left exchanged where the two hardly differ; a small slip of an angle, since real noses and "
            "ears differ as much; a slip in a reading that nothing else says much about, such as the drop length.",
            "An error that every reading shares, such as a rule that is misprinted.",
        ),
    ),
    (
        "Real faces that are unusual",
        (
            "Bespoke frames are made for unusual faces. Measure again, and say why it is right: from then on the "
            "reading is taken as true, and the same value is not asked about at the next visit.",
            "A band is no verdict. It never says that anything is wrong with a patient; it asks for a second look "
            "at a number.",
        ),
    ),
    (
        "What a practice can change",
        (
            "The manager can switch the bands off, show them before a reading is entered (off at first: seeing "
            "what is expected leads the hand), and put in the practice's own means, spreads and repeatability.",
        ),
    ),
)

EXPECTED_WORKS: tuple[tuple[str, Work], ...] = (
    ("Heads and PD of adults", ANSUR_2),
    ("Ear points and lengths", USAF_1967),
    ("How well a PD repeats", MCMAHON_2012),
    ("Iris", RUFER_2005),
    ("Lid opening", READ_2006),
    ("Unequal lids", LAM_1995),
    ("Unequal pupils", LAM_1987),
    ("PD and pupils of children", MACLACHLAN_HOWLAND_2002),
    ("How the parts of a nose go together", FACE_MODEL_SIMULATION),
)
