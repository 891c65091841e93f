"""The outline of an ordered pair's lenses, for a machine: its tracing, or as it is drawn from shape and
sizes.
"""

from app.documents.traced_outline import traced_outlines
from app.fitting.fitting import Fitting
from app.fitting.pair import Pair
from app.fitting.working import working_values
from app.frame.lens_outline import LensOutline, lens_outline
from app.frame.ordered_worksheet import Worksheet
from app.practice.settings import Adjustments

DRAWN = "The outline is drawn from its shape and sizes: have the lab trace the finished frame"


def order_outline(fitting: Fitting, pair: Pair) -> LensOutline:
    """The outline by which the pair is ordered. It comes from sizes and tracing alone, whatever the
    adjustments are.
    """
    sheet = Worksheet(fitting=fitting, pair=pair, adjustments=Adjustments(), working=working_values(fitting))
    return lens_outline(sheet, traced_outlines(fitting).get(pair.pair))
