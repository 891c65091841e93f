"""Right and left: which way is nasal, and how an axis or a base is mirrored."""

from typing import Literal

Eye = Literal["right", "left"]


def nasal_sign(eye: Eye) -> int:
    """Sign of x towards the nose.

    It is +1 for the right eye, -1 for the left (front view, x to the observer's right).

    >>> nasal_sign("right"), nasal_sign("left")
    (1, -1)
    """
    return 1 if eye == "right" else -1


def other_eye(eye: Eye) -> Eye:
    """The fellow eye."""
    return "left" if eye == "right" else "right"


def axis_in_range(axis_deg: float) -> float:
    """The same cylinder axis in degrees above 0 and up to 180 (ISO 8429 notation writes 180, not 0).

    >>> axis_in_range(0), axis_in_range(190), axis_in_range(-10)
    (180.0, 10.0, 170.0)
    """
    turned = axis_deg % 180.0
    return turned if turned > 0 else 180.0


def mirrored_axis(axis_deg: float) -> float:
    """Cylinder axis in degrees as it stands on the fellow eye in a mirror: 180 - axis.

    >>> mirrored_axis(30), mirrored_axis(180)
    (150.0, 180.0)
    """
    return axis_in_range(180.0 - axis_deg)


def mirrored_base(base_deg: float) -> float:
    """Prism base in degrees (0 up to below 360) mirrored to the fellow eye: 180 - base.

    >>> mirrored_base(0), mirrored_base(90), mirrored_base(300)
    (180.0, 90.0, 240.0)
    """
    return (180.0 - base_deg) % 360.0
