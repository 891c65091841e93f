"""How numbers, powers and dates are written for people."""

from datetime import date

from app.fitting.prescription import EyePrescription
from app.fitting.written_date import MONTHS
from app.optics.prescription_algebra import Power, transposed


def day(text: str | None) -> str:
    """2026-10-02 as 02-Oct-2026; nothing for nothing."""
    if not text:
        return ""
    then = date.fromisoformat(text[:10])
    return f"{then.day:02d}-{MONTHS[then.month - 1]}-{then.year}"


def number(value: float | None) -> str:
    """A number for people: real minus sign, no trailing zeros; a dash for nothing."""
    if value is None:
        return "–"
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return ("0" if text == "-0" else text).replace("-", "\u2212")


def power(value: float | None) -> str:
    """A lens power with its sign and two decimals."""
    if value is None:
        return "–"
    return f"{value:+.2f}".replace("-", "\u2212")


def turned_round(eye: EyePrescription) -> EyePrescription | None:
    """The same power with the other sign of cylinder; None where there is no cylinder to turn."""
    if not eye.cylinder or eye.axis is None:
        return None
    turned = transposed(Power(sphere_d=eye.sphere, cylinder_d=eye.cylinder, axis_deg=eye.axis))
    return EyePrescription(sphere=turned.sphere_d, cylinder=turned.cylinder_d, axis=turned.axis_deg)


def in_figures(eye: EyePrescription | None) -> str:
    """Sphere, cylinder and axis as written on a prescription."""
    if eye is None:
        return ""
    text = power(eye.sphere)
    if eye.cylinder:
        text += f" / {power(eye.cylinder)}"
    return f"{text} × {number(eye.axis)}" if eye.cylinder and eye.axis is not None else text
