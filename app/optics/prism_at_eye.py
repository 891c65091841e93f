"""What a prism does to the eye behind it: effective prism at near, shift of the centration point."""

from app.optics.near_centration import LENS_TO_CENTRE_OF_ROTATION_MM
from app.optics.prism import Prism
from app.optics.refusal import require_positive


def effective_prism_at_near(
    *,
    prism_dioptres: float,
    object_from_lens_mm: float,
    lens_to_rotation_centre_mm: float = LENS_TO_CENTRE_OF_ROTATION_MM,
) -> float:
    """Turn of the eye in prism dioptres behind a prism for an object at near: Pe = P / (1 - s / l).

    l is negative for a real object, so with the distance in front of the lens as a positive number P / (1 +
    s / L).
    Source: formula at https://brainscape.com/flashcards/9-oblique-prisms-15084077.

    >>> round(effective_prism_at_near(prism_dioptres=10, object_from_lens_mm=400), 2)
    9.37
    """
    require_positive(object_from_lens_mm, "The distance of the object in mm")
    return prism_dioptres / (1 + lens_to_rotation_centre_mm / object_from_lens_mm)


def centration_shift_for_prism(
    prism: Prism, lens_to_rotation_centre_mm: float = LENS_TO_CENTRE_OF_ROTATION_MM
) -> tuple[float, float]:
    """Shift (x, y) in mm, front view, of the centration point behind a prescribed prism.

    It goes s P / 100 towards the apex.
    0.27 mm for each prism dioptre with s = 27; the workshop figure is 0.25 mm (Goersch and Stollenwerk,
    from memory). Small-angle geometry. 6 base out before the right eye (base to the observer's left) moves
    the point 1.62 in:

    >>> x_mm, y_mm = centration_shift_for_prism(Prism(-6.0, 0.0))
    >>> round(x_mm, 2)
    1.62
    """
    per_prism_mm = -lens_to_rotation_centre_mm / 100
    return per_prism_mm * prism.right_prism_dioptres, per_prism_mm * prism.up_prism_dioptres
