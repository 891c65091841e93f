"""Lens materials: index, Abbe number, density, and the least thicknesses that the trade works to.

The index is for the helium d line (CR-39: 1.498; its mercury e-line value is 1.502, I. Wilson, BHVI course
notes, https://www.scribd.com/document/623367146). Values are of the class of material; the maker's data
sheet wins.
"""

from dataclasses import dataclass

SUPPLIER_PAGE = "lens-shapers.com/knowledge-base/lens-materials (physical constants only)"
TEACHING_CARDS = "https://brainscape.com/flashcards/unit-6-7-dispensing-and-fabrication-13778781"
FROM_JALIE = "from memory of Jalie, The Principles of Ophthalmic Lenses"
FROM_TRADE = "common practice, from memory; a setting of the practice"


@dataclass(frozen=True, slots=True)
class LensMaterial:
    """One lens material: refractive index, Abbe number, density in g/cm3 and where the values stand."""

    name: str
    index: float
    abbe_number: float
    density_g_per_cm3: float
    source: str


@dataclass(frozen=True, slots=True)
class LeastThickness:
    """Least thickness in mm for a use, with the range that is met and its source."""

    use: str
    thickness_mm: float
    usual_range_mm: tuple[float, float]
    source: str = FROM_TRADE


LENS_MATERIALS = (
    LensMaterial("CR-39", 1.498, 58, 1.32, f"{SUPPLIER_PAGE}; {TEACHING_CARDS}; density {FROM_JALIE}"),
    LensMaterial("spectacle crown glass", 1.523, 58.6, 2.54, FROM_JALIE),
    LensMaterial("1.53 urethane", 1.53, 43, 1.11, f"{SUPPLIER_PAGE}; {TEACHING_CARDS}"),
    LensMaterial("1.56 plastics", 1.56, 37, 1.23, SUPPLIER_PAGE),
    LensMaterial("polycarbonate", 1.586, 30, 1.20, f"{SUPPLIER_PAGE}; {TEACHING_CARDS}"),
    LensMaterial("1.60 plastics", 1.60, 41, 1.30, SUPPLIER_PAGE),
    LensMaterial("1.67 plastics", 1.67, 32, 1.37, SUPPLIER_PAGE),
    LensMaterial("1.74 plastics", 1.74, 33, 1.47, SUPPLIER_PAGE),
)

LEAST_THICKNESSES = (
    LeastThickness("centre of a minus lens, impact-modified or polycarbonate", 1.5, (1.5, 1.5)),
    LeastThickness("centre of a minus lens, CR-39", 2.0, (1.8, 2.0)),
    LeastThickness("centre of a minus lens, 1.60 to 1.74", 1.5, (1.3, 1.5)),
    LeastThickness("edge of a plus lens, full rim", 1.0, (1.0, 1.0)),
    LeastThickness("edge of a plus lens, semi-rimless with groove", 1.6, (1.5, 1.6)),
    LeastThickness("edge of a plus lens, rimless", 2.0, (1.8, 2.0)),
)


def lens_material(name: str) -> LensMaterial:
    """The material of that name; raises KeyError with the names known.

    >>> lens_material("polycarbonate").abbe_number
    30
    """
    for material in LENS_MATERIALS:
        if material.name == name:
            return material
    known = ", ".join(material.name for material in LENS_MATERIALS)
    raise KeyError(f"No lens material is called {name}; known are {known}.")
