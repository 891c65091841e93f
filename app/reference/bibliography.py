"""The works that numbers in this app come from, so that each is named once and in full."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """A standard, book, paper or dataset. In a sentence it stands as its short name."""

    key: str
    short: str
    full: str
    link: str = ""

    def __str__(self) -> str:
        return self.short


COMMON_PRACTICE = "common practice"
"""A rule of thumb of the trade without a publication to point at: a starting value for a practice to tune."""

ANSUR_2 = Work(
    key="ansur_2",
    short="ANSUR II 2012",
    full=(
        "C. C. Gordon and others, 2012 Anthropometric Survey of U.S. Army Personnel: Methods and Summary"
        " Statistics, NATICK/TR-15/007, 2014, and its public data (6,068 people aged 17 to 58)"
    ),
)
USAF_1967 = Work(
    key="usaf_1967",
    short="USAF 1967",
    full="US Air Force anthropometric survey of 1967 (2,420 men), AMRL-TR-77-1",
)
DODGSON_2004 = Work(
    key="dodgson_2004",
    short="Dodgson 2004",
    full=(
        "N. A. Dodgson, Variation and extrema of human interpupillary distance, Proc. SPIE 5291, 2004,"
        " pp. 36-46"
    ),
)
YILDIRIM_2015 = Work(
    key="yildirim_2015",
    short="Yildirim 2015",
    full="Y. Yildirim and others, Clinical Ophthalmology 2015: interpupillary distance over age",
    link="https://doi.org/10.2147/OPTH.S85584",
)
GANTZ_2021 = Work(
    key="gantz_2021",
    short="Gantz 2021",
    full=(
        "L. Gantz and others, Journal of Optometry 14(4), 2021, pp. 299-314: distance and near PD, rule"
        " and gauge"
    ),
)
MCMAHON_2012 = Work(
    key="mcmahon_2012",
    short="McMahon 2012",
    full="T. McMahon and others, 2012: repeatability of interpupillary distance by rule and by pupillometer",
    link="https://pubmed.ncbi.nlm.nih.gov/22581116/",
)
WALSH_PEARCE_2009 = Work(
    key="walsh_pearce_2009",
    short="Walsh and Pearce 2009",
    full=(
        "G. Walsh and E. I. Pearce, Ophthalmic and Physiological Optics 29(2), 2009, pp. 150-154: spread"
        " of PDs"
    ),
)
MACLACHLAN_HOWLAND_2002 = Work(
    key="maclachlan_howland_2002",
    short="MacLachlan and Howland 2002",
    full=(
        "C. MacLachlan and H. C. Howland, Ophthalmic and Physiological Optics, 2002: pupils and PD of"
        " 1,311 children"
    ),
    link="https://doi.org/10.1046/j.1475-1313.2002.00023.x",
)
ARENAS_2014 = Work(
    key="arenas_2014",
    short="Arenas 2014",
    full="E. Arenas and others, 2014: asymmetry of the nose-to-pupil distance in 1,262 adults",
    link="https://doi.org/10.1155/2014/347826",
)
RAO_2023 = Work(
    key="rao_2023",
    short="Rao 2023",
    full="Rao and others, 2023: facial measurements of 254 children, gauge against photograph",
    link="https://doi.org/10.4103/jcor.jcor_99_22",
)
MASEEDUPALLI_2023 = Work(
    key="maseedupalli_2023",
    short="Maseedupalli 2023",
    full=(
        "Maseedupalli and others, Indian Journal of Ophthalmology, 2023: facial dimensions for"
        " spectacles, 20-40 years"
    ),
    link="https://doi.org/10.4103/ijo.IJO_954_22",
)
ABRAHAM_2019 = Work(
    key="abraham_2019",
    short="Abraham 2019",
    full="Abraham and others, 2019: facial measurements for spectacles, 304 Malawians aged 6 to 25",
    link="https://doi.org/10.1080/2331205X.2019.1614287",
)
THOMPSON_CHILDREN = Work(
    key="thompson_children",
    short="Thompson (Aston)",
    full="A. Thompson, PhD thesis, Aston University: facial measurements of 1,334 children in three dimensions",
)
FACE_MODEL_SIMULATION = Work(
    key="face_model_simulation",
    short="simulation with the ICT-FaceKit face model",
    full=(
        "2,500 random faces of the open ICT-FaceKit face model (MIT licence), measured by program:"
        " the shape of a spread, not a survey of people"
    ),
    link="https://github.com/ICT-VGL/ICT-FaceKit",
)
READ_2006 = Work(
    key="read_2006",
    short="Read 2006",
    full=(
        "S. A. Read and others, Optometry and Vision Science 83, 2006: eyelid aperture in looking ahead"
        " and down"
    ),
    link="https://doi.org/10.1097/01.opx.0000236811.78177.97",
)
LAM_1995 = Work(
    key="lam_1995",
    short="Lam 1995",
    full="B. L. Lam and others, American Journal of Ophthalmology 120, 1995, p. 518: unequal lid apertures",
)
LAM_1987 = Work(
    key="lam_1987",
    short="Lam 1987",
    full=(
        "B. L. Lam and others, American Journal of Ophthalmology 104, 1987, p. 69: unequal pupils in"
        " healthy people"
    ),
)
WINN_1994 = Work(
    key="winn_1994",
    short="Winn 1994",
    full=(
        "B. Winn and others, Investigative Ophthalmology and Visual Science 35, 1994, p. 1132: pupil, age"
        " and light"
    ),
)
RUFER_2005 = Work(
    key="rufer_2005",
    short="Rüfer 2005",
    full="F. Rüfer and others, Cornea, 2005: white-to-white diameter of 390 people",
    link="https://doi.org/10.1097/01.ico.0000148312.01805.53",
)
HASHEMI_2015 = Work(
    key="hashemi_2015",
    short="Hashemi 2015",
    full="H. Hashemi and others, 2015: white-to-white diameter of 4,787 people aged 40 to 64",
    link="https://www.ncbi.nlm.nih.gov/pmc/articles/PMC4877715/",
)
BUSHBY_1992 = Work(
    key="bushby_1992",
    short="Bushby 1992",
    full=(
        "K. M. D. Bushby and others, Archives of Disease in Childhood 67, 1992, p. 1286: adult head"
        " circumference"
    ),
)
ISO_8624 = Work(
    key="iso_8624",
    short="ISO 8624",
    full="ISO 8624:2020, Ophthalmic optics, Spectacle frames, Measuring system and vocabulary",
)
ISO_13666 = Work(
    key="iso_13666",
    short="ISO 13666",
    full="ISO 13666:2019, Ophthalmic optics, Spectacle lenses, Vocabulary",
)
ISO_20685 = Work(
    key="iso_20685",
    short="ISO 20685",
    full="ISO 20685, 3-D scanning methodologies for internationally compatible anthropometric databases",
)

WORKS: dict[str, Work] = {
    work.key: work
    for work in (
        ANSUR_2,
        USAF_1967,
        DODGSON_2004,
        YILDIRIM_2015,
        GANTZ_2021,
        MCMAHON_2012,
        WALSH_PEARCE_2009,
        MACLACHLAN_HOWLAND_2002,
        ARENAS_2014,
        RAO_2023,
        MASEEDUPALLI_2023,
        ABRAHAM_2019,
        THOMPSON_CHILDREN,
        FACE_MODEL_SIMULATION,
        READ_2006,
        LAM_1995,
        LAM_1987,
        WINN_1994,
        RUFER_2005,
        HASHEMI_2015,
        BUSHBY_1992,
        ISO_8624,
        ISO_13666,
        ISO_20685,
    )
}
"""Every work by its key, for the page that lists the sources."""
