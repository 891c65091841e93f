"""The lines of a signed order by name, with what stands on them: what a question from the bench can be
about.
"""

from app.catalogue.measurement import UNIT_WORDS
from app.documents.order_rows import to_a_tenth
from app.documents.signed_order import SignedOrder
from app.fitting.entry import show_number


def order_lines(order: SignedOrder) -> dict[str, str]:
    """Label of each dimension of the order, in the order of the sheet."""
    return {line.dimension: line.label for line in order.lines}


def value_of_line(order: SignedOrder, dimension: str) -> str:
    """What stands on a line, right before left, in words; nothing where there is no such line."""
    said = []
    for line in order.lines:
        if line.dimension != dimension:
            continue
        value = "not given" if line.ordered is None else show_number(to_a_tenth(line.ordered))
        side = f"{line.side}: " if line.side else ""
        said.append(f"{side}{value} {UNIT_WORDS[line.unit]}")
    return ", ".join(said)
