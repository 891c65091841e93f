"""The labels of the lab message that are sent, and those that are known but left out because they are not sure.

Sent: JOB, DO, SPH, CYL, AX, ADD, PRVM, PRVA, IPD, NPD, OCHT, SEGHT, HBOX, VBOX, DBL, FED, FEDAX, ZTILT,
PANTO, BVD, LIND; and for each outline TRCFMT with R (and A). Each stands in `SENT` with its meaning, its unit
and where the knowledge of it comes from.

Not sent, though the standard has them: those in `NOT_SENT`, of which code list, sign or reference point is
not sure enough to let a machine cut by them. They are kept when they come in.

Source: ISO 16284 and its industry successor, the Data Communication Standard 3.12 (2018), of which title,
contents and definitions could be read; the table of labels is from memory. Check the current edition before a
machine relies on it.
"""

from dataclasses import dataclass
from typing import Literal

Form = Literal["text", "eyes", "number", "both eyes"]
MEMORY = "ISO 16284 and Data Communication Standard 3.12, from memory. Check the current edition."


@dataclass(frozen=True, slots=True, kw_only=True)
class LabLabel:
    """One label: what it means, its unit, its form, and how many decimals are written."""

    label: str
    meaning: str
    unit: str
    form: Form
    decimals: int = 2
    source: str = MEMORY


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftOut:
    """A label of the standard that is not sent, and why."""

    label: str
    meaning: str
    why: str


CODES = "its list of codes could not be read"
SIGN = "its sign and reference point are not sure"

SENT: tuple[LabLabel, ...] = (
    LabLabel(label="JOB", meaning="Job: the number of the order", unit="", form="text"),
    LabLabel(label="DO", meaning="Eyes that are ordered: B both, R right, L left", unit="", form="eyes"),
    LabLabel(label="SPH", meaning="Sphere", unit="dioptres", form="both eyes"),
    LabLabel(label="CYL", meaning="Cylinder", unit="dioptres", form="both eyes"),
    LabLabel(label="AX", meaning="Axis", unit="degrees", form="both eyes", decimals=0),
    LabLabel(label="ADD", meaning="Addition", unit="dioptres", form="both eyes"),
    LabLabel(label="PRVM", meaning="Prescribed prism, amount", unit="prism dioptres", form="both eyes"),
    LabLabel(
        label="PRVA",
        meaning="Prescribed prism, direction of the base, 0 to 360",
        unit="degrees",
        form="both eyes",
        decimals=1,
    ),
    LabLabel(label="IPD", meaning="Single-eye centration distance", unit="mm", form="both eyes"),
    LabLabel(label="NPD", meaning="Single-eye near centration distance", unit="mm", form="both eyes"),
    LabLabel(
        label="OCHT",
        meaning="Height of the optical centre above the lowest point of the lens box",
        unit="mm",
        form="both eyes",
    ),
    LabLabel(
        label="SEGHT",
        meaning="Height of the segment top above the lowest point of the lens box",
        unit="mm",
        form="both eyes",
    ),
    LabLabel(label="HBOX", meaning="Boxed lens width", unit="mm", form="both eyes"),
    LabLabel(label="VBOX", meaning="Boxed lens height", unit="mm", form="both eyes"),
    LabLabel(label="DBL", meaning="Distance between lenses", unit="mm", form="number"),
    LabLabel(
        label="FED",
        meaning="Effective diameter: twice the longest radius from the boxed centre",
        unit="mm",
        form="both eyes",
    ),
    LabLabel(
        label="FEDAX",
        meaning="Direction of the effective diameter",
        unit="degrees",
        form="both eyes",
        decimals=1,
    ),
    LabLabel(label="ZTILT", meaning="Face-form angle of each lens", unit="degrees", form="both eyes"),
    LabLabel(label="PANTO", meaning="As-worn pantoscopic angle", unit="degrees", form="both eyes"),
    LabLabel(label="BVD", meaning="Vertex distance", unit="mm", form="both eyes"),
    LabLabel(label="LIND", meaning="Refractive index of the lens", unit="", form="both eyes", decimals=3),
)
LABELS: dict[str, LabLabel] = {one.label: one for one in SENT}
TRACE_LABELS = ("TRCFMT", "R", "A")

NOT_SENT: tuple[LeftOut, ...] = (
    LeftOut(label="LTYP", meaning="Lens type", why=CODES),
    LeftOut(label="LMATID", meaning="Lens material", why=CODES),
    LeftOut(label="LMATTYPE", meaning="Kind of lens material", why=CODES),
    LeftOut(label="LNAM", meaning="Name of the lens", why="the order names none"),
    LeftOut(label="FTYP", meaning="Kind of frame", why=CODES),
    LeftOut(label="ETYP", meaning="Kind of edge", why=CODES),
    LeftOut(label="PRVIN", meaning="Prescribed prism, inwards", why=f"{SIGN}; PRVM and PRVA say the same"),
    LeftOut(label="PRVUP", meaning="Prescribed prism, upwards", why=f"{SIGN}; PRVM and PRVA say the same"),
    LeftOut(label="FCOCIN", meaning="Boxed centre to optical centre, inwards", why=SIGN),
    LeftOut(label="FCOCUP", meaning="Boxed centre to optical centre, upwards", why=SIGN),
    LeftOut(label="FCSGIN", meaning="Boxed centre to segment, inwards", why=SIGN),
    LeftOut(label="FCSGUP", meaning="Boxed centre to segment, upwards", why=SIGN),
    LeftOut(label="SGOCIN", meaning="Segment to optical centre, inwards", why=SIGN),
    LeftOut(label="SGOCUP", meaning="Segment to optical centre, upwards", why=SIGN),
    LeftOut(label="CTHICK", meaning="Centre thickness", why="where it is measured is not sure"),
    LeftOut(label="MINCTR", meaning="Least centre thickness", why="where it is measured is not sure"),
    LeftOut(label="MINEDG", meaning="Least edge thickness", why="where it is measured is not sure"),
    LeftOut(
        label="CIRC",
        meaning="Circumference of the lens",
        why="it runs along the bevel, which is not known yet",
    ),
    LeftOut(label="FCRV", meaning="Curve of the frame", why="the frame is not made yet"),
    LeftOut(label="ZFMT", meaning="Depth of the outline", why="the outline is flat"),
)
"""The height of a fitting cross has no label that is sure: it stands on the order sheet alone."""
