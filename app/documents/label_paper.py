"""The label that travels with one pair at the bench: its number, what it is, and a code that opens its order.

The code holds an address and nothing of the person; whoever reads it must be signed in to see the order. The label
carries reference and initials, no date of birth, no telephone.
"""

import io

import segno

from app.catalogue.choices import CHOICES
from app.documents.answer_words import answer_words, pair_value
from app.documents.order_paper import OrderHead
from app.documents.printed import to_pdf
from app.fitting.pair import Pair

QUIET_MODULES = 4
"""White round the code: four modules (ISO/IEC 18004)."""
MORE_ERROR_CORRECTION = "q"
"""A bench is dusty: a quarter of the code may be lost (ISO/IEC 18004, level Q)."""
ON_LABEL = ("needed_by", "route", "material", "colour_front", "lens_form")
LONGEST_WORDS = 44


def label(head: OrderHead, pair: Pair, *, address: str) -> bytes:
    """One label, 100 by 62 mm. `address` opens the order; empty where it stands in no records."""
    return to_pdf(
        "label.typ",
        {
            "title": f"Label of order {head.number}",
            "pair": pair.pair,
            "number": head.number,
            "reference": f"{head.reference} {head.initials}".strip(),
            "lines": [{"label": "Version", "words": head.version}, *_lines(pair)],
            "code": code(address) if address else "",
            "code-words": "Scan on a signed-in tablet to open the order." if address else NO_CODE,
        },
    )


NO_CODE = "No code: printed from a file that stands in no records. Find the order by its number."


def code(address: str) -> str:
    """A QR code (ISO/IEC 18004) of an address as SVG, one user unit to a module, its quiet zone included."""
    stream = io.BytesIO()
    segno.make(address, error=MORE_ERROR_CORRECTION, micro=False).save(
        stream, kind="svg", xmldecl=False, svgclass=None, lineclass=None, border=QUIET_MODULES, nl=False
    )
    return stream.getvalue().decode()


def _lines(pair: Pair) -> list[dict[str, str]]:
    found = [{"label": "Frame", "words": CHOICES["kind"].words(pair.kind)}]
    for key in ON_LABEL:
        given = pair_value(pair, key)
        if given:
            words = answer_words(CHOICES[key], given)
            shown = words if len(words) <= LONGEST_WORDS else f"{words[: LONGEST_WORDS - 1]}…"
            found.append({"label": CHOICES[key].label, "words": shown})
    return found
