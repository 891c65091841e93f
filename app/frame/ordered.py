"""The order of one pair: every dimension with its facial value, adjustment and ordered value."""

from app.fitting.fitting import Fitting
from app.fitting.pair import Pair
from app.fitting.working import WorkingValue, working_values
from app.frame.lens_outline import LensOutline, lens_outline
from app.frame.ordered_blank import blank_dimensions
from app.frame.ordered_bridge import bridge_dimensions
from app.frame.ordered_centration import centration_dimensions
from app.frame.ordered_dimension import OrderedDimension
from app.frame.ordered_front import front_dimensions
from app.frame.ordered_heights import height_dimensions
from app.frame.ordered_sides import existing_side_dimensions, side_dimensions
from app.frame.ordered_worksheet import Worksheet
from app.optics.outline_size import Outline
from app.practice.settings import PracticeSettings


def ordered_dimensions(
    fitting: Fitting,
    pair: Pair,
    settings: PracticeSettings,
    working: tuple[WorkingValue, ...] | None = None,
    traced_mm: Outline | None = None,
) -> tuple[OrderedDimension, ...]:
    """Every dimension of one pair, bridge, front, sides, lenses, right before left.

    For a frame to be made all of it follows from the face, the plan and the practice's adjustments; for the
    patient's own frame only the front and sides as measured on it, and the lenses. What cannot be worked out
    names the reading that is missing. `working` may be handed in where it is already known,
    `traced_mm` the imported outline of the right lens.
    """
    sheet = Worksheet(
        fitting=fitting,
        pair=pair,
        adjustments=settings.adjustments,
        working=working_values(fitting) if working is None else working,
    )
    return dimensions_of(sheet, lens_outline(sheet, traced_mm))


def dimensions_of(sheet: Worksheet, outline: LensOutline) -> tuple[OrderedDimension, ...]:
    """The same from a worksheet and the outline of its lenses."""
    front = front_dimensions(sheet)
    frame = (
        (*bridge_dimensions(sheet), *front, *side_dimensions(sheet))
        if sheet.handmade
        else (*front, *existing_side_dimensions(sheet))
    )
    lenses = (*height_dimensions(sheet), *centration_dimensions(sheet), *blank_dimensions(sheet, outline))
    return (*frame, *lenses)
